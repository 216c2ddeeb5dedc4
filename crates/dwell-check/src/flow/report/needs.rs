//! States that are needed, kept or left and may not be: never brought about, lost again, or never proved.

use super::Said;
use crate::finding::Place;
use crate::flow::witness::witness;
use crate::trouble::{Trouble, Unproved};
use dwell_card::graph::Act;
use dwell_card::meaning::States;
use dwell_card::vehicle::{Required, Slot};

/// The first state of a thing of which nobody knows anything before it is measured. Nothing dangerous is stored in it, unless
/// one of its states brings a hazard.
const UNKNOWN: &str = "unknown";

/// Who needs it, where a procedure asks for it under `needs`.
const PROCEDURE: &str = "this procedure";

impl Said<'_> {
    /// Something that is done or read needs a state that may not be.
    pub(super) fn unmet(&self, need: usize, required: &Required) -> Trouble {
        let lowered = self.lowered;
        let (by, declared) = lowered.needed_by.get(&(self.node, need)).cloned().unzip();
        let by = by.unwrap_or_else(|| "this".into());
        let works = matches!(lowered.card.nodes.get(self.node).map(|node| &node.act), Some(Act::Work(_)));
        let stored = lowered.card.slots.get(required.slot).is_some_and(|slot| is_energy_gone(slot, required));
        if works && stored {
            return Trouble::StoredEnergy {
                place: self.place,
                needed: self.needed(required),
                verb: by,
                declared,
                lost: self.lost(required.slot, States::these(&required.states)),
                witness: self.witness(),
            };
        }
        self.lost_or_never(self.place, required, by, declared)
    }

    /// A performed procedure asks for a state that is known not to be.
    pub(super) fn called_unready(&self, required: &Required) -> Trouble {
        let by = format!("“{}”", self.frame_title());
        self.lost_or_never(self.frame_place(), required, by, Some(self.place))
    }

    /// A procedure that is to bring about what another one needs ends passed, and it may not be so.
    pub(super) fn not_ensured(&self, frame: usize) -> Option<Trouble> {
        let (required, place, _) = self.lowered.ensures.get(&frame)?;
        let brings = self.lowered.frame_places.get(frame).copied();
        let held = self.lost(required.slot, States::these(&required.states)).is_some();
        if !held && self.is_proved(required.slot, &required.states) {
            return Some(Trouble::ProofMissing {
                place: *place,
                state: self.needed(required),
                how: Unproved::Performed,
                related: brings,
                witness: self.witness(),
            });
        }
        Some(self.lost_or_never(*place, required, PROCEDURE.to_owned(), brings))
    }

    /// A procedure says that it leaves a state, and it may not be so.
    pub(super) fn not_left(&self, frame: usize, slot: usize) -> Trouble {
        let lowered = self.lowered;
        let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        let said: Vec<usize> =
            leaves.iter().filter(|(left, _)| *left == slot).map(|(_, state)| *state).collect();
        let place = lowered.left_at.get(&(frame, slot)).copied().unwrap_or(self.place);
        let state = self.state_words(slot, said.first().copied().unwrap_or(0));
        let held = self.trail.held(slot, States::these(&said));
        if !held && self.is_proved(slot, &said) {
            let how = Unproved::Left;
            return Trouble::ProofMissing { place, state, how, related: None, witness: self.witness() };
        }
        Trouble::LeavesUntrue {
            place,
            state,
            now: lowered.card.slots.get(slot).map_or_else(String::new, |known| {
                let now = self.trail.state().slot(slot).iter();
                let names = now.filter_map(|state| known.states.get(state));
                names.map(|state| state.replace('-', " ")).collect::<Vec<_>>().join(" or ")
            }),
            changed: self.changed(slot),
            witness: self.witness(),
        }
    }

    /// A state that is to be kept is not so, or not from the beginning.
    pub(super) fn kept_broken(&self, keep: usize, slot: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let kept = lowered.places.get(keep).copied().unwrap_or_default();
        let act = lowered.card.nodes.get(keep).map(|node| &node.act);
        let state = match act {
            Some(Act::Keep { state, .. }) => Some(*state),
            Some(Act::Hold(hold)) => hold.states.iter().find(|held| held.slot == slot).map(|held| held.state),
            _ => None,
        };
        if let Some(state) = state
            && self.is_proved(slot, &[state])
            && !self.trail.held(slot, States::only(state))
        {
            return Some(Trouble::ProofMissing {
                place: kept,
                state: self.state_words(slot, state),
                how: Unproved::Kept,
                related: None,
                witness: self.witness(),
            });
        }
        Some(Trouble::KeptBroken {
            place: self.place,
            kept,
            what: lowered.card.slots.get(slot)?.label.clone(),
            during: matches!(act, Some(Act::Hold(_))),
            witness: self.witness(),
        })
    }

    fn lost_or_never(
        &self,
        place: Place,
        required: &Required,
        by: String,
        declared: Option<Place>,
    ) -> Trouble {
        let (needed, witness) = (self.needed(required), self.witness());
        match self.lost(required.slot, States::these(&required.states)) {
            Some(lost) => Trouble::NeedLost { place, needed, by, declared, lost, witness },
            None => {
                let proved = self.is_proved(required.slot, &required.states);
                Trouble::NeedNotMet { place, needed, by, declared, proved, witness }
            }
        }
    }

    /// Where the slot last came out of these states, if it ever surely was in one of them.
    fn lost(&self, slot: usize, states: States) -> Option<Place> {
        let node = self.trail.lost(slot, states)?;
        self.lowered.places.get(node).copied()
    }

    /// Whether only a measurement leads to these states.
    fn is_proved(&self, slot: usize, states: &[usize]) -> bool {
        let known = self.lowered.card.slots.get(slot);
        known.is_some_and(|slot| !states.is_empty() && states.iter().all(|state| slot.proved.contains(state)))
    }

    fn needed(&self, required: &Required) -> String {
        self.state_words(required.slot, required.states.first().copied().unwrap_or(0))
    }

    fn witness(&self) -> Option<crate::finding::Witness> {
        Some(witness(self.trail, self.chosen, self.lowered))
    }
}

/// Whether what is asked for is that something dangerous is gone and proved gone: pressure, voltage, heat.
fn is_energy_gone(slot: &Slot, required: &Required) -> bool {
    let proved = required.states.iter().all(|state| slot.proved.contains(state));
    let unknown = slot.states.first().is_some_and(|state| state == UNKNOWN);
    proved && (!unknown || slot.hazards.iter().any(|(state, _)| !required.states.contains(state)))
}
