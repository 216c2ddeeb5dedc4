//! Procedures: needs, steps, what is performed inside, and the one way out of each.

use super::{FrameWork, Lowerer, MOST_NODES, words};
use crate::finding::Place;
use crate::model::{Thing, When};
use crate::trouble::{Trouble, Unproved};
use crate::{names, resolve};
use dwell_card::graph::{Act, End, Outcome, Way};
use dwell_card::vehicle::Required;
use dwell_card::{Axis, Frame, Revision};
use dwell_syntax::tree::{self, Part};
use std::collections::HashMap;

impl<'a> Lowerer<'a> {
    /// Lowers the procedure as frame 0.
    pub(super) fn whole(&mut self, procedure: usize) -> Option<()> {
        let model = self.model;
        let head = model.procedures.get(procedure)?;
        let declared = self.declaration(procedure)?;
        let file = head.place.file;
        self.out.card.procedure = declared.name.text.clone();
        self.out.card.title = words::title(declared.title.as_ref(), &declared.name);
        self.out.card.withdrawn = Self::withdrawn(head.withdrawn.as_ref());
        self.out.card.guarded = self.model.house.guarded;
        for part in &declared.parts {
            match part {
                Part::Revision { number, date, why, .. } => {
                    self.out.card.revision = Some(Revision {
                        number: number.value,
                        date: date.text.clone(),
                        why: why.as_ref().map(|why| why.text.clone()),
                    });
                }
                Part::Decide { guarded, .. } => self.out.card.guarded = *guarded,
                Part::Applies(choice) => self.applies_to(file, choice),
                _ => {}
            }
        }
        for (variant, _) in self.applies.clone() {
            self.axis(variant);
        }
        self.procedure(procedure, head.place)?;
        self.add_made(Act::Finish, head.place);
        self.loose.clear();
        Some(())
    }

    pub(super) fn declaration(&self, procedure: usize) -> Option<&'a tree::Procedure> {
        let head = self.model.procedures.get(procedure)?;
        let file = self.program.files.get(head.place.file)?;
        match &file.tree.declarations.get(head.declaration)?.kind {
            tree::DeclarationKind::Procedure(declared) => Some(declared),
            _ => None,
        }
    }

    fn applies_to(&mut self, file: usize, choice: &tree::Choice) {
        let found = names::look_up(self.model, file, &choice.name, "a variant", |thing| {
            matches!(thing, Thing::Variant(_))
        });
        let variant = match found {
            Ok(Thing::Variant(variant)) => variant,
            Ok(_) => return,
            Err(trouble) => return self.troubles.push(trouble),
        };
        let Some(declared) = self.model.variants.get(variant) else { return };
        let values = choice.values.iter();
        let values =
            values.filter_map(|value| resolve::told(resolve::value_of(file, declared, value), self.troubles));
        let values = values.collect();
        self.applies.push((variant, values));
    }

    /// The axis of a variant, added when it is first met.
    pub(super) fn axis(&mut self, variant: usize) -> usize {
        if let Some(axis) = self.axes.get(&variant) {
            return *axis;
        }
        let axis = self.out.card.axes.len();
        let declared = self.model.variants.get(variant);
        let all = declared.map(|declared| declared.values.clone()).unwrap_or_default();
        let values = match self.applies.iter().find(|(known, _)| *known == variant) {
            Some((_, places)) => places.iter().filter_map(|place| all.get(*place).cloned()).collect(),
            None => all,
        };
        let name = declared.map(|declared| declared.name.clone()).unwrap_or_default();
        self.out.card.axes.push(Axis { name, values });
        self.axes.insert(variant, axis);
        axis
    }

    /// One procedure as a frame; `from` is the text that performs it. Afterwards only the passed way is loose for a
    /// performed one, and its other ways are the caller's business.
    pub(super) fn procedure(&mut self, procedure: usize, from: Place) -> Option<usize> {
        let declared = self.declaration(procedure)?;
        let file = self.model.procedures.get(procedure)?.place.file;
        let index = self.out.card.frames.len();
        let within = self.frames.last().map(|frame| frame.index);
        self.out.card.frames.push(Frame {
            procedure: declared.name.text.clone(),
            title: words::title(declared.title.as_ref(), &declared.name),
            withdrawn: within
                .and_then(|_| Self::withdrawn(self.model.procedures.get(procedure)?.withdrawn.as_ref())),
            within,
            leaves: Vec::new(),
            unzeroes: Vec::new(),
        });
        self.out.frame_places.push(from);
        self.frames.push(FrameWork {
            bands: std::collections::HashMap::new(),
            index,
            file,
            procedure,
            step: None,
            readings: HashMap::new(),
            measured: HashMap::new(),
            questions: HashMap::new(),
            steps: HashMap::new(),
            step_places: HashMap::new(),
            doing: Vec::new(),
            done: Vec::new(),
            ahead: Vec::new(),
            cautions: vec![Vec::new()],
            inner_cautions: Vec::new(),
            judging: Vec::new(),
            holds: Vec::new(),
            bound: Vec::new(),
            exit: 0,
            close: 0,
            in_restore: false,
        });
        let name_place = self.place(declared.name.span);
        self.add_made(Act::Open, name_place);
        let exit = self.aside(Act::Uncover { cautions: Vec::new() }, name_place, true);
        let close = self.aside(Act::Close, name_place, true);
        if let Some(frame) = self.frame() {
            frame.exit = exit;
            frame.close = close;
        }
        self.needs(declared);
        self.leaves(declared, index);
        for part in &declared.parts {
            match part {
                Part::Keep(keep, span) => self.keep(keep, *span),
                Part::Statement(statement) => self.statement(statement),
                Part::Step(step) => self.step(step),
                _ => {}
            }
        }
        self.join(exit);
        self.forward_jumps();
        self.restore(declared, exit, close);
        self.frames.pop();
        self.loose = vec![(close, if within.is_some() { Way::Passed } else { Way::Then })];
        Some(index)
    }

    fn needs(&mut self, declared: &'a tree::Procedure) {
        let all = declared.parts.iter().filter_map(|part| match part {
            Part::Needs(needs, _) => Some(needs),
            _ => None,
        });
        let all: Vec<&tree::Need> = all.flatten().collect();
        let plain = all.iter().filter(|need| need.by.is_none());
        let brought = all.iter().filter(|need| need.by.is_some());
        for need in plain.chain(brought) {
            self.need(need);
        }
    }

    fn need(&mut self, need: &'a tree::Need) {
        let file = self.file();
        let Some(state) = resolve::state(self.model, file, &need.state, self.troubles) else { return };
        let place = self.place(need.state.span);
        for slot in self.slots_of_state(state, place) {
            let Some(known) = self.out.card.slots.get(slot) else { continue };
            let proved = known.proved.contains(&state.state);
            let says =
                words::state_sentence(&known.label, known.states.get(state.state).map_or("", String::as_str));
            let required = Required { slot, states: vec![state.state], when: Vec::new() };
            let unproved = proved && need.by.is_none();
            if unproved {
                self.troubles.push(Trouble::ProofMissing {
                    place,
                    state: words::lower_first(&says),
                    how: Unproved::Asked,
                    related: None,
                    witness: None,
                });
            }
            // What is asked without its proof is at least asked, so that the rest is walked through.
            let proved = proved && !unproved;
            let asked = self.add(Act::Need { required: required.clone(), says: says.clone(), proved }, place);
            self.loose = vec![(asked, Way::No)];
            match &need.by {
                Some(by) => self.brought_about(by, required, &says, place),
                None => self.ended(
                    Outcome::Unfinished,
                    Some(format!("Not ready: first see to it that {}", words::lower_first(&says))),
                    place,
                ),
            }
            self.loose.push((asked, Way::Yes));
        }
    }

    fn brought_about(&mut self, by: &'a tree::Name, required: Required, says: &str, place: Place) {
        let file = self.file();
        let found =
            names::look_up(self.model, file, by, "a procedure", |thing| matches!(thing, Thing::Procedure(_)));
        match found {
            Ok(Thing::Procedure(procedure)) => {
                self.uses_procedure(procedure, by);
                let from = self.place(by.span);
                if let Some(frame) = self.performed(procedure, from, &[]) {
                    self.out.ensures.insert(frame, (required, place, says.to_owned()));
                }
            }
            Ok(_) => {}
            Err(trouble) => {
                self.troubles.push(trouble);
                self.ended(Outcome::Unfinished, None, place);
            }
        }
    }

    /// Whether so much is performed already that no more can be; it is told.
    pub(super) fn is_too_large(&mut self, from: Place) -> bool {
        let is = self.out.card.nodes.len() > MOST_NODES;
        if is {
            self.cannot(
                from,
                "this procedure performs too much inside itself",
                "perform fewer procedures, or refer to them",
            );
        }
        is
    }

    /// Performs a procedure here: its ways other than passed end the caller in the same way, or go to `arms`.
    pub(super) fn performed(
        &mut self,
        procedure: usize,
        from: Place,
        arms: &'a [tree::Arm],
    ) -> Option<usize> {
        if let Some(first) = self.frames.iter().position(|frame| frame.procedure == procedure) {
            let circle = self.frames.iter().skip(first).map(|frame| frame.procedure).chain([procedure]);
            let names: Vec<String> = circle
                .filter_map(|procedure| self.model.procedures.get(procedure))
                .map(|known| known.name.clone())
                .collect();
            self.troubles.push(Trouble::PerformCycle { place: from, names });
            return None;
        }
        if self.is_too_large(from) {
            self.ended(Outcome::Unfinished, None, from);
            return None;
        }
        if self.frames.last().is_some_and(|frame| !frame.holds.is_empty()) {
            self.cannot(
                from,
                "a procedure that is performed while something is kept",
                "perform it before or after the `keep`: it has a `restore` of its own, which is left out when what is kept is lost",
            );
        }
        let title =
            self.declaration(procedure).map(|known| words::title(known.title.as_ref(), &known.name))?;
        let frame = self.procedure(procedure, from)?;
        let passed = std::mem::take(&mut self.loose);
        let close = passed.first().map(|(node, _)| *node)?;
        let mut after = passed;
        let ways = [
            (Way::Failed, Outcome::Failed),
            (Way::Unfinished, Outcome::Unfinished),
            (Way::Referred, Outcome::Referred),
        ];
        if let Some(arm) = arms.iter().find(|arm| arm.side.is_none()) {
            self.loose = ways.iter().map(|(way, _)| (close, *way)).collect();
            self.block(&arm.block);
            after.append(&mut self.loose);
        } else {
            for (way, outcome) in ways {
                self.loose = vec![(close, way)];
                self.ended(outcome, Some(format!("{title}: {}.", words::outcome(outcome))), from);
                after.append(&mut self.loose);
            }
        }
        self.loose = after;
        Some(frame)
    }

    fn leaves(&mut self, declared: &'a tree::Procedure, index: usize) {
        for part in &declared.parts {
            let Part::Leaves(states, _) = part else { continue };
            for state in states {
                let file = self.file();
                let Some(known) = resolve::state(self.model, file, state, self.troubles) else { continue };
                let place = self.place(state.span);
                for slot in self.slots_of_state(known, place) {
                    if let Some(frame) = self.out.card.frames.get_mut(index) {
                        frame.leaves.push((slot, known.state));
                    }
                    self.out.left_at.insert((index, slot), place);
                }
            }
        }
    }

    fn step(&mut self, step: &'a tree::Step) {
        let place = self.place(step.name.span);
        let twice = self.frames.last().is_some_and(|frame| frame.steps.contains_key(&step.name.text));
        if let (true, Some(frame)) = (twice, self.frame()) {
            frame.step_places.remove(&step.name.text);
        }
        let index = self.step_place(step);
        if let Some(frame) = self.frame() {
            frame.step = Some(index);
        }
        let node = self.add(Act::Step { step: index }, place);
        let twice = self.frame().and_then(|frame| frame.steps.insert(step.name.text.clone(), (node, index)));
        if let Some((first, _)) = twice {
            let first = self.out.places.get(first).copied().unwrap_or_default();
            self.troubles.push(Trouble::DeclaredTwice { place, name: step.name.text.clone(), first });
        }
        self.step_block(step, place);
        if let Some(frame) = self.frame() {
            frame.step = None;
        }
    }

    fn forward_jumps(&mut self) {
        let Some(frame) = self.frames.last_mut() else { return };
        let ahead = std::mem::take(&mut frame.ahead);
        let steps = frame.steps.clone();
        for (from, way, name) in ahead {
            match steps.get(&name.text) {
                Some((node, _)) => self.link(from, way, *node),
                None => {
                    let place = self.place(name.span);
                    let near = names::near(&name.text, steps.keys().map(String::as_str));
                    self.troubles.push(Trouble::NotFound {
                        place,
                        name: name.text.clone(),
                        what: "a step",
                        near,
                        elsewhere: None,
                    });
                    let close = self.frames.last().map_or(0, |frame| frame.close);
                    self.link(from, way, close);
                }
            }
        }
    }

    fn restore(&mut self, declared: &'a tree::Procedure, exit: usize, close: usize) {
        let inner = self.frames.last().map(|frame| frame.inner_cautions.clone()).unwrap_or_default();
        if let Some(Act::Uncover { cautions }) = self.act_mut(exit) {
            *cautions = inner;
        }
        self.loose = vec![(exit, Way::Then)];
        let found = declared.parts.iter().find_map(|part| match part {
            Part::Restore { block, signed, span } => Some((block, *signed, *span)),
            _ => None,
        });
        let place = found.map_or(self.place(declared.name.span), |(_, _, span)| self.place(span));
        if let Some(frame) = self.frame() {
            frame.in_restore = true;
        }
        self.add_made(Act::Restore, place);
        if let Some((block, signed, _)) = found {
            self.block(block);
            self.signed(signed, place);
        }
        self.join(close);
    }

    /// The signatures at the end of a step or of `restore`; who leaves it before has nothing to sign.
    pub(super) fn signed(&mut self, persons: u8, place: Place) {
        let here = self.frames.last().map(|frame| (frame.index, frame.step));
        if let (Some(here), true) = (here, persons > 0) {
            self.out.signing.insert(here, persons);
        }
        if persons > 0 && !self.loose.is_empty() {
            self.add(Act::Sign { persons: u32::from(persons) }, place);
        }
    }

    /// The procedure's outcome is settled here although no statement says so; the rest is `restore`. Inside `restore` the
    /// rest of it is still done, and the way on is loose: nothing may stay off because something else went wrong.
    pub(super) fn ended(&mut self, outcome: Outcome, text: Option<String>, place: Place) {
        let end = End { outcome, text, refer: None, in_restore: false };
        if self.frames.last().is_some_and(|frame| frame.in_restore) {
            self.add_made(Act::End(end), place);
            return;
        }
        self.end(end, place, true);
    }

    pub(super) fn end(&mut self, mut end: End, place: Place, made: bool) {
        let (exit, close, in_restore) =
            self.frames.last().map_or((0, 0, false), |frame| (frame.exit, frame.close, frame.in_restore));
        end.in_restore = in_restore;
        let node = if made { self.add_made(Act::End(end), place) } else { self.add(Act::End(end), place) };
        self.loose.clear();
        self.link(node, Way::Then, if in_restore { close } else { exit });
    }

    /// Whether a declaration's condition on positions fits the places in hand; others are left to the card.
    pub(super) fn fits_here(&self, when: &[When]) -> bool {
        let bound = self.frames.last().map(|frame| frame.bound.as_slice()).unwrap_or_default();
        when.iter().all(|when| match when {
            When::Position(positions, values) => {
                bound.iter().filter(|(set, _)| set == positions).all(|(_, value)| values.contains(value))
            }
            _ => true,
        })
    }
}
