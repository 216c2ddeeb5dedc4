//! A number as it was typed: its exact value, and enough of its form to print it again the same way.

use std::fmt;

use num_bigint::BigInt;
use num_traits::ToPrimitive;

use crate::lookalike::look_alike;
use crate::number::{Exact, all_digits, big, unsigned_decimal};
use crate::number_error::NumberError;

/// The most digits a typed number may have.
const MOST_DIGITS: usize = 60;

/// A number with the digits that were typed: `2.0` stays `2.0`, `2 1/4` stays `2 1/4`.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Decimal {
    /// The exact value.
    pub value: Exact,
    /// How many decimals were typed; for a fraction, as many as its denominator has digits, so that a value shown
    /// with them is about as fine as the fraction.
    pub decimals: u32,
    form: Form,
}

/// How the number was written.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
enum Form {
    /// With a decimal point, or whole.
    Point,
    /// As a fraction, kept as it was typed: `-2 1/4`.
    Fraction(String),
    /// In parts of falling size, kept as it was typed, units included: `-0° 30′`, `1 h 30 min`.
    Parts(String),
}

impl Decimal {
    /// A number that prints with so many decimals.
    pub fn new(value: Exact, decimals: u32) -> Decimal {
        Decimal { value, decimals, form: Form::Point }
    }

    /// A number that was typed in parts, with the text it prints as; see `Amount::compound`.
    pub(crate) fn parts(value: Exact, decimals: u32, text: String) -> Decimal {
        Decimal { value, decimals, form: Form::Parts(text) }
    }

    /// The text of a number typed in parts, its units included.
    pub(crate) fn parts_text(&self) -> Option<&str> {
        match &self.form {
            Form::Parts(text) => Some(text),
            Form::Point | Form::Fraction(_) => None,
        }
    }

    /// Reads a number as people type it: `0.35`, `-5`, `+0.021`, `1/32`, `2 1/4`. Blanks around it do not matter.
    ///
    /// # Errors
    /// Everything that could be read in two ways, with the reason: see [`NumberError`]. The most digits are 60.
    pub fn parse(text: &str) -> Result<Decimal, NumberError> {
        let text = text.trim_matches([' ', '\t', '\u{00A0}', '\u{202F}']);
        if text.chars().filter(char::is_ascii_digit).count() > MOST_DIGITS {
            return Err(NumberError::TooLong);
        }
        let (negative, plain) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text.strip_prefix('+').unwrap_or(text)),
        };
        let number = unsigned_fraction(plain, negative)
            .transpose()?
            .or_else(|| {
                let decimals = plain.split_once('.').map_or(0, |(_, part)| part.len());
                let value = unsigned_decimal(plain)?;
                Some(Decimal::new(value, u32::try_from(decimals).ok()?))
            })
            .ok_or_else(|| NumberError::of(text))?;
        Ok(if negative { Decimal { value: -number.value, ..number } } else { number })
    }
}

/// `1/32` or `2 1/4`; `None` where the text has not the shape of a fraction.
fn unsigned_fraction(text: &str, negative: bool) -> Option<Result<Decimal, NumberError>> {
    let (before, denominator) = text.split_once('/')?;
    let (whole, numerator) = before.split_once(' ').unwrap_or(("0", before));
    if !(all_digits(whole) && all_digits(numerator) && all_digits(denominator)) {
        return None;
    }
    Some(fraction_value(whole, numerator, denominator).map(|value| Decimal {
        value,
        decimals: fineness(denominator),
        form: Form::Fraction(if negative { format!("-{text}") } else { text.to_owned() }),
    }))
}

/// `whole + numerator / denominator`.
fn fraction_value(whole: &str, numerator: &str, denominator: &str) -> Result<Exact, NumberError> {
    let part = Exact::from_big(big(numerator)?, big(denominator)?).ok_or(NumberError::ZeroDenominator)?;
    let whole = Exact::from_big(big(whole)?, BigInt::from(1)).ok_or(NumberError::NotANumber)?;
    Ok(whole + part)
}

/// The decimals that show steps of `1/denominator` apart.
fn fineness(denominator: &str) -> u32 {
    let steps = denominator.parse::<BigInt>().ok().and_then(|n| n.to_u64()).unwrap_or(u64::MAX);
    steps.saturating_sub(1).checked_ilog10().map_or(0, |digits| digits + 1)
}

impl fmt::Display for Decimal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match &self.form {
            Form::Point => f.write_str(&self.value.fixed(self.decimals)),
            Form::Fraction(text) | Form::Parts(text) => f.write_str(text),
        }
    }
}

impl NumberError {
    /// Why a text that is not a number is not one.
    pub(crate) fn of(text: &str) -> NumberError {
        if text.trim().is_empty() {
            return NumberError::Empty;
        }
        let digits = text.chars().filter(char::is_ascii_digit).count();
        if let Some(found) = text.chars().find_map(look_alike) {
            let is_blank = found.instead == " ";
            if is_blank && digits > 0 {
                return NumberError::Grouping;
            }
            return NumberError::LookAlike { char: found.found, instead: found.instead };
        }
        if digits == 0 {
            return NumberError::NotANumber;
        }
        if let Some(slip) = letter_for_digit(text) {
            return slip;
        }
        let body = text.trim_start_matches(['-', '+']);
        if !body.chars().all(|c| c.is_ascii_digit() || ",. '_".contains(c)) {
            return if exponent(body) { NumberError::Exponent } else { NumberError::NotANumber };
        }
        let commas = body.matches(',').count();
        let points = body.matches('.').count();
        let grouped =
            body.contains([' ', '\'', '_']) || commas > 1 || points > 1 || (commas > 0 && points > 0);
        if grouped {
            NumberError::Grouping
        } else if commas == 1 {
            NumberError::DecimalComma
        } else if points == 1 {
            NumberError::BarePoint
        } else {
            NumberError::NotANumber
        }
    }
}

/// A letter O, l or I among digits.
fn letter_for_digit(text: &str) -> Option<NumberError> {
    let numeric = |c: char| c.is_ascii_digit() || "OolI.,+- ".contains(c);
    let letter = text.chars().find(|c| "OolI".contains(*c))?;
    let instead = if "Oo".contains(letter) { "0" } else { "1" };
    text.chars().all(numeric).then_some(NumberError::LookAlike { char: letter, instead })
}

/// Whether a text is a number with an exponent.
fn exponent(text: &str) -> bool {
    let Some((before, after)) = text.split_once(['e', 'E']) else { return false };
    let numeric = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit() || c == '.');
    numeric(before) && numeric(after.trim_start_matches(['-', '+']))
}
