//! An amount: a number as it was typed and its unit; and the way to and from base units.

use std::fmt;

use crate::decimal::Decimal;
use crate::kind::Kind;
use crate::number::Exact;
use crate::number_error::NumberError;
use crate::unit::{Lookup, Unit, lookup};

/// A number and its unit, such as `62 Hz`.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Amount {
    /// The number as it was typed.
    pub number: Decimal,
    /// Its unit.
    pub unit: Unit,
}

/// A unit that does not measure the kind of quantity it was used for.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct KindMismatch {
    /// The unit that was written.
    pub unit: Unit,
    /// The kind that was wanted.
    pub kind: Kind,
}

impl Amount {
    /// A number and its unit.
    pub fn new(number: Decimal, unit: Unit) -> Amount {
        Amount { number, unit }
    }

    /// Reads a literal in parts of falling size: `0° 30′`, `-0° 30′ 15″`, `1 h 30 min`, `2 min 5 s`. The sign in front
    /// belongs to the whole (`-0° 30′` is below zero), and every part but the first is smaller than the unit before it.
    /// The amount is in the unit of the first part.
    ///
    /// # Errors
    /// [`NumberError`] of the part that is no number; [`NumberError::NotANumber`] where the parts do not fit together.
    pub fn compound(text: &str) -> Result<Amount, NumberError> {
        let text = text.trim();
        let (negative, plain) = match text.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, text),
        };
        let parts = split_parts(plain)?;
        let (_, unit) = parts.first().ok_or(NumberError::Empty)?;
        if parts.len() < 2 {
            return Err(NumberError::NotANumber);
        }
        let chain = chain_of(*unit).ok_or(NumberError::NotANumber)?;
        let mut value = Exact::zero();
        let mut printed = Vec::new();
        let mut above: Option<Unit> = None;
        for (number, part) in &parts {
            if !chain.contains(&part.symbol()) || above.is_some_and(|above| !fits(number, *part, above)) {
                return Err(NumberError::NotANumber);
            }
            value = value + &number.value * &part.factor();
            let blank = if part.symbol().chars().all(char::is_alphabetic) { " " } else { "" };
            printed.push(format!("{number}{blank}{part}"));
            above = Some(*part);
        }
        let value = value.checked_div(&unit.factor()).unwrap_or_default();
        let (value, sign) = if negative { (-value, "-") } else { (value, "") };
        let decimals = value.decimals_needed().unwrap_or(4).clamp(2, 4);
        Ok(Amount {
            number: Decimal::parts(value, decimals, format!("{sign}{}", printed.join(" "))),
            unit: *unit,
        })
    }

    /// The value in base units of `kind`. The offset of a temperature scale counts for a temperature and not for a
    /// difference of two.
    ///
    /// # Errors
    /// [`KindMismatch`] where the unit does not measure that kind.
    pub fn in_base(&self, kind: Kind) -> Result<Exact, KindMismatch> {
        if !self.unit.measures(kind) {
            return Err(KindMismatch { unit: self.unit, kind });
        }
        let offset = if kind.point() { self.unit.offset() } else { Exact::zero() };
        Ok(&self.number.value * &self.unit.factor() + offset)
    }

    /// The value of a tolerance or difference on `kind`, in base units, without any offset: `9 °F` on a temperature is
    /// 5 K. The unit may measure the kind itself or the kind of its difference (`2 °` on a crank angle).
    ///
    /// The number keeps its direction: `+2 °ATDC` is below zero, because the scale runs the other way.
    ///
    /// # Errors
    /// [`KindMismatch`] where the unit measures neither.
    pub fn in_base_difference(&self, kind: Kind) -> Result<Exact, KindMismatch> {
        if !self.unit.measures(kind) && !self.unit.measures(kind.difference()) {
            return Err(KindMismatch { unit: self.unit, kind });
        }
        Ok(&self.number.value * &self.unit.factor())
    }
}

/// The number that a base value of `kind` has in `unit`. A unit that does not measure the kind still gives the number
/// that its factor gives; [`Unit::measures`] tells them apart.
pub fn from_base(value: &Exact, unit: Unit, kind: Kind) -> Exact {
    let offset = if kind.point() { unit.offset() } else { Exact::zero() };
    (value - &offset).checked_div(&unit.factor()).unwrap_or_default()
}

/// The number that a difference in base units has in `unit`, without any offset.
pub fn from_base_difference(value: &Exact, unit: Unit) -> Exact {
    value.checked_div(&unit.factor()).unwrap_or_default()
}

/// The units that may stand together in one literal, from large to small.
const CHAINS: [&[&str]; 2] = [&["°", "′", "″"], &["h", "min", "s"]];

fn chain_of(unit: Unit) -> Option<&'static [&'static str]> {
    CHAINS.into_iter().find(|chain| chain.contains(&unit.symbol()))
}

/// Whether a part may follow one in the unit `above`: smaller unit, not below zero, less than one of `above`.
fn fits(number: &Decimal, part: Unit, above: Unit) -> bool {
    let size = &number.value * &part.factor();
    part.factor() < above.factor() && !number.value.is_negative() && size < above.factor()
}

/// Cuts `1 h 30 min` into its numbers and units.
fn split_parts(text: &str) -> Result<Vec<(Decimal, Unit)>, NumberError> {
    let mut parts = Vec::new();
    let mut rest = text.trim();
    while !rest.is_empty() {
        let numeric = |c: char| c.is_ascii_digit() || c == '.';
        let (number, after) = split_where(rest, |c| !numeric(c));
        let (unit, after) = split_where(after.trim_start(), numeric);
        let Lookup::Unit(unit) = lookup(unit_symbol(unit.trim())) else {
            return Err(NumberError::NotANumber);
        };
        parts.push((Decimal::parse(number)?, unit));
        rest = after.trim();
    }
    Ok(parts)
}

/// The keyboard's marks for minutes and seconds of arc; only here, where degrees stand before them.
fn unit_symbol(typed: &str) -> &str {
    match typed {
        "'" => "′",
        "\"" | "''" => "″",
        other => other,
    }
}

fn split_where(text: &str, stop: impl Fn(char) -> bool) -> (&str, &str) {
    let at = text.find(stop).unwrap_or(text.len());
    text.split_at_checked(at).unwrap_or((text, ""))
}

impl fmt::Display for Amount {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.number.parts_text() {
            Some(text) => f.write_str(text),
            None => f.write_str(&with_unit(&self.number.to_string(), self.unit)),
        }
    }
}

/// A number and its unit with the blank between them.
pub(crate) fn with_unit(number: &str, unit: Unit) -> String {
    if unit.symbol().is_empty() { number.to_owned() } else { format!("{number} {unit}") }
}

impl fmt::Display for KindMismatch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let kind = self.kind;
        if self.unit.symbol().is_empty() {
            return write!(
                f,
                "a number without a unit is no {kind}: write one, such as {}",
                kind.usual_unit()
            );
        }
        let measured: Vec<&str> = self.unit.kinds().iter().take(3).map(|kind| kind.name()).collect();
        write!(f, "{} measures {}, not {kind}", self.unit, measured.join(", "))?;
        if let Some(why) = self.unit.kinds().iter().find_map(|other| other.why_not(kind)) {
            write!(f, ": {why}")?;
        }
        write!(f, "; write it in {}", kind.usual_unit())
    }
}

impl std::error::Error for KindMismatch {}
