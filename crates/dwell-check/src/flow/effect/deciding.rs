//! Decisions: how the tests of a node can come out together, and what each outcome tells of the readings.

use super::checking::checked;
use super::grouped::grouped;
use super::hazard::{activated, kept};
use super::many::{MANY, representatives};
use super::signing::to_sign;
use super::stale::{as_found_lost, fresh, looks_at_latest};
use super::{Effects, frame_of, taken, uncovered};
use crate::flow::live::all_readings;
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::{Condition, Judge, Side, Test, Way, Work};
use dwell_card::limit::Formula;
use dwell_card::meaning::{
    Room, Samples, Scene, States, Value, branch_ways, formula_value, judge_in, sides, work,
};
use dwell_card::vehicle::{Guard, Move};
use dwell_quantity::{Band, Bound};
use std::collections::BTreeSet;

/// How the tests of a condition can come out together, each with the state that this leaves.
fn outcomes(
    lowered: &Lowered,
    chosen: &[usize],
    condition: &Condition,
    state: &State,
) -> Vec<(Vec<Side>, State)> {
    let now: Vec<Vec<Side>> =
        condition.tests.iter().map(|test| possible(lowered, chosen, test, state)).collect();
    let count = now.iter().fold(1_usize, |count, sides| count.saturating_mul(sides.len().max(1)));
    if count > MANY {
        let all = if condition.groups.is_empty() {
            representatives(&condition.tests, &now, &lowered.card)
        } else {
            grouped(condition, &now, &lowered.card)
        };
        return all.into_iter().map(|came| (came, state.clone())).collect();
    }
    let mut all = vec![(Vec::new(), state.clone())];
    for test in &condition.tests {
        let mut next = Vec::new();
        for (came, state) in all {
            for side in possible(lowered, chosen, test, &state) {
                for narrowed in narrowed(lowered, chosen, test, side, &state) {
                    let mut came = came.clone();
                    came.push(side);
                    next.push((came, narrowed));
                }
            }
        }
        all = next;
    }
    all
}

/// The sides that a test can come out on in a state.
fn possible(lowered: &Lowered, chosen: &[usize], test: &Test, state: &State) -> Vec<Side> {
    seen(lowered, chosen, state, |scene| sides(test, scene))
}

/// What a state looks like to the meaning of the card.
pub(super) fn seen<R>(
    lowered: &Lowered,
    chosen: &[usize],
    state: &State,
    look: impl FnOnce(&Scene<'_>) -> R,
) -> R {
    let read = |reading: usize, first: bool| value_of(lowered, state, reading, first);
    let samples = |_| Samples::Unknown;
    let answer = |question: usize| state.answers.get(question).copied().unwrap_or_default();
    let scene = Scene {
        card: &lowered.card,
        chosen,
        slots: &state.slots,
        read: &read,
        samples: &samples,
        answer: &answer,
        judged: state.last.as_ref().map(|(node, all)| (*node, all.as_slice())),
    };
    look(&scene)
}

/// What is known of a reading; a computed one follows what it is computed from.
pub(super) fn value_of(lowered: &Lowered, state: &State, reading: usize, first: bool) -> Value {
    if let Some(formula) = lowered.card.readings.get(reading).and_then(|known| known.formula.as_ref()) {
        let read = |reading, first| value_of(lowered, state, reading, first);
        return formula_value(formula, &read, &|_| Samples::Unknown);
    }
    match state.readings.get(reading) {
        // What was found first may have had a value although there is none now, and the other way round.
        Some(_) if first => Value::unknown(),
        Some(Value::Missing) | None => Value::Missing,
        Some(value) => value.clone(),
    }
}

/// The states in which a test comes out on this side; none where it cannot. A value that misses a limit is below it in one of
/// them and above it in another.
fn narrowed(lowered: &Lowered, chosen: &[usize], test: &Test, side: Side, state: &State) -> Vec<State> {
    match test {
        Test::Meets { value: Formula::Latest(reading), limit, adjusting, misses, at: None } => {
            let Some(limit) = lowered.card.limits.get(*limit) else { return Vec::new() };
            let sides: &[Side] = match (misses, side) {
                (false, side) => &[side],
                (true, Side::NoReading) => &[Side::NoReading],
                (true, Side::In) => &[Side::Low, Side::High],
                (true, _) => &[Side::In],
            };
            let choices = dwell_card::meaning::choices(limit, *adjusting, chosen, &state.slots);
            match choices.as_slice() {
                [Some(choice)] => {
                    let value = Formula::Latest(*reading);
                    let band = dwell_card::meaning::deciding(&choice.band.band(), &value, &lowered.card);
                    let on = |side: &Side| narrow(state, lowered, *reading, |room| room.on(&band, *side));
                    sides.iter().filter_map(on).collect()
                }
                // Every band decides a number, whichever holds here.
                all if side == Side::NoReading && all.iter().all(Option::is_some) => {
                    narrow(state, lowered, *reading, Room::undecided).into_iter().collect()
                }
                _ => vec![state.clone()],
            }
        }
        Test::Within { value: Formula::Latest(reading), low, high, .. } => {
            let end = |end: &Option<(Formula, bool)>| match end {
                None => Some(None),
                Some((Formula::Value(value), closed)) => {
                    Some(Some(Bound { value: value.0.clone(), closed: *closed }))
                }
                Some(_) => None,
            };
            match (end(low), end(high)) {
                (Some(low), Some(high)) if !(Band { low: low.clone(), high: high.clone() }).is_empty() => {
                    let band = Band { low, high };
                    narrow(state, lowered, *reading, |room| room.on(&band, side)).into_iter().collect()
                }
                _ => vec![state.clone()],
            }
        }
        // Samples that tell something are all numbers, and there is a reading of them.
        Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } if side != Side::NoReading => {
            narrow(state, lowered, *reading, |room| room.number.clone().map(Room::number))
                .into_iter()
                .collect()
        }
        Test::Moments { readings, .. } if side != Side::NoReading => {
            let there = |room: &Room| {
                Some(Room { missing: false, ..room.clone() }).filter(|room| room.reach().is_some())
            };
            let each = readings
                .iter()
                .try_fold(state.clone(), |state, reading| narrow(&state, lowered, *reading, there));
            each.into_iter().collect()
        }
        Test::Answer { question, values, not } => {
            let mut after = state.clone();
            let asked = States::these(values);
            if let Some(answer) = after.answers.get(*question).copied() {
                let (inside, outside): (Vec<usize>, Vec<usize>) =
                    answer.iter().partition(|value| asked.has(*value));
                let left = if (side == Side::In) != *not { &inside } else { &outside };
                after.answers.set(*question, States::these(left));
            }
            vec![after]
        }
        Test::Guard { guard: Guard::State { slot, states }, not } => {
            let mut after = state.clone();
            let asked = States::these(states);
            let (inside, outside): (Vec<usize>, Vec<usize>) =
                state.slot(*slot).iter().partition(|value| asked.has(*value));
            after.set(*slot, States::these(if (side == Side::In) != *not { &inside } else { &outside }));
            vec![after]
        }
        _ => vec![state.clone()],
    }
}

/// The state with what is left of the room of a reading; nothing where that is nothing.
fn narrow(
    state: &State,
    lowered: &Lowered,
    reading: usize,
    left: impl FnOnce(&Room) -> Option<Room>,
) -> Option<State> {
    let mut after = state.clone();
    let computed = lowered.card.readings.get(reading).is_none_or(|known| known.formula.is_some());
    if let (Some(Value::Somewhere(room)), false) = (state.readings.get(reading), computed) {
        after.readings.set(reading, Value::of(left(room)?));
    }
    Some(after)
}

pub(super) fn judged(
    lowered: &Lowered,
    chosen: &[usize],
    node: usize,
    judge: &Judge,
    state: &State,
    out: &mut Effects,
) {
    limits_cover(lowered, chosen, &judge.condition, out);
    let tests = &judge.condition.tests;
    let mut state = fresh(state, |reading| looks_at_latest(tests, reading, lowered), out);
    let read: BTreeSet<usize> = tests.iter().flat_map(|test| all_readings(test, lowered)).collect();
    if judge.adjusting {
        as_found_lost(&read, &mut state, out);
    }
    checked(lowered, &judge.condition, &mut state);
    to_sign(lowered, node, &mut state, out);
    let state = &state;
    let frame = frame_of(lowered, node);
    for (came, mut after) in outcomes(lowered, chosen, &judge.condition, state) {
        // What proves a state is over with that state; what counts for the result must be so at the end.
        if judge.proves.is_empty() {
            after.judged.extend(read.iter().copied().filter(|reading| taken(state, *reading)));
        }
        let inside = judge_in(&judge.condition, &came);
        after.last = Some((node, came));
        if inside {
            for settled in &judge.settles {
                after.open.remove(settled);
            }
            let before = after.clone();
            prove(chosen, &judge.proves, &mut after);
            after.clocks.follow(&lowered.card.slots, &before.slots, &after.slots);
            activated(lowered, frame, &before, &mut after, out);
            kept(lowered, &before, &after, out);
            out.ways.push((Way::In, after));
        } else {
            after.open.insert(node);
            out.ways.push((Way::Out, after));
        }
    }
}

/// Notes each limit of a condition that has no value for this variant.
pub(super) fn limits_cover(lowered: &Lowered, chosen: &[usize], condition: &Condition, out: &mut Effects) {
    for test in &condition.tests {
        match test {
            Test::Meets { limit, .. } => uncovered(lowered, chosen, *limit, out),
            Test::Moments { condition, .. } => limits_cover(lowered, chosen, condition, out),
            _ => {}
        }
    }
}

fn prove(chosen: &[usize], proves: &[Move], state: &mut State) {
    let proof = Work { brings: proves.to_vec(), ..Work::default() };
    let result = work(&proof, chosen, &state.slots);
    state.slots = result.after;
    state.known.extend(&result.told);
    state.touched.extend(proves.iter().map(|step| step.slot));
}

pub(super) fn branched(
    lowered: &Lowered,
    chosen: &[usize],
    condition: &Condition,
    state: &State,
    out: &mut Effects,
) {
    limits_cover(lowered, chosen, condition, out);
    let mut state = fresh(state, |reading| looks_at_latest(&condition.tests, reading, lowered), out);
    checked(lowered, condition, &mut state);
    let state = &state;
    for (came, after) in outcomes(lowered, chosen, condition, state) {
        let way = branch_ways(condition, &came);
        if !out.ways.iter().any(|(known, state)| *known == way && *state == after) {
            out.ways.push((way, after));
        }
    }
}
