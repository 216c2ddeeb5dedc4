//! The units that a reading can be switched between: the one asked for, those of its limits, and what people use beside them.

use crate::prompt::ReadingPrompt;
use dwell_quantity::{Band, System, Unit, partner};

/// The units of a reading, the one asked for first.
pub fn units(prompt: &ReadingPrompt) -> Vec<Unit> {
    let band = prompt.held.first().map_or_else(Band::all, |held| held.band.clone());
    let beside = [System::Metric, System::Us].into_iter();
    let beside = beside.filter_map(|system| Some(partner(prompt.unit, prompt.kind, &band, system)?.0));
    let mut all = vec![prompt.unit];
    for unit in beside.chain([prompt.kind.usual_unit()]) {
        if unit.measures(prompt.kind) && !all.contains(&unit) {
            all.push(unit);
        }
    }
    all
}
