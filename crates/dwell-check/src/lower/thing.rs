//! Items, tools and hazards on the card: one slot for each place and handling.

use super::Lowerer;
use crate::finding::Place;
use crate::model::{Effect, StateRef, Subject, Thing, When};
use crate::names;
use dwell_card::graph::{Act, Work};
use dwell_card::number::Num;
use dwell_card::vehicle::{Guard, Hazard, Lapse, Move, Required, Slot};
use dwell_syntax::tree;

impl<'a> Lowerer<'a> {
    /// The slot of a thing, at one of its places, in one of its handlings; added when it is first met.
    pub(super) fn slot(&mut self, item: usize, at: Option<usize>, handling: usize) -> Option<usize> {
        if let Some(slot) = self.slots.get(&(item, at, handling)) {
            return Some(*slot);
        }
        let model = self.model;
        let thing = model.items.get(item)?;
        let known = model.handlings.get(*thing.handlings.get(handling)?)?;
        let place_name = at.and_then(|at| model.positions.get(thing.at_each?)?.values.get(at).cloned());
        let label = match &place_name {
            Some(place) => format!("{} ({place})", thing.label),
            None => thing.label.clone(),
        };
        let own = thing.may_stay.iter().filter(|(of, _)| *of == handling).map(|(_, state)| *state);
        let slot = self.out.card.slots.len();
        self.slots.insert((item, at, handling), slot);
        self.out.slot_items.push(item);
        self.out.verbs.push(known.verbs.clone());
        self.out.card.slots.push(Slot {
            item: thing.name.clone(),
            at: place_name,
            handling: known.name.clone(),
            label,
            located: thing.located.clone(),
            states: known.states.clone(),
            proved: (0..known.states.len()).filter(|state| known.proved(*state)).collect(),
            may_stay: known.may_stay.iter().copied().chain(own).collect(),
            hazards: Vec::new(),
            lasts: Vec::new(),
            ripens: self.ripening(thing, handling),
            tool: thing.tool.is_some(),
        });
        self.lasting_states(slot, item, at, handling);
        for brought in &thing.brings {
            let (Subject::State(of, state), Effect::Hazard(hazard)) = (&brought.subject, brought.effect)
            else {
                continue;
            };
            if *of == handling {
                let hazard = self.hazard(hazard);
                if let Some(slot) = self.out.card.slots.get_mut(slot) {
                    slot.hazards.push((*state, hazard));
                }
                self.out.hazard_of_state.insert((slot, *state, hazard), brought.place);
            }
        }
        Some(slot)
    }

    /// The states of a slot that last for a time only.
    fn lasting_states(&mut self, slot: usize, item: usize, at: Option<usize>, handling: usize) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        for (state, seconds, after) in thing.lasts.iter().filter(|(state, _, _)| state.handling == handling) {
            let mut resting = None;
            for (index, known) in thing.handlings.iter().enumerate() {
                let Some(other) = model.handlings.get(*known) else { continue };
                let leads: Vec<usize> = other
                    .verbs
                    .iter()
                    .filter(|(verb, _, _)| Some(verb) == after.as_ref())
                    .map(|(_, _, to)| *to)
                    .collect();
                if !leads.is_empty() {
                    resting = self.slot(item, at, index).map(|slot| (slot, leads));
                }
            }
            let lapse = Lapse { state: state.state, seconds: Num(seconds.clone()), resting };
            if let Some(slot) = self.out.card.slots.get_mut(slot) {
                slot.lasts.push(lapse);
            }
        }
    }

    /// The slots that a state speaks of: one, or one for each place of the thing. `place` is where it is written.
    pub(super) fn slots_of_state(&mut self, state: StateRef, place: Place) -> Vec<usize> {
        let places = self.places_of(state.item, state.at, place, true);
        places.into_iter().filter_map(|at| self.slot(state.item, at, state.handling)).collect()
    }

    /// The places of a thing that are meant here: the one in hand, the one that is named, or (where `all` will do) each.
    pub(super) fn places_of(
        &mut self,
        item: usize,
        at: Option<usize>,
        place: Place,
        all: bool,
    ) -> Vec<Option<usize>> {
        let Some(thing) = self.model.items.get(item) else { return Vec::new() };
        let Some(positions) = thing.at_each else { return vec![None] };
        if at.is_some() {
            return vec![at];
        }
        let bound = self.frames.last().and_then(|frame| {
            frame.bound.iter().rev().find(|(set, _)| *set == positions).map(|(_, value)| *value)
        });
        if bound.is_some() {
            return vec![bound];
        }
        let Some(set) = self.model.positions.get(positions) else { return Vec::new() };
        if !all {
            let help = format!("write `at each {}`, or name the place", set.name);
            let what = format!("the {} is there more than once: which one?", thing.label);
            self.cannot(place, what, help);
        }
        (0..set.values.len()).map(Some).collect()
    }

    /// The hazard's place on the card.
    pub(super) fn hazard(&mut self, hazard: usize) -> usize {
        if let Some(known) = self.hazards.get(&hazard) {
            return *known;
        }
        let place = self.out.card.hazards.len();
        self.hazards.insert(hazard, place);
        if let Some(declared) = self.model.hazards.get(hazard) {
            self.out.card.hazards.push(Hazard {
                name: declared.name.clone(),
                level: declared.level,
                text: declared.text.clone(),
            });
        }
        place
    }

    /// A declaration's condition on variants and states, as the card says it.
    pub(super) fn guards(&mut self, when: &[When], place: Place) -> Vec<Guard> {
        let mut guards = Vec::new();
        for when in when {
            match when {
                When::Position(..) => {}
                When::Variant(variant, values) => {
                    let axis = self.axis(*variant);
                    let all =
                        self.model.variants.get(*variant).map(|known| known.values.as_slice()).unwrap_or(&[]);
                    let there =
                        self.out.card.axes.get(axis).map(|axis| axis.values.as_slice()).unwrap_or(&[]);
                    let values = values
                        .iter()
                        .filter_map(|value| all.get(*value))
                        .filter_map(|value| there.iter().position(|known| known == value))
                        .collect();
                    guards.push(Guard::Variant { axis, values });
                }
                When::State(states) => {
                    let Some(first) = states.first().copied() else { continue };
                    for slot in self.slots_of_state(first, place) {
                        guards.push(Guard::State {
                            slot,
                            states: states.iter().map(|state| state.state).collect(),
                        });
                    }
                }
            }
        }
        guards
    }

    /// Adds that `slot` comes into `state` beside the work itself. A state brings no other state, so that is all.
    pub(super) fn bring_state(&mut self, work: &mut Work, slot: usize, state: usize, when: Vec<Guard>) {
        work.brings.push(Move { slot, from: Vec::new(), to: state, when });
    }

    /// Adds a working node. `hazards` are those of the moment, `needs` who needs what, each with where it is declared.
    pub(super) fn work(
        &mut self,
        mut work: Work,
        hazards: Vec<(usize, Place)>,
        needs: Vec<(Required, String, Place)>,
        place: Place,
    ) -> usize {
        work.if_owed = self.frames.last().is_some_and(|frame| frame.in_restore) && !work.own.is_empty();
        for (hazard, _) in &hazards {
            if !work.hazards.contains(hazard) {
                work.hazards.push(*hazard);
            }
        }
        work.needs = needs.iter().map(|(required, _, _)| required.clone()).collect();
        let node = self.add(Act::Work(work), place);
        for (hazard, declared) in hazards {
            self.out.hazard_of_node.insert((node, hazard), declared);
        }
        for (place, (_, by, declared)) in needs.into_iter().enumerate() {
            self.out.needed_by.insert((node, place), (by, declared));
        }
        node
    }

    /// The item or tool that a name means, or a trouble.
    pub(super) fn item_named(&mut self, name: &tree::Name) -> Option<usize> {
        let found = names::look_up(self.model, self.file(), name, "an item or a tool", |thing| {
            matches!(thing, Thing::Item(_) | Thing::Tool(_))
        });
        match found {
            Ok(Thing::Item(item) | Thing::Tool(item)) => Some(item),
            Ok(_) => None,
            Err(trouble) => {
                self.troubles.push(trouble);
                None
            }
        }
    }

    /// What people call the thing of that name.
    pub(super) fn thing_label(&mut self, name: &tree::Name) -> String {
        let item = self.item_named(name);
        item.and_then(|item| self.model.items.get(item))
            .map_or_else(|| name.text.clone(), |item| item.label.clone())
    }
}
