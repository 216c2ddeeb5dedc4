//! The ends of a band that are worked out, never looser than they are meant.

use super::Value;
use super::test::Scene;
use crate::limit::Formula;
use dwell_quantity::{Band, Bound};

/// What the ends of a band come to.
pub(super) enum Ends {
    /// A band; it may have no room.
    Band(Band),
    /// An end has no value.
    Missing,
    /// It is not known what an end is: an interval, or any of several values.
    Unknown,
}

/// The ends of a band that are formulas. Of an end that is not rational the number is taken that lies inside the band.
pub(super) fn ends(low: Option<&(Formula, bool)>, high: Option<&(Formula, bool)>, scene: &Scene<'_>) -> Ends {
    let end = |end: Option<&(Formula, bool)>, is_low: bool| {
        let Some((formula, closed)) = end else { return Ok(None) };
        match scene.value(formula) {
            Value::Missing => Err(Ends::Missing),
            Value::Near(low, high) => {
                Ok(Some(Bound { value: if is_low { high } else { low }, closed: *closed }))
            }
            known => match known.exact() {
                Some(value) => Ok(Some(Bound { value: value.clone(), closed: *closed })),
                None => Err(Ends::Unknown),
            },
        }
    };
    match (end(low, true), end(high, false)) {
        (Ok(low), Ok(high)) => Ends::Band(Band { low, high }),
        (Err(Ends::Missing), _) | (_, Err(Ends::Missing)) => Ends::Missing,
        _ => Ends::Unknown,
    }
}

#[cfg(test)]
mod tests;
