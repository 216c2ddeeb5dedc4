//! Readings are taken, and sizes are chosen: what a reading can be from then on.

use super::deciding::limits_cover;
use super::hazard::found_covered;
use super::stale::{fresh, has_latest};
use super::{Effects, Fault, asked_ready, taken_for_checks};
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::{Choose, Measure, Way};
use dwell_card::meaning::{Room, States, Truth, Value, guards_hold, read};
use dwell_quantity::Band;

/// Takes readings in a state.
pub(super) fn measured(
    lowered: &Lowered,
    chosen: &[usize],
    frame: usize,
    measure: &Measure,
    state: &State,
    out: &mut Effects,
) {
    for (place, required) in measure.needs.iter().enumerate() {
        if guards_hold(&required.when, chosen, &state.slots) != Truth::No
            && !state.slot(required.slot).within(States::these(&required.states))
        {
            out.faults.push(Fault::Unmet { need: place, required: required.clone() });
        }
    }
    if let Some(tool) = measure.tool
        && let Some(known) = lowered.card.tools.get(tool)
    {
        for slot in &known.slots {
            let connected = lowered.connected.get(slot).map(|states| States::these(states));
            if connected.is_some_and(|connected| !state.slot(*slot).within(connected)) {
                out.faults.push(Fault::NotConnected { tool, slot: *slot });
            }
        }
    }
    if let Some(until) = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref()) {
        limits_cover(lowered, chosen, until, out);
    }
    let mut after = state.clone();
    after.slots = asked_ready(&measure.ready, state, out);
    let left = read(measure, &mut after.slots);
    left.into_iter().for_each(|slot| after.told(slot));
    found_covered(lowered, frame, &mut after, out);
    for reading in &measure.readings {
        let room = lowered
            .card
            .readings
            .get(*reading)
            .map_or_else(Room::anything, |known| Room::measured(measure, known));
        after.readings.set(*reading, Value::of(room));
        after.moved.remove(reading);
        taken_for_checks(*reading, &mut after);
        after.judged.remove(reading);
        if lowered.adjusted.contains(reading) {
            after.found_out.insert(*reading);
        }
    }
    out.ways.push((Way::Then, after));
}

/// A size is taken, or none fits; which, the walk does not tell apart.
pub(super) fn size_taken(lowered: &Lowered, frame: usize, choose: &Choose, state: &State, out: &mut Effects) {
    let state = &fresh(state, |reading| has_latest(&choose.nearest, reading, lowered), out);
    let mut none = state.clone();
    none.readings.set(choose.reading, Value::Missing);
    let mut after = state.clone();
    found_covered(lowered, frame, &mut after, out);
    let band = Band::closed(choose.low.0.clone(), choose.high.0.clone());
    after.readings.set(choose.reading, Value::of(Room::number(band)));
    for state in [&mut none, &mut after] {
        state.moved.remove(&choose.reading);
        state.judged.remove(&choose.reading);
    }
    out.ways.push((Way::Then, after));
    out.ways.push((Way::NoReading, none));
}
