//! `keep`: a state until `restore`, or a state or a band during a block that is left when it is lost.

use super::{Loose, Lowerer, words};
use crate::finding::Place;
use crate::resolve;
use dwell_card::graph::{Act, Held, Hold, Measure, Way};
use dwell_card::limit::Fold;
use dwell_card::vehicle::Required;
use dwell_syntax::tree::{self, Band, Keep, Kept, Span, StateOf};

/// A quantity on the card, ready to be measured at both ends of its span.
struct Meter {
    reading: usize,
    tool: usize,
    label: String,
    needs: Vec<(Required, String, Place)>,
}

impl<'a> Lowerer<'a> {
    /// `keep`, with a block or without.
    pub(super) fn keep(&mut self, keep: &'a Keep, span: Span) {
        let place = self.place(span);
        let Some(block) = &keep.block else { return self.keep_on(keep, place) };
        let in_procedure = self.frames.last().is_some_and(|frame| frame.step.is_none() && !frame.in_restore);
        if in_procedure {
            return self.cannot(
                place,
                "a `keep` with a block outside the steps",
                "put it into the step whose work it is for",
            );
        }
        let arm = match keep.otherwise.as_slice() {
            [arm] if arm.side.is_none() => arm,
            [] => {
                return self.cannot(
                    place,
                    "nothing says what to do when this is lost",
                    "add `otherwise { … }` after the block",
                );
            }
            _ => {
                return self.cannot(
                    place,
                    "`otherwise low`, `high` and `no reading` after a `keep`",
                    "write one plain `otherwise { … }`: lost is lost, whichever way",
                );
            }
        };
        match &keep.what {
            Kept::State(state) => self.keep_state(keep, state, block, arm, place),
            Kept::Quantity(name, band) => self.keep_quantity(keep, (name, band), block, arm, place),
        }
    }

    /// `keep` without a block: from here to `restore`.
    fn keep_on(&mut self, keep: &'a Keep, place: Place) {
        if !keep.otherwise.is_empty() {
            return self.cannot(
                place,
                "an `otherwise` after a `keep` without a block",
                "write what is done meanwhile: `keep … { … } otherwise { … }`",
            );
        }
        match &keep.what {
            Kept::Quantity(name, _) => {
                let place = self.place(name.span);
                self.cannot(
                    place,
                    format!("`{}` is kept, and nothing says how long", name.text),
                    "a band is held during a block: `keep … with TOOL { … } otherwise { … }`",
                );
            }
            Kept::State(state) => {
                if self.measured_state(keep) {
                    return;
                }
                let Some(known) = resolve::state(self.model, self.file(), state, self.troubles) else {
                    return;
                };
                for slot in self.slots_of_state(known, place) {
                    self.add(Act::Keep { slot, state: known.state }, place);
                }
            }
        }
    }

    /// A tool with a state that is kept: a state is not measured.
    fn measured_state(&mut self, keep: &Keep) -> bool {
        if let Some(tool) = &keep.with {
            let place = self.place(tool.span);
            self.cannot(place, "a state is not measured with a tool", "take `with` away, or keep a quantity");
        }
        keep.with.is_some()
    }

    fn keep_state(
        &mut self,
        keep: &'a Keep,
        state: &'a StateOf,
        block: &'a tree::Block,
        arm: &'a tree::Arm,
        place: Place,
    ) {
        if self.measured_state(keep) {
            return self.block(block);
        }
        let known = resolve::state(self.model, self.file(), state, self.troubles);
        let Some(known) = known else { return self.block(block) };
        let slots = self.slots_of_state(known, place);
        let states: Vec<Held> = slots
            .iter()
            .map(|slot| Held { slot: *slot, state: known.state, lost: self.follows(*slot, known.state) })
            .collect();
        let one = match slots.as_slice() {
            [one] => self.out.card.slots.get(*one).cloned(),
            _ => None,
        };
        let label = one.as_ref().map_or_else(|| self.thing_label(&state.item), |slot| slot.label.clone());
        let says = words::stays(&label, &words::plain(&state.state.text));
        let hold = Hold {
            name: state.item.text.clone(),
            at: one.and_then(|slot| slot.at),
            says,
            text: self.spoken_if(keep.text.as_ref()),
            states,
        };
        let begins = self.place(state.span);
        let lost = self.span(hold, block, None, begins);
        self.loose_after(lost, Vec::new(), arm);
    }

    /// The states that a thing may be in when it is no longer in this one: where its verbs lead from there.
    fn follows(&self, slot: usize, state: usize) -> Vec<usize> {
        let verbs = self.out.verbs.get(slot).map(Vec::as_slice).unwrap_or_default();
        let mut all: Vec<usize> = verbs
            .iter()
            .filter(|(_, from, to)| from.contains(&state) && *to != state)
            .map(|(_, _, to)| *to)
            .collect();
        if all.is_empty()
            && let Some(known) = self.out.card.slots.get(slot)
        {
            let others = (0..known.states.len()).filter(|other| *other != state);
            all.extend(others.filter(|other| !known.proved.contains(other)));
        }
        all.sort_unstable();
        all.dedup();
        all
    }

    fn keep_quantity(
        &mut self,
        keep: &'a Keep,
        (name, band): (&'a tree::Name, &'a Band),
        block: &'a tree::Block,
        arm: &'a tree::Arm,
        place: Place,
    ) {
        // What stands in the block is read all the same, so that one slip is told once.
        let Some(meter) = self.meter(keep, name, place) else { return self.block(block) };
        let file = self.program.files.get(self.file());
        let written = file.and_then(|file| file.text.get(band.span.start..band.span.end)).unwrap_or_default();
        let written = written.split_whitespace().collect::<Vec<_>>().join(" ");
        let written = written.trim_start_matches("within ").to_owned();
        let said = words::plain(&name.text);
        let says =
            format!("Bring the {said} to {written} and hold it there. Measure it with the {}.", meter.label);
        let text = self.spoken_if(keep.text.as_ref());
        let begins = Place { file: place.file, span: name.span.to(band.span) };
        self.take_with(&meter, says, text.clone(), begins);
        let condition = tree::Condition {
            quantifier: None,
            joint: tree::Joint::And,
            tests: vec![tree::Test {
                kind: tree::TestKind::Band { what: tree::Expr::Name(name.clone()), band: band.clone() },
                span: begins.span,
            }],
            span: begins.span,
        };
        let asked = self.condition(&condition, false);
        if asked.tests.is_empty() {
            return;
        }
        let first = self.add_made(Act::Branch { condition: asked.clone() }, begins);
        self.loose = vec![(first, Way::Yes)];
        let at = self.out.card.readings.get(meter.reading).and_then(|reading| reading.at.clone());
        let says = words::stays(&said, &written);
        let hold = Hold { name: name.text.clone(), at, says, text, states: Vec::new() };
        let still = format!("Is the {said} still {written}? Measure it again with the {}.", meter.label);
        let lost = self.span(hold, block, Some((&meter, still, asked)), begins);
        self.loose_after(lost, vec![(first, Way::No), (first, Way::NoReading)], arm);
    }

    /// The reading of a kept quantity, named like it: a new one, or the one that was measured before.
    fn meter(&mut self, keep: &'a Keep, name: &tree::Name, place: Place) -> Option<Meter> {
        let quantity = resolve::quantity(self.model, self.file(), name, self.troubles)?;
        let Some(with) = &keep.with else {
            self.cannot(
                place,
                format!("nothing says what `{}` is watched with", name.text),
                "name the tool: `keep … with TOOL { … }`",
            );
            return None;
        };
        let mut needs = Vec::new();
        self.tool_measures(with, quantity, &mut needs);
        let tool = self.tool_named(with)?;
        let before = self.frames.last().filter(|frame| frame.measured.contains_key(&name.text));
        let before = before.and_then(|frame| frame.readings.get(&name.text)).cloned();
        let readings = match before {
            Some(all) => self.here(&all),
            None => self.readings_for(name, quantity, Some(tool), false),
        };
        let [reading] = readings.as_slice() else {
            let help = "stand it in a `for each`, where one place is in hand";
            self.cannot(place, format!("`{}` is kept at several places at once", name.text), help);
            return None;
        };
        let label = self.out.card.tools.get(tool).map(|tool| tool.label.clone()).unwrap_or_default();
        self.quantity_needs(quantity, &mut needs);
        Some(Meter { reading: *reading, tool, label, needs })
    }

    /// Measures a kept quantity.
    fn take_with(&mut self, meter: &Meter, says: String, text: Option<String>, place: Place) {
        let act = Measure {
            readings: vec![meter.reading],
            says,
            text,
            tool: Some(meter.tool),
            needs: meter.needs.iter().map(|(required, _, _)| required.clone()).collect(),
            ..Measure::once(Fold::Last)
        };
        let node = self.add(Act::Measure(act), place);
        for (at, (_, by, declared)) in meter.needs.iter().enumerate() {
            self.out.needed_by.insert((node, at), (by.clone(), *declared));
        }
        let name = self.out.card.readings.get(meter.reading).map(|reading| reading.name.clone());
        if let (Some(name), Some(frame)) = (name, self.frame()) {
            frame.measured.entry(name).or_insert(node);
        }
    }

    /// The block of a span, and for a quantity the measurement that closes it. What comes back are the ways on from where
    /// the span is lost; the ways on from its end are the loose ones.
    fn span(
        &mut self,
        hold: Hold,
        block: &'a tree::Block,
        closing: Option<(&Meter, String, dwell_card::graph::Condition)>,
        place: Place,
    ) -> Vec<Loose> {
        let hold = self.add(Act::Hold(hold), place);
        let lost = self.aside(Act::Release { hold, lost: true }, place, true);
        let before = self.frames.last().map_or(0, |frame| frame.inner_cautions.len());
        if let Some(frame) = self.frame() {
            frame.holds.push(hold);
        }
        self.block(block);
        if let (Some((meter, says, condition)), false) = (closing, self.loose.is_empty()) {
            self.take_with(meter, says, None, place);
            let still = self.add_made(Act::Branch { condition }, place);
            self.link(still, Way::No, lost);
            self.link(still, Way::NoReading, lost);
            self.loose = vec![(still, Way::Yes)];
        }
        if let Some(frame) = self.frame() {
            frame.holds.pop();
        }
        for at in lost..self.out.card.nodes.len() {
            if let Some(node) = self.out.card.nodes.get_mut(at)
                && node.act.asks()
            {
                node.next.entry(Way::Lost).or_insert(lost);
            }
        }
        if !self.loose.is_empty() {
            self.add_made(Act::Release { hold, lost: false }, place);
        }
        let cautions: Vec<usize> = self
            .frames
            .last()
            .and_then(|frame| frame.inner_cautions.get(before..))
            .map(<[usize]>::to_vec)
            .unwrap_or_default();
        if cautions.is_empty() {
            return vec![(lost, Way::Then)];
        }
        let uncover = self.aside(Act::Uncover { cautions }, place, true);
        self.link(lost, Way::Then, uncover);
        vec![(uncover, Way::Then)]
    }

    /// What is done when a span is lost; then the flow goes on after it.
    fn loose_after(&mut self, lost: Vec<Loose>, never_held: Vec<Loose>, arm: &'a tree::Arm) {
        let mut after = std::mem::take(&mut self.loose);
        self.loose = lost;
        self.loose.extend(never_held);
        self.block(&arm.block);
        after.append(&mut self.loose);
        self.loose = after;
    }
}
