//! The number of a vehicle (VIN): seventeen characters, one of which can tell whether the others were typed right.
//!
//! The characters, their values, the weights and the check digit are those of 49 CFR 565.15(c), Tables III to V. The check
//! digit is compulsory in North America. ISO 3779, which the rest of the world goes by, leaves its place free (from
//! memory), so a check digit that does not fit is a doubt and no mistake: it is told, and the record notes it.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How many characters a number has: 49 CFR 565.4(b) in the edition of 2002, later 565.13(b) (from memory).
pub const LENGTH: usize = 17;

/// The place of the check digit, counted from 1: 49 CFR 565.15(c).
pub const CHECK_POSITION: usize = 9;

/// The weight of each place, Table IV; the check digit itself has none.
const WEIGHTS: [u32; LENGTH] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/// The number of a vehicle, in capitals. Its characters are allowed ones; its check digit may be wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Vin([char; LENGTH]);

/// Why a text is no number of a vehicle. Positions count from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VinError {
    /// It has not seventeen characters.
    Length {
        /// How many it has.
        found: usize,
    },
    /// A character that no number has; I, O and Q look too much like digits.
    Character {
        /// Where it stands.
        position: usize,
        /// The character.
        found: char,
    },
}

/// A check digit that does not fit the other characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct WrongCheckDigit {
    /// What stands at position 9.
    pub found: char,
    /// What the other characters ask for there.
    pub expected: char,
}

/// The vehicle of a job, as a record names it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Vehicle {
    /// Its number (VIN), seventeen characters.
    pub number: String,
    /// Whether its check digit fits the rest of it (49 CFR 565.15(c)).
    pub check_digit: CheckDigit,
}

/// Whether the check digit fits.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum CheckDigit {
    /// It fits.
    Right,
    /// It does not: the number was typed wrong, or comes from where the check digit is not compulsory.
    Wrong,
}

impl Vin {
    /// Reads a number as it is typed: small letters count as capitals, blanks around it do not count.
    ///
    /// # Errors
    /// A [`VinError`] that says what is wrong and where.
    pub fn parse(text: &str) -> Result<Vin, VinError> {
        let characters: Vec<char> = text.trim().chars().map(|c| c.to_ascii_uppercase()).collect();
        if let Some((place, found)) = characters.iter().enumerate().find(|(_, c)| value(**c).is_none()) {
            return Err(VinError::Character { position: place + 1, found: *found });
        }
        let found = characters.len();
        characters.try_into().map(Vin).map_err(|_| VinError::Length { found })
    }

    /// The sum of the values times their weights; the remainder of its division by 11 is the check digit.
    pub fn weighted_sum(&self) -> u32 {
        self.0.iter().zip(WEIGHTS).map(|(c, weight)| value(*c).unwrap_or_default() * weight).sum()
    }

    /// What must stand at position 9 for all to fit: a digit, or X for ten.
    pub fn check_digit(&self) -> char {
        char::from_digit(self.weighted_sum() % 11, 10).unwrap_or('X')
    }

    /// Whether position 9 fits the rest.
    ///
    /// # Errors
    /// What stands there, and what would fit.
    pub fn check(&self) -> Result<(), WrongCheckDigit> {
        let [.., found, _, _, _, _, _, _, _, _] = self.0;
        let expected = self.check_digit();
        if found == expected { Ok(()) } else { Err(WrongCheckDigit { found, expected }) }
    }
}

impl From<&Vin> for Vehicle {
    fn from(vin: &Vin) -> Vehicle {
        let check_digit = if vin.check().is_ok() { CheckDigit::Right } else { CheckDigit::Wrong };
        Vehicle { number: vin.to_string(), check_digit }
    }
}

impl fmt::Display for Vin {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.iter().try_for_each(|c| write!(out, "{c}"))
    }
}

impl fmt::Display for Vehicle {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.check_digit {
            CheckDigit::Right => out.write_str(&self.number),
            CheckDigit::Wrong => write!(out, "{}, check digit does not fit", self.number),
        }
    }
}

impl fmt::Display for VinError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            VinError::Length { found } => {
                write!(out, "a vehicle's number (VIN) has {LENGTH} characters, and this has {found}: ")?;
                out.write_str("read it again from the plate")
            }
            VinError::Character { position, found: found @ ('I' | 'O' | 'Q') } => {
                let digit = if *found == 'I' { '1' } else { '0' };
                write!(
                    out,
                    "position {position} is `{found}`: no vehicle's number has I, O or Q, because they look "
                )?;
                write!(out, "like 1 and 0; it probably is {digit}, look at the plate")
            }
            VinError::Character { position, found } => {
                write!(
                    out,
                    "position {position} is `{}`: a vehicle's number has only ",
                    found.escape_debug()
                )?;
                out.write_str("the digits 0 to 9 and the letters A to Z without I, O and Q")
            }
        }
    }
}

impl std::error::Error for VinError {}

impl fmt::Display for WrongCheckDigit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let WrongCheckDigit { found, expected } = self;
        write!(
            out,
            "position {CHECK_POSITION}, the check digit, is `{found}`, and by the other characters it should be "
        )?;
        write!(out, "`{expected}` (49 CFR 565.15)")
    }
}

/// The value of a character, Table III; none for one that no number has.
fn value(character: char) -> Option<u32> {
    Some(match character {
        '0'..='9' => character.to_digit(10)?,
        'A' | 'J' => 1,
        'B' | 'K' | 'S' => 2,
        'C' | 'L' | 'T' => 3,
        'D' | 'M' | 'U' => 4,
        'E' | 'N' | 'V' => 5,
        'F' | 'W' => 6,
        'G' | 'P' | 'X' => 7,
        'H' | 'Y' => 8,
        'R' | 'Z' => 9,
        _ => return None,
    })
}
