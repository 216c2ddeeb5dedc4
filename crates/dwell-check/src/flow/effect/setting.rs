//! Work that is set to a band that is worked out: whether the band has a value, and whether the tools can be set to it.

use super::deciding::{seen, value_of};
use super::stale::{fresh, looks_at_latest};
use super::{Effects, Fault};
use crate::flow::live::all_readings;
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Way, WorkedOut};
use dwell_card::limit::Formula;
use dwell_card::meaning::{Room, Samples, Value, formula_value, may_be_set};
use dwell_quantity::Band;

/// Looks at the band of a node in a state; whether the work may be done.
pub(super) fn set(
    lowered: &Lowered,
    chosen: &[usize],
    node: usize,
    known: &WorkedOut,
    state: &mut State,
    out: &mut Effects,
) -> bool {
    let tests = [known.band()];
    *state = fresh(state, |reading| looks_at_latest(&tests, reading, lowered), out);
    // Where one of the readings is missing, there is no band.
    for reading in tests.iter().flat_map(|test| all_readings(test, lowered)) {
        let Some(Value::Somewhere(room)) = state.readings.get(reading) else { continue };
        if room.missing && looks_at_latest(&tests, reading, lowered) {
            let there = Value::of(Room { missing: false, ..room.clone() });
            let mut without = state.clone();
            without.readings.set(reading, Value::Missing);
            out.ways.push((Way::NoReading, without));
            state.readings.set(reading, there);
        }
    }
    let (may, may_not) = seen(lowered, chosen, state, |scene| may_be_set(known, scene));
    if may_not {
        out.ways.push((Way::NoReading, state.clone()));
    }
    if may && let Some(reach) = reach(lowered, node, known, state) {
        let tools = lowered.set_with.get(&node).into_iter().flatten().enumerate();
        let beyond = tools.filter(|(_, tool)| !reachable(&reach, &tool.range));
        out.faults.extend(beyond.map(|(with, _)| Fault::OutOfReach { with }));
    }
    may
}

/// All that a tool may have to be set to at a node in a state, as far as it is bounded by what can be read: both ends of the
/// band, with its adapter.
pub(in crate::flow) fn reach(
    lowered: &Lowered,
    node: usize,
    known: &WorkedOut,
    state: &State,
) -> Option<Band> {
    let read = |reading: usize, first: bool| shown(lowered, state, reading, first);
    let of = |end: &Option<(Formula, bool)>| {
        let (end, _) = end.as_ref()?;
        formula_value(end, &read, &|_| Samples::Unknown).reach().map(|reach| reach.into_owned())
    };
    // Where there is a band, its low end is not above its high one.
    let (low, high) = match (of(&known.low), of(&known.high)) {
        (Some(low), Some(high)) => (low.low, high.high),
        (Some(end), None) | (None, Some(end)) => (end.low, end.high),
        (None, None) => return None,
    };
    let all = Band { low, high };
    let Some(Act::Work(work)) = lowered.card.nodes.get(node).map(|node| &node.act) else { return None };
    Some(work.leverage.as_ref().map_or(all.clone(), |leverage| leverage.reach(&all)))
}

/// What a reading can be where its tool shows it.
fn shown(lowered: &Lowered, state: &State, reading: usize, first: bool) -> Value {
    let known = lowered.card.readings.get(reading);
    if let Some(formula) = known.and_then(|known| known.formula.as_ref()) {
        let read = |reading, inner| shown(lowered, state, reading, first || inner);
        return formula_value(formula, &read, &|_| Samples::Unknown);
    }
    let tool = known.and_then(|known| lowered.card.tools.get(known.tool?));
    let ability = tool.and_then(|tool| {
        tool.measures.iter().find(|able| known.is_some_and(|known| known.kind == able.kind))
    });
    let range = ability.map_or_else(Band::all, |ability| ability.range.band());
    let span = lowered.spans.get(reading).cloned().unwrap_or_else(Band::all);
    let number = match value_of(lowered, state, reading, first) {
        Value::Missing => return Value::Missing,
        known @ Value::Near(..) => return known,
        Value::Read(band) => band,
        Value::Somewhere(room) => room.number.unwrap_or_else(Band::all),
    };
    Value::of(Room::number(number.intersect(&range).intersect(&span)))
}

fn reachable(band: &Band, range: &Band) -> bool {
    [&band.low, &band.high].into_iter().flatten().all(|end| range.contains(&end.value))
}
