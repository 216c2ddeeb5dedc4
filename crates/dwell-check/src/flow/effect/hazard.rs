//! Hazards that come about and those that are over, what covers them, and the states that are kept.

use super::{Effects, Fault};
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::Act;
use dwell_card::meaning::States;

/// Whether a caution of this frame covers the hazard, or it lasts since one did.
pub(super) fn covered(lowered: &Lowered, state: &State, frame: usize, hazard: usize) -> bool {
    state.lasting.contains(&hazard)
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
            let bringing: Vec<usize> =
                slot.hazards.iter().filter(|(_, other)| other == hazard).map(|(state, _)| *state).collect();
            let was_sure = before.slot(place).within(States::these(&bringing));
            if after.slot(place).has(*state) && !was_sure {
                if covered(lowered, after, frame, *hazard) {
                    after.lasting.insert(*hazard);
                } else {
                    let fault = Fault::Exposed { hazard: *hazard, slot_state: Some((place, *state)) };
                    if !out.faults.contains(&fault) {
                        out.faults.push(fault);
                    }
                }
            }
        }
    }
    let lasts = |hazard: &usize| {
        lowered.card.slots.iter().enumerate().any(|(place, slot)| {
            slot.hazards
                .iter()
                .any(|(state, of)| of == hazard && after.slots.get(place).is_some_and(|s| s.has(*state)))
        })
    };
    let still: std::collections::BTreeSet<usize> = after.lasting.iter().copied().filter(lasts).collect();
    after.lasting = still;
}

pub(super) fn kept(lowered: &Lowered, before: &State, after: &State, out: &mut Effects) {
    for keep in &before.keeps {
        if let Some(Act::Keep { slot, state }) = lowered.card.nodes.get(*keep).map(|node| &node.act)
            && before.slot(*slot) != after.slot(*slot)
            && !after.slot(*slot).within(States::only(*state))
        {
            out.faults.push(Fault::Kept { keep: *keep, slot: *slot });
        }
    }
}
