//! A procedure is over: what it owes, what it says that it leaves, and how its caller goes on.

use super::checking::never_checked;
use super::signing::never_signed;
use super::stale::is_part_of;
use super::{Effects, Fault, frame_of};
use crate::flow::state::{Opened, State};
use crate::lower::Lowered;
use dwell_card::graph::{Outcome, Way};
use dwell_card::meaning::States;
use dwell_card::vehicle::Slot;

/// The slots that a frame leaves otherwise than it found them, and may not.
pub(in crate::flow) fn debts(lowered: &Lowered, frame: usize, opened: &Opened, state: &State) -> Vec<usize> {
    let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
    let is_owed = |place: usize, slot: &Slot| {
        let entry = opened.entry.get(place).copied().unwrap_or_default();
        let now = state.slot(place);
        let left = leaves.iter().filter(|(left, _)| *left == place).map(|(_, state)| States::only(*state));
        let fine = left.fold(entry.or(States::only(0)).or(States::these(&slot.may_stay)), States::or);
        now != entry && !now.within(fine)
    };
    let slots = lowered.card.slots.iter().enumerate();
    slots.filter(|(place, slot)| is_owed(*place, slot)).map(|(place, _)| place).collect()
}

/// How a frame ends in a state.
pub(in crate::flow) fn outcome(lowered: &Lowered, frame: usize, opened: &Opened, state: &State) -> Outcome {
    let open = opened.failed || state.open.iter().any(|judge| frame_of(lowered, *judge) == frame);
    match opened.outcome {
        None | Some(Outcome::Passed) if open => Outcome::Failed,
        None => Outcome::Passed,
        Some(outcome) => outcome,
    }
}

/// Ends a frame in a state.
pub(super) fn closed(lowered: &Lowered, frame: usize, state: &State, out: &mut Effects) {
    let mut after = state.clone();
    let Some(opened) = after.frames.pop() else { return };
    let outcome = outcome(lowered, frame, &opened, state);
    let owed = debts(lowered, frame, &opened, state);
    if opened.open_list {
        // It stands in the record as open, and those who perform this do not owe it as well.
        for caller in &mut after.frames {
            for slot in &owed {
                if let Some(entry) = caller.entry.get(*slot).copied() {
                    caller.entry.set(*slot, entry.or(state.slot(*slot)));
                }
            }
        }
    } else {
        // What only waits for another thing to come off is told with that thing.
        let told_with = |slot: &usize| {
            lowered.partners.get(slot).is_some_and(|takers| takers.iter().any(|taker| owed.contains(taker)))
        };
        // What a procedure says that it leaves otherwise is told as that, where it passes.
        let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        let told_as_left =
            |slot: &usize| outcome == Outcome::Passed && leaves.iter().any(|(left, _)| left == slot);
        let own = owed.iter().copied().filter(|slot| !told_with(slot) && !told_as_left(slot));
        out.faults.extend(own.map(|slot| Fault::Owed { frame, slot, outcome }));
    }
    // A caller that passes on what this procedure has judged must not move it either.
    let own = |reading: &usize| {
        let of = lowered.card.readings.get(*reading).map_or(0, |known| known.frame);
        is_part_of(lowered, of, frame)
    };
    for reading in state.judged.iter().filter(own) {
        let stale = state.moved.contains(&reading);
        if outcome == Outcome::Passed && stale {
            out.faults.push(Fault::NoRecheck { reading });
        }
        if outcome != Outcome::Passed || stale {
            after.judged.remove(&reading);
        }
    }
    if frame == 0 && outcome == Outcome::Passed {
        never_checked(state, out);
    }
    never_signed(lowered, frame, outcome == Outcome::Passed, &mut after, out);
    after.lasting.retain(|(of, _)| *of != frame);
    after.found.retain(|(of, ..)| *of != frame);
    if outcome == Outcome::Passed {
        let ensured = lowered.ensures.get(&frame).map(|(required, _, _)| required);
        if let Some(required) = ensured
            && !state.slot(required.slot).within(States::these(&required.states))
        {
            out.faults.push(Fault::NotEnsured { frame });
        }
        let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        for (slot, _) in leaves {
            // A state that `leaves` names more than once is one of several.
            let all = leaves.iter().filter(|(other, _)| other == slot);
            let said = all.fold(States::default(), |all, (_, state)| all.or(States::only(*state)));
            let told = ensured.is_some_and(|required| required.slot == *slot);
            let fault = Fault::NotLeft { frame, slot: *slot };
            if !told && !state.slot(*slot).within(said) && !out.faults.contains(&fault) {
                out.faults.push(fault);
            }
        }
    }
    after.open.retain(|judge| frame_of(lowered, *judge) != frame);
    after.covers.retain(|caution| frame_of(lowered, *caution) != frame);
    if state.stopped
        && frame > 0
        && let Some(caller) = after.frames.last_mut()
    {
        caller.outcome = Some(Outcome::Unfinished);
    }
    let way = match outcome {
        _ if frame == 0 => Way::Then,
        Outcome::Passed => Way::Passed,
        Outcome::Failed => Way::Failed,
        Outcome::Unfinished => Way::Unfinished,
        Outcome::Referred => Way::Referred,
    };
    out.ways.push((way, after));
}
