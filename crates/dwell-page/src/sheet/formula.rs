//! What is worked out from readings, in words that a person with a pencil can follow: `= old + gap - 0.25 mm`.
//!
//! Only what needs no conversion: sums, differences, means, the largest, the smallest, and a plain factor, all in one unit. What needs
//! more is not worked out by hand from a sheet, and the sheet says so.

use crate::words::unit_named;
use dwell_card::Card;
use dwell_card::limit::{Fold, Formula, Reading};
use dwell_quantity::{Kind, Unit, from_base};

/// The most decimals of a number that is copied onto a sheet.
const MOST_DECIMALS: u32 = 6;

/// How a reading is worked out; none where that is no work for a pencil.
pub(crate) fn in_words(card: &Card, reading: &Reading) -> Option<String> {
    let writer = Words { card, unit: unit_named(&reading.unit)?, kind: Kind::named(&reading.kind)? };
    writer.of(reading.formula.as_ref()?)
}

struct Words<'a> {
    card: &'a Card,
    unit: Unit,
    kind: Kind,
}

impl Words<'_> {
    fn of(&self, formula: &Formula) -> Option<String> {
        match formula {
            Formula::Value(value) => {
                // Of a temperature nobody knows here whether it is one or a difference of two.
                let number = (!self.kind.point()).then(|| from_base(&value.0, self.unit, self.kind))?;
                number.decimals_needed().filter(|decimals| *decimals <= MOST_DECIMALS)?;
                Some(format!("{number} {}", self.unit.symbol()).trim_end().to_owned())
            }
            Formula::Latest(reading) => self.reading(*reading),
            Formula::First(reading) => Some(format!("{} as found", self.reading(*reading)?)),
            Formula::Fold(fold, readings) => {
                let all: Option<Vec<String>> =
                    readings.iter().map(|reading| self.reading(*reading)).collect();
                let word = match fold {
                    Fold::Spread => "highest less lowest",
                    Fold::Furthest => "the one furthest from zero",
                    other => other.word(),
                };
                Some(format!("{word} of ({})", all?.join("; ")))
            }
            Formula::Plus(one, other) => Some(format!("{} + {}", self.of(one)?, self.inner(other)?)),
            Formula::Minus(one, other) => Some(format!("{} - {}", self.of(one)?, self.inner(other)?)),
            Formula::Times(one, other) => match (one.as_ref(), other.as_ref()) {
                (Formula::Value(factor), of) | (of, Formula::Value(factor)) => {
                    Some(format!("{} × {}", plain(&factor.0)?, self.inner(of)?))
                }
                _ => None,
            },
            Formula::Over(one, other) => match other.as_ref() {
                Formula::Value(by) => Some(format!("{} / {}", self.inner(one)?, plain(&by.0)?)),
                _ => None,
            },
            Formula::Smaller(one, other) => {
                Some(format!("the smaller of ({}; {})", self.of(one)?, self.of(other)?))
            }
            Formula::Larger(one, other) => {
                Some(format!("the larger of ({}; {})", self.of(one)?, self.of(other)?))
            }
            Formula::Samples(..) | Formula::Sine(_) | Formula::Root(_) => None,
        }
    }

    /// In brackets where it is a sum of its own.
    fn inner(&self, formula: &Formula) -> Option<String> {
        let words = self.of(formula)?;
        let sum = matches!(formula, Formula::Plus(..) | Formula::Minus(..));
        Some(if sum { format!("({words})") } else { words })
    }

    /// The name of a reading in the same unit: no other one can be added by a pencil. Of two temperatures only a difference can.
    fn reading(&self, reading: usize) -> Option<String> {
        let known = self.card.readings.get(reading)?;
        let same = known.unit == self.unit.symbol() && !self.kind.point();
        let name = known.name.replace('-', " ");
        let words = || {
            known.at.as_ref().map_or_else(|| name.clone(), |at| format!("{name} ({})", at.replace('-', " ")))
        };
        same.then(words)
    }
}

/// A plain number.
fn plain(number: &dwell_quantity::Exact) -> Option<String> {
    number.decimals_needed().filter(|decimals| *decimals <= MOST_DECIMALS)?;
    Some(number.to_string())
}
