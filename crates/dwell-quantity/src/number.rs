//! An exact rational number and its one text form; no limit is ever a binary float.

mod operators;
mod text;

use num_bigint::{BigInt, Sign};
use num_rational::BigRational;
use num_traits::{One, Pow, Signed, ToPrimitive, Zero};
use std::hash::{Hash, Hasher};

pub(crate) use text::{all_digits, big, unsigned_decimal};

/// The most decimals that rounding works with; more are treated as this many.
const MOST_ROUNDED: u32 = 400;

/// An exact rational number.
///
/// Its one text form is a terminating decimal (`0.35`, `-12`) where one of at most 60 decimals exists, else `p/q`
/// (`1/3`) in lowest terms. Reading takes both forms and refuses everything else: exponents, commas, blanks, a plus
/// sign, a bare point, `nan`, `inf`.
#[derive(Clone, Eq, PartialOrd, Ord)]
pub struct Exact(BigRational);

// A ratio is always in lowest terms here, so two are equal exactly where their terms are; the general comparison and hash of
// ratios divide again each time.
impl PartialEq for Exact {
    fn eq(&self, other: &Exact) -> bool {
        self.0.numer() == other.0.numer() && self.0.denom() == other.0.denom()
    }
}

impl Hash for Exact {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.0.numer().hash(state);
        self.0.denom().hash(state);
    }
}

/// Which way to round.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Rounding {
    /// To the nearest, a tie to the even digit (NIST SP 811 B.7.1).
    HalfEven,
    /// Towards plus infinity.
    Up,
    /// Towards minus infinity.
    Down,
}

impl Exact {
    /// Zero.
    pub fn zero() -> Exact {
        Exact(BigRational::zero())
    }

    /// One.
    pub fn one() -> Exact {
        Exact(BigRational::one())
    }

    /// A whole number.
    pub fn whole(n: i64) -> Exact {
        Exact(BigRational::from_integer(BigInt::from(n)))
    }

    /// `numerator / denominator`; `None` where the denominator is zero.
    pub fn ratio(numerator: i64, denominator: i64) -> Option<Exact> {
        Exact::wide_ratio(i128::from(numerator), i128::from(denominator))
    }

    /// As [`Exact::ratio`], for the longer factors of the unit table.
    pub(crate) fn wide_ratio(numerator: i128, denominator: i128) -> Option<Exact> {
        Exact::from_big(BigInt::from(numerator), BigInt::from(denominator))
    }

    /// `numerator / denominator`; `None` where the denominator is zero.
    pub(crate) fn from_big(numerator: BigInt, denominator: BigInt) -> Option<Exact> {
        if denominator.is_zero() { None } else { Some(Exact(BigRational::new(numerator, denominator))) }
    }

    /// Numerator and denominator, in lowest terms, the denominator above zero.
    pub(crate) fn terms(&self) -> (&BigInt, &BigInt) {
        (self.0.numer(), self.0.denom())
    }

    /// Whether this is zero.
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// Whether this is below zero.
    pub fn is_negative(&self) -> bool {
        self.0.is_negative()
    }

    /// Whether this is a whole number.
    pub fn is_whole(&self) -> bool {
        self.0.is_integer()
    }

    /// The distance from zero.
    pub fn abs(&self) -> Exact {
        Exact(self.0.abs())
    }

    /// This divided by `other`; `None` where `other` is zero.
    pub fn checked_div(&self, other: &Exact) -> Option<Exact> {
        if other.is_zero() { None } else { Some(Exact(&self.0 / &other.0)) }
    }

    /// The nearest binary float, for drawing and for probabilities only: nothing is decided on it. A number beyond the
    /// range of floats becomes an infinity.
    pub fn to_f64(&self) -> f64 {
        let beyond = if self.is_negative() { f64::NEG_INFINITY } else { f64::INFINITY };
        self.0.to_f64().unwrap_or(beyond)
    }

    /// This rounded to so many decimals.
    pub fn rounded(&self, decimals: u32, rounding: Rounding) -> Exact {
        let scale = power_of_ten(decimals);
        Exact(BigRational::new(self.scaled(&scale, rounding), scale))
    }

    /// This with exactly so many decimals, rounded half to even; never `-0`.
    pub fn fixed(&self, decimals: u32) -> String {
        let decimals = decimals.min(MOST_ROUNDED);
        let scaled = self.scaled(&power_of_ten(decimals), Rounding::HalfEven);
        decimal_text(&scaled, decimals)
    }

    /// How many decimals this needs to be written out; `None` where no number of decimals is enough (1/3).
    pub fn decimals_needed(&self) -> Option<u32> {
        let mut rest = self.0.denom().clone();
        let twos = strip(&mut rest, 2);
        let fives = strip(&mut rest, 5);
        if rest.is_one() { u32::try_from(twos.max(fives)).ok() } else { None }
    }

    /// This times `scale`, rounded to a whole number.
    fn scaled(&self, scale: &BigInt, rounding: Rounding) -> BigInt {
        let scaled = &self.0 * scale;
        let floor = scaled.floor();
        let rest = &scaled - &floor;
        let floor = floor.to_integer();
        let half = BigRational::new(BigInt::one(), BigInt::from(2));
        let up = match rounding {
            Rounding::Down => false,
            Rounding::Up => !rest.is_zero(),
            Rounding::HalfEven => rest > half || (rest == half && floor.bit(0)),
        };
        if up { floor + 1 } else { floor }
    }
}

/// Ten to the power of `decimals`, at most 10 to the 400.
fn power_of_ten(decimals: u32) -> BigInt {
    Pow::pow(BigInt::from(10), decimals.min(MOST_ROUNDED))
}

/// Divides `number` by `prime` as often as it goes, and says how often that was.
fn strip(number: &mut BigInt, prime: u32) -> u64 {
    let mut times = 0;
    loop {
        let rest = &*number % prime;
        if !rest.is_zero() || number.is_zero() {
            return times;
        }
        *number = &*number / prime;
        times += 1;
    }
}

/// `scaled / 10^decimals` with exactly so many decimals.
fn decimal_text(scaled: &BigInt, decimals: u32) -> String {
    let sign = if scaled.sign() == Sign::Minus { "-" } else { "" };
    let decimals = decimals as usize;
    let digits = format!("{:0>width$}", scaled.magnitude().to_string(), width = decimals + 1);
    match digits.split_at_checked(digits.len().saturating_sub(decimals)) {
        Some((whole, part)) if !part.is_empty() => format!("{sign}{whole}.{part}"),
        _ => format!("{sign}{digits}"),
    }
}

impl Default for Exact {
    fn default() -> Exact {
        Exact::zero()
    }
}
