//! Hazards that come about and those that are over, what covers them, and the states that are kept.

use super::{Effects, Fault};
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::Act;
use dwell_card::meaning::States;
use dwell_card::vehicle::Slot;

/// Whether a caution of this frame covers the hazard, or it lasts since one of this frame did.
pub(in crate::flow) fn covered(lowered: &Lowered, state: &State, frame: usize, hazard: usize) -> bool {
    state.lasting.contains(&(frame, hazard))
        || state.covers.iter().any(|caution| {
            lowered.card.nodes.get(*caution).is_some_and(|node| {
                node.frame == frame && matches!(node.act, Act::Caution { hazard: of, .. } if of == hazard)
            })
        })
}

/// Hazards of states that have come about here, and those that are over.
pub(super) fn activated(
    lowered: &Lowered,
    frame: usize,
    before: &State,
    after: &mut State,
    out: &mut Effects,
) {
    for (place, slot) in lowered.card.slots.iter().enumerate() {
        if before.slot(place) == after.slot(place) {
            continue;
        }
        for (state, hazard) in &slot.hazards {
            if after.slot(place).has(*state) && !surely(slot, before.slot(place), *hazard) {
                cover(lowered, frame, (place, *state), *hazard, after, out);
            }
        }
    }
    let mut lasting = std::mem::take(&mut after.lasting);
    lasting.retain(|(_, hazard)| lasts(lowered, after, *hazard));
    after.lasting = lasting;
}

/// A hazard that is there from here on lasts under its caution, or is uncovered.
fn cover(
    lowered: &Lowered,
    frame: usize,
    slot_state: (usize, usize),
    hazard: usize,
    after: &mut State,
    out: &mut Effects,
) {
    if covered(lowered, after, frame, hazard) {
        after.lasting.insert((frame, hazard));
        return;
    }
    let fault = Fault::Exposed { hazard, slot_state: Some(slot_state) };
    if !out.faults.contains(&fault) {
        out.faults.push(fault);
    }
}

/// A need holds: what is hazardous in that state is there already, and must be covered before anything is done.
pub(super) fn found(lowered: &Lowered, frame: usize, place: usize, state: &mut State) {
    let Some(slot) = lowered.card.slots.get(place) else { return };
    for (hazardous, hazard) in &slot.hazards {
        if state.slot(place).has(*hazardous) {
            state.found.insert((frame, place, *hazardous, *hazard));
        }
    }
}

/// Before the first thing that is done in a frame: what its needs found hazardous is covered by now.
pub(super) fn found_covered(lowered: &Lowered, frame: usize, after: &mut State, out: &mut Effects) {
    let here: Vec<_> = after.found.iter().copied().filter(|(of, ..)| *of == frame).collect();
    after.found.retain(|(of, ..)| *of != frame);
    for (_, place, state, hazard) in here {
        if after.slot(place).has(state) {
            cover(lowered, frame, (place, state), hazard, after, out);
        }
    }
}

/// The block of a caution ends: it goes on where its hazard surely lasts.
pub(super) fn uncover(lowered: &Lowered, caution: usize, state: &mut State) {
    let Some(node) = lowered.card.nodes.get(caution) else { return };
    if let Act::Caution { hazard, .. } = node.act
        && state.covers.remove(&caution)
        && lasts(lowered, state, hazard)
    {
        state.lasting.insert((node.frame, hazard));
    }
}

/// Whether every possible state of the slot has this hazard.
fn surely(slot: &Slot, now: States, hazard: usize) -> bool {
    let bringing = slot.hazards.iter().filter(|(_, other)| *other == hazard);
    let bringing = bringing.fold(States::default(), |all, (state, _)| all.or(States::only(*state)));
    !now.is_empty() && now.within(bringing)
}

/// Whether the hazard is there in every case. Where it may be over, a caution that only went on with it may be over too.
fn lasts(lowered: &Lowered, state: &State, hazard: usize) -> bool {
    lowered.card.slots.iter().zip(&state.slots).any(|(slot, now)| surely(slot, *now, hazard))
}

/// Whether something that is kept is so no longer.
pub(super) fn kept(lowered: &Lowered, before: &State, after: &State, out: &mut Effects) {
    for keep in &before.keeps {
        let all: Vec<(usize, usize)> = match lowered.card.nodes.get(*keep).map(|node| &node.act) {
            Some(Act::Keep { slot, state }) => vec![(*slot, *state)],
            Some(Act::Hold(hold)) => hold.states.iter().map(|held| (held.slot, held.state)).collect(),
            _ => Vec::new(),
        };
        for (slot, state) in all {
            if before.slot(slot) != after.slot(slot) && !after.slot(slot).within(States::only(state)) {
                out.faults.push(Fault::Kept { keep: *keep, slot });
            }
        }
    }
}
