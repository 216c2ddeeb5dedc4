//! What a test was decided on: the value, the band in force and the band that decided, for the screen and the record.

use super::Value;
use super::ends::{Ends, ends};
use super::test::{Lookup, Scene, choices, row_band, tight, uncertainty};
use crate::graph::Test;
use crate::limit::Formula;
use dwell_quantity::{Band, Exact};

/// What a test of a value was decided on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Basis {
    /// The value, in base units.
    pub value: Value,
    /// The limit; none for a band that stands on the spot.
    pub limit: Option<usize>,
    /// The band as the limit gives it.
    pub band: Band,
    /// The band that decides: the same, or drawn in by the tool's uncertainty.
    pub deciding: Band,
    /// The band as it was written; none between two points of a table.
    pub written: Option<String>,
    /// The expanded uncertainty of the tool (coverage factor 2), where its accuracy is known.
    pub uncertainty: Option<Exact>,
}

/// What a test is decided on. `None` for tests that hold no value against a band, and where no band holds.
pub fn basis(test: &Test, scene: &Scene<'_>) -> Option<Basis> {
    match test {
        Test::Meets { value, limit, adjusting, at, .. } => {
            let known = scene.card.limits.get(*limit)?;
            let (band, written) = match at {
                Some(at) => match row_band(known, &scene.value(at), scene) {
                    Lookup::Band(band) => (band, None),
                    Lookup::Nowhere | Lookup::Unknown => return None,
                },
                None => match choices(known, *adjusting, scene.chosen, scene.slots).as_slice() {
                    [Some(choice), ..] => (choice.band.band(), Some(choice.written.clone())),
                    _ => return None,
                },
            };
            Some(Basis {
                value: scene.value(value),
                limit: Some(*limit),
                deciding: tight(&band, value, scene),
                uncertainty: stated(value, scene).then(|| uncertainty(&band, value, scene.card)).flatten(),
                band,
                written,
            })
        }
        Test::Within { value, low, high, written } => {
            let Ends::Band(band) = ends(low.as_ref(), high.as_ref(), scene) else { return None };
            if band.is_empty() {
                return None;
            }
            let value = scene.value(value);
            let written = Some(written.clone());
            Some(Basis { value, limit: None, deciding: band.clone(), band, written, uncertainty: None })
        }
        _ => None,
    }
}

/// Whether an accuracy is stated for the tool that takes this reading; without one nothing is known of its uncertainty.
fn stated(value: &Formula, scene: &Scene<'_>) -> bool {
    let Formula::Latest(reading) = value else { return false };
    let Some(reading) = scene.card.readings.get(*reading) else { return false };
    let tool = reading.tool.and_then(|tool| scene.card.tools.get(tool));
    tool.and_then(|tool| tool.measures.iter().find(|ability| ability.kind == reading.kind))
        .is_some_and(|ability| ability.accuracy.is_some() || ability.accuracy_of_reading.is_some())
}
