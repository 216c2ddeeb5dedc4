//! What must be judged after something was done: from when on it is owed, and what settles it.

use super::{Effects, Fault};
use crate::flow::live::all_readings;
use crate::flow::state::State;
use crate::lower::{Lowered, limit_of, tests};
use dwell_card::graph::Condition;

/// Something is done: what must be judged after it is owed, unless the thing was found as it is now brought out of. Then
/// whoever took it off judges it.
pub(super) fn check_owed(lowered: &Lowered, node: usize, state: &mut State) {
    for check in lowered.checked_after.get(&node).into_iter().flatten() {
        let Some(known) = lowered.checks.get(*check) else { continue };
        let first = state.frames.first().and_then(|frame| frame.entry.get(known.slot));
        if first.is_some_and(|states| !states.has(0)) {
            continue;
        }
        state.unchecked.insert(*check);
        state.untaken.extend(known.readings.iter().map(|reading| (*check, *reading)));
    }
}

/// A reading is taken: it is fresh for all that it checks.
pub(super) fn taken_for_checks(reading: usize, state: &mut State) {
    state.untaken.retain(|(_, of)| *of != reading);
}

/// Something is judged by fresh readings: what they check is settled.
pub(super) fn checked(lowered: &Lowered, condition: &Condition, state: &mut State) {
    let owed: Vec<usize> = state.unchecked.iter().collect();
    for check in owed {
        let Some(known) = lowered.checks.get(check) else { continue };
        let settles = tests(condition).into_iter().any(|test| {
            let spec = limit_of(test).and_then(|limit| lowered.limit_specs.get(&limit));
            let read: Vec<usize> =
                all_readings(test, lowered).into_iter().filter(|of| known.readings.contains(of)).collect();
            spec == Some(&known.spec)
                && !read.is_empty()
                && read.iter().all(|reading| !state.untaken.contains(&(check, *reading)))
        });
        if settles {
            state.unchecked.remove(&check);
        }
    }
}

/// The procedure passes, and these were never judged.
pub(super) fn never_checked(state: &State, out: &mut Effects) {
    out.faults.extend(state.unchecked.iter().map(|check| Fault::Unchecked { check }));
}
