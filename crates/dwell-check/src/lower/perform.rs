//! `perform`: another procedure, or a step of this one whose block is done again here.

use super::Lowerer;
use super::words;
use crate::finding::Place;
use crate::trouble::Trouble;
use dwell_card::Step;
use dwell_card::graph::Act;
use dwell_syntax::tree::{self, Part};

impl<'a> Lowerer<'a> {
    /// `perform NAME`: a step of this procedure where one has the name, otherwise a procedure.
    pub(super) fn perform(&mut self, what: &tree::Name, arms: &'a [tree::Arm], place: Place) {
        let own = self.frames.last().map(|frame| frame.procedure).and_then(|own| self.declaration(own));
        let step = own.into_iter().flat_map(|declared| &declared.parts).find_map(|part| match part {
            Part::Step(step) if step.name.text == what.text => Some(step),
            _ => None,
        });
        match step {
            Some(step) => self.step_again(step, what, arms, place),
            None => {
                if let Some(procedure) = self.procedure_named(what) {
                    self.performed(procedure, place, arms);
                }
            }
        }
    }

    /// The block of a step, here.
    fn step_again(&mut self, step: &'a tree::Step, what: &tree::Name, arms: &'a [tree::Arm], place: Place) {
        if let Some(arm) = arms.first() {
            let place = self.place(arm.span);
            self.cannot(
                place,
                "`otherwise` after a step that is performed",
                "take it away: a step has no end of its own; what ends in it ends the procedure",
            );
        }
        let doing = self.frames.last().map(|frame| frame.doing.clone()).unwrap_or_default();
        if let Some(first) = doing.iter().position(|known| *known == what.text) {
            let names = doing.into_iter().skip(first).chain([what.text.clone()]).collect();
            self.troubles.push(Trouble::PerformCycle { place, names });
            return;
        }
        if self.is_too_large(place) {
            return;
        }
        let before = self.frames.last().and_then(|frame| frame.step);
        let index = self.step_place(step);
        if let Some(frame) = self.frame() {
            frame.step = Some(index);
        }
        self.add(Act::Step { step: index }, place);
        self.step_block(step, place);
        if let Some(frame) = self.frame() {
            frame.step = before;
        }
        if let Some(step) = before
            && !self.loose.is_empty()
        {
            self.add_made(Act::Step { step }, place);
        }
    }

    /// The statements of a step, and who signs for them.
    pub(super) fn step_block(&mut self, step: &'a tree::Step, place: Place) {
        if let Some(frame) = self.frame() {
            frame.doing.push(step.name.text.clone());
        }
        self.block(&step.block);
        self.signed(step.signed, place);
        if let Some(frame) = self.frame() {
            frame.doing.pop();
            if !frame.done.contains(&step.name.text) {
                frame.done.push(step.name.text.clone());
            }
        }
    }

    /// The step's place on the card; one that is performed before its turn has it from then on.
    pub(super) fn step_place(&mut self, step: &tree::Step) -> usize {
        let name = &step.name.text;
        if let Some(known) = self.frames.last().and_then(|frame| frame.step_places.get(name)) {
            return *known;
        }
        let frame = self.frames.last().map_or(0, |frame| frame.index);
        let index = self.out.card.steps.len();
        let title = words::title(step.title.as_ref(), &step.name);
        self.out.card.steps.push(Step { name: name.clone(), title, frame });
        if let Some(frame) = self.frame() {
            frame.step_places.insert(name.clone(), index);
        }
        index
    }

    /// Whether the block in hand was written out before: its readings and answers are taken again.
    pub(super) fn is_repeated(&self) -> bool {
        self.frames
            .last()
            .is_some_and(|frame| frame.doing.last().is_some_and(|step| frame.done.contains(step)))
    }

    /// A step that goes back or on leads away from where it is performed.
    pub(super) fn not_performed(&mut self, jump: &str, to: &tree::Name) {
        let doing = self.frames.last().map(|frame| frame.doing.as_slice()).unwrap_or_default();
        if let [_, .., performed] = doing {
            let what =
                format!("`{jump} {}` in the step `{performed}`, which is performed elsewhere", to.text);
            let help =
                "put what is done again into a step of its own that goes nowhere else, or into a procedure";
            let place = self.place(to.span);
            self.cannot(place, what, help);
        }
    }
}
