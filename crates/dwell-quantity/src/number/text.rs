//! The one text form of an exact number: a terminating decimal, else a fraction in lowest terms.

use std::fmt;
use std::str::FromStr;

use num_bigint::BigInt;
use num_traits::Pow;

use super::Exact;
use crate::number_error::NumberError;

/// The most characters that the text form may have when read. Computed values are far shorter.
const LONGEST_TEXT: usize = 2_000;
/// The most decimals that the text form writes; a number that needs more is written as a fraction.
const MOST_DECIMALS: u32 = 60;

impl fmt::Display for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.decimals_needed() {
            Some(decimals) if decimals <= MOST_DECIMALS => f.write_str(&self.fixed(decimals)),
            _ => write!(f, "{}/{}", self.0.numer(), self.0.denom()),
        }
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(self, f)
    }
}

impl FromStr for Exact {
    type Err = NumberError;

    /// Reads the one text form.
    ///
    /// # Errors
    /// Whatever else stands there, with the reason; more than 2000 characters are [`NumberError::TooLong`].
    fn from_str(text: &str) -> Result<Exact, NumberError> {
        if text.len() > LONGEST_TEXT {
            return Err(NumberError::TooLong);
        }
        let (negative, plain) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let value = match plain.split_once('/') {
            Some((numerator, denominator)) if all_digits(numerator) && all_digits(denominator) => {
                Exact::from_big(big(numerator)?, big(denominator)?).ok_or(NumberError::ZeroDenominator)?
            }
            _ => unsigned_decimal(plain).ok_or_else(|| NumberError::of(text))?,
        };
        Ok(if negative { -value } else { value })
    }
}

/// Whether a text is one or more ASCII digits and nothing else.
pub(crate) fn all_digits(text: &str) -> bool {
    !text.is_empty() && text.bytes().all(|byte| byte.is_ascii_digit())
}

/// A run of ASCII digits as a whole number.
pub(crate) fn big(digits: &str) -> Result<BigInt, NumberError> {
    if all_digits(digits) {
        digits.parse().map_err(|_| NumberError::NotANumber)
    } else {
        Err(NumberError::NotANumber)
    }
}

/// Digits, or digits, a point and digits; anything else is `None`.
pub(crate) fn unsigned_decimal(text: &str) -> Option<Exact> {
    let (whole, part) = text.split_once('.').unwrap_or((text, "0"));
    if !all_digits(whole) || !all_digits(part) {
        return None;
    }
    let scaled = big(&format!("{whole}{part}")).ok()?;
    let scale: BigInt = Pow::pow(BigInt::from(10), part.len());
    Exact::from_big(scaled, scale)
}
