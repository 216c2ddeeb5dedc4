//! Readings that something has moved since they were taken, and those that were moved before they were first taken.

use super::{Effects, Fault};
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::Test;
use dwell_card::limit::Formula;
use std::collections::BTreeSet;

/// Notes the readings that are looked at here although something has moved them since. Afterwards they count as read again,
/// so that one slip is told once.
pub(super) fn fresh(state: &State, looks: impl Fn(usize) -> bool, out: &mut Effects) -> State {
    let mut after = state.clone();
    let readings: Vec<usize> = state.moved.iter().filter(|reading| looks(*reading)).collect();
    if !readings.is_empty() {
        after.moved.retain(|reading| !readings.contains(reading));
        out.faults.push(Fault::Stale { readings });
    }
    after
}

/// Notes each reading that is adjusted here and was moved before it was first taken.
pub(super) fn as_found_lost(read: &BTreeSet<usize>, state: &mut State, out: &mut Effects) {
    for reading in read {
        if state.early.contains(reading) {
            state.early.remove(reading);
            out.faults.push(Fault::AsFoundLost { reading: *reading });
        }
    }
}

/// Work in `frame` moves these readings: one that will be adjusted and was not taken yet is no longer as it was found.
pub(super) fn moved_early(lowered: &Lowered, frame: usize, disturbed: &[usize], state: &mut State) {
    for reading in disturbed {
        let of = lowered.card.readings.get(*reading).map_or(0, |known| known.frame);
        if lowered.adjusted.contains(reading)
            && !state.found_out.contains(reading)
            && is_part_of(lowered, frame, of)
        {
            state.early.insert(*reading);
        }
    }
}

/// Whether what is done in `frame` is done by the procedure of the frame `of`: in itself or in what it performs, but not in
/// what only gets something ready for it.
pub(super) fn is_part_of(lowered: &Lowered, mut frame: usize, of: usize) -> bool {
    while frame != of {
        let within = lowered.card.frames.get(frame).and_then(|frame| frame.within);
        match within.filter(|_| !lowered.ensures.contains_key(&frame)) {
            Some(caller) => frame = caller,
            None => return false,
        }
    }
    true
}

/// Whether these tests look at the latest value of a reading, directly or through formulas; the one as found stays as it was.
pub(super) fn looks_at_latest(tests: &[Test], reading: usize, lowered: &Lowered) -> bool {
    tests.iter().any(|test| test_looks_at_latest(test, reading, lowered))
}

fn test_looks_at_latest(test: &Test, reading: usize, lowered: &Lowered) -> bool {
    match test {
        Test::Meets { value, at, .. } => {
            has_latest(value, reading, lowered)
                || at.as_ref().is_some_and(|at| has_latest(at, reading, lowered))
        }
        Test::Within { value, low, high, .. } => {
            let ends = [low, high].into_iter().flatten();
            has_latest(value, reading, lowered)
                || ends.into_iter().any(|(end, _)| has_latest(end, reading, lowered))
        }
        Test::Steady { reading: of, .. } | Test::Fluctuating { reading: of, .. } => *of == reading,
        Test::Moments { readings, condition, .. } => {
            readings.contains(&reading)
                || condition.tests.iter().any(|test| test_looks_at_latest(test, reading, lowered))
        }
        Test::Answer { .. } | Test::Guard { .. } | Test::Side { .. } => false,
    }
}

/// Whether a formula follows the latest value of a reading.
pub(super) fn has_latest(formula: &Formula, reading: usize, lowered: &Lowered) -> bool {
    let latest = |of: &usize| {
        let inner = lowered.card.readings.get(*of).and_then(|known| known.formula.as_ref());
        *of == reading || inner.is_some_and(|inner| has_latest(inner, reading, lowered))
    };
    match formula {
        Formula::Value(_) | Formula::First(_) => false,
        Formula::Latest(of) => latest(of),
        Formula::Fold(_, all) => all.iter().any(latest),
        Formula::Sine(inner) | Formula::Root(inner) => has_latest(inner, reading, lowered),
        Formula::Samples(_, of) => latest(of),
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => has_latest(a, reading, lowered) || has_latest(b, reading, lowered),
    }
}
