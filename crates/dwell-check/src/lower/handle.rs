//! A verb with its item: what it changes, what it brings, what it needs, what it moves.

use super::Lowerer;
use super::words;
use crate::finding::Place;
use crate::model::{Effect, Item, Subject, Thing};
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_card::graph::Work;
use dwell_card::vehicle::{Move, Required};
use dwell_syntax::tree::{self, To};
use dwell_syntax::words::{Group, WORDS};

/// What a handle gathers before its node is made.
#[derive(Default)]
pub(super) struct Gathered {
    pub(super) work: Work,
    pub(super) hazards: Vec<(usize, Place)>,
    pub(super) needs: Vec<(Required, String, Place)>,
}

impl<'a> Lowerer<'a> {
    pub(super) fn handle(&mut self, handle: &'a tree::Handle, place: Place) {
        let Some(item) = self.item_named(&handle.item) else { return };
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        let verb = handle.verb.text.as_str();
        let has_verb = |thing: &Item| {
            thing.handlings.iter().any(|known| model.handlings.get(*known).is_some_and(|h| h.has_verb(verb)))
        };
        if !has_verb(thing) {
            return self.no_such_verb(handle, thing, place);
        }
        let places = self.handled_places(handle, item, place);
        let mut gathered = Gathered::default();
        self.verb_moves(&mut gathered, verb, item, &places, true);
        let lost = gathered.work.brings.len();
        for at in &places {
            self.verb_effects(&mut gathered, verb, item, *at, place);
        }
        let target = self.target(handle, item, verb, place, &mut gathered);
        self.partners(&mut gathered, verb, item, target);
        gathered.work.verb = Some(verb.to_owned());
        gathered.work.text = told(self.spoken_if(handle.text.as_ref()), thing, verb);
        gathered.needs.extend(self.set_needs(&handle.with));
        if let Some(spec) = self.staged_by(handle, thing) {
            for node in self.stages(handle, spec, &places, gathered, lost, place) {
                self.note_moved(node, verb, thing, &places);
                self.note_checked(node, verb, item, &places);
                self.note_signed(node, verb, thing);
            }
            return;
        }
        let mut work = gathered.work;
        self.readied(&mut work, item, verb);
        let taken: Vec<(String, Option<usize>)> =
            handle.with.iter().filter_map(|name| self.taken_along(name)).collect();
        work.tools = taken.iter().filter_map(|(_, tool)| *tool).collect();
        if let Some(target) = target {
            self.fitting(handle, item, target);
        }
        let computed = self.to_computed(handle);
        match computed {
            Some(name) => self.set_to_worked_out(handle, name, thing, &mut work, place),
            None => self.setting(handle, thing, &mut work, place),
        }
        let target_label =
            target.and_then(|target| model.items.get(target)).map(|thing| thing.label.as_str());
        let written = work.limit.and_then(|limit| self.out.card.limits.get(limit)).map(|limit| {
            let choice = limit.check.first().map(|choice| choice.written.clone());
            if limit.check.len() == 1 { choice.unwrap_or_default() } else { String::new() }
        });
        let written = work.worked_out.as_ref().map(Self::worked_out_in_words).or(written);
        let where_at = self.where_at(handle, &places, thing);
        let with: Vec<String> = taken.into_iter().map(|(label, _)| label).collect();
        work.says =
            words::handle(verb, &thing.label, where_at.as_deref(), target_label, written.as_deref(), &with);
        let node = self.work(work, gathered.hazards, gathered.needs, place);
        self.note_moved(node, verb, thing, &places);
        self.note_checked(node, verb, item, &places);
        self.note_signed(node, verb, thing);
        if let Some(name) = computed {
            self.without_value(node, handle, name, place);
        }
    }

    /// The places that the verb is done at.
    fn handled_places(&mut self, handle: &'a tree::Handle, item: usize, place: Place) -> Vec<Option<usize>> {
        if let Some(at) = &handle.at {
            let file = self.file();
            let positions = self.model.items.get(item).and_then(|thing| thing.at_each);
            let set = positions.and_then(|set| self.model.positions.get(set));
            return match set.map(|set| (set, set.values.iter().position(|value| *value == at.text))) {
                Some((_, Some(value))) => vec![Some(value)],
                Some((set, None)) => {
                    self.troubles.push(Trouble::NotFound {
                        place: Place { file, span: at.span },
                        name: at.text.clone(),
                        what: "a place of this item",
                        near: set.values.clone(),
                        elsewhere: None,
                    });
                    Vec::new()
                }
                None => vec![None],
            };
        }
        if let Some(each) = &handle.at_each {
            let found = names::look_up(self.model, self.file(), each, "a set of positions", |thing| {
                matches!(thing, Thing::Positions(_))
            });
            if let Err(trouble) = found {
                self.troubles.push(trouble);
            }
        }
        self.places_of(item, None, place, handle.at_each.is_some())
    }

    fn verb_moves(
        &mut self,
        gathered: &mut Gathered,
        verb: &str,
        item: usize,
        places: &[Option<usize>],
        own: bool,
    ) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        for at in places {
            for (index, known) in thing.handlings.iter().enumerate() {
                let Some(handling) = model.handlings.get(*known).filter(|handling| handling.has_verb(verb))
                else {
                    continue;
                };
                let Some(slot) = self.slot(item, *at, index) else { continue };
                if own {
                    gathered.work.own.push(slot);
                }
                for (_, from, to) in handling.verbs.iter().filter(|(name, _, _)| name == verb) {
                    gathered.work.moves.push(Move { slot, from: from.clone(), to: *to, when: Vec::new() });
                }
            }
            self.proofs_lost(gathered, verb, item, *at);
            for (state, _, _) in thing.lasts.iter().filter(|(_, _, after)| after.as_deref() == Some(verb)) {
                gathered.work.clocks.extend(self.slot(item, *at, state.handling));
            }
        }
    }

    /// A proof is lost when anything is done to the thing, unless it is said how long the state lasts.
    fn proofs_lost(&mut self, gathered: &mut Gathered, verb: &str, item: usize, at: Option<usize>) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        for (index, known) in thing.handlings.iter().enumerate() {
            let Some(handling) = model.handlings.get(*known).filter(|handling| !handling.has_verb(verb))
            else {
                continue;
            };
            for (from, to) in handling.proofs.iter().filter(|(_, to)| handling.proved(*to)) {
                let lasts =
                    thing.lasts.iter().any(|(state, _, _)| (state.handling, state.state) == (index, *to));
                let back = from.iter().copied().find(|from| !handling.proved(*from));
                let (false, Some(back), Some(slot)) = (lasts, back, self.slot(item, at, index)) else {
                    continue;
                };
                gathered.work.brings.push(Move { slot, from: vec![*to], to: back, when: Vec::new() });
            }
        }
    }

    fn brought_slots(
        &mut self,
        other: crate::model::StateRef,
        at: Option<usize>,
        place: Place,
    ) -> Vec<usize> {
        let mut other = other;
        if other.at.is_none() && at.is_some() {
            let has_places = self.model.items.get(other.item).is_some_and(|thing| thing.at_each.is_some());
            other.at = at.filter(|_| has_places);
        }
        self.slots_of_state(other, place)
    }

    /// What the verb brings and needs.
    fn verb_effects(
        &mut self,
        gathered: &mut Gathered,
        verb: &str,
        item: usize,
        at: Option<usize>,
        place: Place,
    ) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        for brought in &thing.brings {
            if brought.subject != Subject::Verb(verb.to_owned()) {
                continue;
            }
            let guards = self.guards(&brought.when, brought.place);
            match brought.effect {
                Effect::Hazard(hazard) => {
                    let hazard = self.hazard(hazard);
                    gathered.hazards.push((hazard, brought.place));
                }
                Effect::State(other) => {
                    for slot in self.brought_slots(other, at, brought.place) {
                        self.bring_state(&mut gathered.work, slot, other.state, guards.clone());
                    }
                }
            }
        }
        for need in thing.needs.iter().filter(|need| need.verb == verb) {
            let when = self.guards(&need.when, need.place);
            for slot in self.brought_slots(need.state, at, place) {
                let by = format!("to {} the {}", words::plain(verb), thing.label);
                let required = Required { slot, states: vec![need.state.state], when: when.clone() };
                gathered.needs.push((required, by, need.place));
            }
        }
    }

    /// What stands after `to`, where it is a thing: it moves as well where the verb starts from its normal state.
    fn target(
        &mut self,
        handle: &'a tree::Handle,
        item: usize,
        verb: &str,
        place: Place,
        gathered: &mut Gathered,
    ) -> Option<usize> {
        let Some(To::Name(name)) = &handle.to else { return None };
        if self.is_computed(name) || self.set_to_one_value(name) {
            return None;
        }
        let found = names::look_up(self.model, self.file(), name, "an item or a spec", |thing| {
            matches!(thing, Thing::Item(_) | Thing::Tool(_) | Thing::Spec(_) | Thing::Table(_))
        });
        let target = match found {
            Ok(Thing::Item(target) | Thing::Tool(target)) => target,
            Ok(_) => return None,
            Err(trouble) => {
                self.troubles.push(trouble);
                return None;
            }
        };
        let thing = self.model.items.get(target)?;
        let there = self.places_of(target, None, place, true);
        for (index, known) in thing.handlings.iter().enumerate() {
            let Some(handling) = self.model.handlings.get(*known) else { continue };
            let fits = handling.verbs.iter().any(|(name, from, _)| name == verb && from.contains(&0));
            if !fits {
                continue;
            }
            for at in &there {
                let Some(slot) = self.slot(target, *at, index) else { continue };
                for (_, from, to) in handling.verbs.iter().filter(|(name, _, _)| name == verb) {
                    gathered.work.moves.push(Move { slot, from: from.clone(), to: *to, when: Vec::new() });
                }
                let back: Vec<String> = handling
                    .verbs
                    .iter()
                    .filter(|(_, _, to)| *to == 0)
                    .map(|(name, _, _)| name.clone())
                    .collect();
                self.out.partners.entry(slot).or_default().extend(&gathered.work.own);
                let taken = self.taken.entry(item).or_default();
                for verb in back {
                    if !taken.contains(&(slot, verb.clone())) {
                        taken.push((slot, verb));
                    }
                }
            }
        }
        for at in there {
            self.verb_effects(gathered, verb, target, at, place);
            self.proofs_lost(gathered, verb, target, at);
        }
        Some(target)
    }

    /// What a thing was connected to is free again when it comes off.
    fn partners(&mut self, gathered: &mut Gathered, verb: &str, item: usize, target: Option<usize>) {
        if target.is_some() {
            return;
        }
        let slots: Vec<usize> = self
            .taken
            .get(&item)
            .into_iter()
            .flatten()
            .filter(|(_, back)| back == verb)
            .map(|(slot, _)| *slot)
            .collect();
        for slot in slots {
            self.bring_state(&mut gathered.work, slot, 0, Vec::new());
            let Some(partner) = self.out.slot_items.get(slot).copied() else { continue };
            let place = self.model.items.get(partner).map(|thing| thing.place).unwrap_or_default();
            self.verb_effects(gathered, verb, partner, None, place);
        }
    }

    /// The band that it is set to: after `to`, or the item's own torque.
    fn setting(&mut self, handle: &'a tree::Handle, thing: &Item, work: &mut Work, place: Place) {
        let torque = dwell_quantity::Kind::named("torque").map(crate::model::QuantityRef::Kind);
        work.limit = match &handle.to {
            Some(To::Band(band)) => {
                let file = self.file();
                torque
                    .and_then(|torque| resolve::band(self.model, file, band, torque, self.troubles))
                    .zip(torque)
                    .map(|(band, torque)| self.limit_on_the_spot(&band, torque))
            }
            Some(To::Name(name)) => {
                match self.model.scopes.get(self.file()).and_then(|s| s.names.get(&name.text)) {
                    Some(Thing::Spec(spec) | Thing::Table(spec)) => {
                        self.uses_spec(*spec, self.place(name.span));
                        self.limit(*spec, place)
                    }
                    _ => None,
                }
            }
            None if handle.verb.text == "tighten" => thing.torque.and_then(|spec| {
                self.uses_spec(spec, place);
                self.limit(spec, place)
            }),
            None => None,
        };
        let Some(limit) = work.limit else { return };
        let torque = self.out.card.limits.get(limit).is_some_and(|limit| limit.kind == "torque");
        work.leverage = if torque { self.leverage(&handle.with, place) } else { None };
        for name in &handle.with {
            self.tool_sets(name, limit, work.leverage.as_ref());
        }
        let declared = thing.torque.and_then(|spec| self.model.specs.get(spec)).map(|spec| spec.place);
        self.torque_has_tool(&handle.with, limit, &thing.label, place, declared);
    }

    pub(super) fn where_at(
        &self,
        handle: &tree::Handle,
        places: &[Option<usize>],
        thing: &Item,
    ) -> Option<String> {
        if let Some(each) = &handle.at_each {
            return Some(format!("at each {}", words::plain(&each.text)));
        }
        let [Some(value)] = places else { return None };
        self.model.positions.get(thing.at_each?)?.values.get(*value).map(|value| format!("({value})"))
    }

    fn note_moved(&mut self, node: usize, verb: &str, thing: &Item, places: &[Option<usize>]) {
        for moves in thing.moves.iter().filter(|moves| moves.verb == verb) {
            for at in places {
                let at = thing.at_each.zip(*at);
                self.moved.push((node, moves.quantity, at));
            }
        }
    }

    fn no_such_verb(&mut self, handle: &tree::Handle, thing: &Item, place: Place) {
        let handlings = || thing.handlings.iter().filter_map(|known| self.model.handlings.get(*known));
        let verbs: Vec<String> =
            handlings().flat_map(|known| known.verbs.iter().map(|(verb, _, _)| verb.clone())).collect();
        let goes_on_once = verbs.iter().any(|verb| verb == "renew");
        let puts_back =
            matches!(handle.verb.text.as_str(), "refit" | "fit" | "connect" | "insert" | "tighten");
        if goes_on_once && puts_back {
            return self.troubles.push(Trouble::SingleUseRefitted {
                place,
                verb: handle.verb.text.clone(),
                item: thing.label.clone(),
                off: None,
                witness: None,
            });
        }
        let statements = WORDS.iter().filter(|word| word.group() == Group::Statement).map(|word| word.text());
        let mut near = names::near(&handle.verb.text, statements);
        near.extend(verbs.into_iter().filter(|verb| !near.contains(verb)).collect::<Vec<_>>());
        self.troubles.push(Trouble::NotFound {
            place: self.place(handle.verb.span),
            name: handle.verb.text.clone(),
            what: "an action of this item",
            near,
            elsewhere: None,
        });
    }
}

/// What the technician is told: the text of the statement, and from which side to come to it where the verb has play.
fn told(text: Option<String>, thing: &Item, verb: &str) -> Option<String> {
    let plays = thing.plays.iter().filter(|play| play.verb == verb);
    let sides = plays.filter_map(|play| play.told.clone());
    let sides = sides.filter(|side| text.as_ref().is_none_or(|text| !text.contains(side.as_str())));
    let all: Vec<String> = text.clone().into_iter().chain(sides).collect();
    (!all.is_empty()).then(|| all.join(" "))
}
