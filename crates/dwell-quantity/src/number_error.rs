//! What can be wrong with a number as somebody typed it, each with a sentence that says what to write instead.

use std::fmt;

/// Why a text is not a number here. Every kind prints one sentence that says what to type instead.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum NumberError {
    /// Nothing was typed.
    Empty,
    /// A comma stands where the decimal point belongs (`0,35`).
    DecimalComma,
    /// Digits are grouped by blanks, commas, points, apostrophes or underscores (`2 000`, `1.234,5`).
    Grouping,
    /// The number has an exponent (`1e5`).
    Exponent,
    /// The text is no number at all (`nan`, `inf`, `--5`).
    NotANumber,
    /// More digits than any workshop number has.
    TooLong,
    /// A point with no digit on one side (`.5`, `5.`).
    BarePoint,
    /// A fraction whose denominator is zero.
    ZeroDenominator,
    /// A character that looks like a digit, sign or blank but is another one.
    LookAlike {
        /// The character found.
        char: char,
        /// What to type instead.
        instead: &'static str,
    },
}

impl fmt::Display for NumberError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NumberError::Empty => f.write_str("there is no number here: type one, such as 0.35"),
            NumberError::DecimalComma => f.write_str(
                "a comma here could be a decimal comma or a thousands separator: write a decimal point, as in 0.35",
            ),
            NumberError::Grouping => {
                f.write_str("grouped digits can be read in two ways: write the digits without separators, as in 2000")
            }
            NumberError::Exponent => f.write_str(
                "a number with an exponent is easily read wrong: write it out, or take a larger or smaller unit",
            ),
            NumberError::NotANumber => {
                f.write_str("this is not a number: write digits with a decimal point, or a fraction such as 2 1/4")
            }
            NumberError::TooLong => f.write_str(
                "this number has more digits than any limit or reading can have: check whether a key stuck",
            ),
            NumberError::BarePoint => {
                f.write_str("a decimal point needs a digit on both sides, or it is lost in print: write 0.5 or 5.0")
            }
            NumberError::ZeroDenominator => f.write_str("a fraction cannot have zero below the line"),
            NumberError::LookAlike { char, instead } => write!(
                f,
                "the character {char:?} (U+{:04X}) looks like {} but is another one: type {}",
                u32::from(*char),
                shown_key(instead),
                shown_key(instead),
            ),
        }
    }
}

impl std::error::Error for NumberError {}

/// A replacement as the reader should see it: blanks and nothing by name.
fn shown_key(instead: &str) -> String {
    match instead {
        " " => "a plain blank".to_owned(),
        "" => "nothing".to_owned(),
        other => format!("`{other}`"),
    }
}
