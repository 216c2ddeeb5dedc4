//! Statements one by one: cautions, notes, answers, waits, ends; the larger ones have files of their own.

use super::{Lowerer, words};
use crate::finding::Place;
use crate::model::Thing;
use crate::trouble::{Trouble, Unproved};
use crate::{names, resolve};
use dwell_card::Question;
use dwell_card::graph::{Act, End, Outcome, Work};
use dwell_card::number::Num;
use dwell_card::vehicle::Level;
use dwell_quantity::Kind;
use dwell_syntax::tree::{self, Span, StatementKind};

/// A level in the tree and in the card.
pub(super) fn level(level: tree::Level) -> Level {
    match level {
        tree::Level::Notice => Level::Notice,
        tree::Level::Caution => Level::Caution,
        tree::Level::Warning => Level::Warning,
        tree::Level::Danger => Level::Danger,
    }
}

impl<'a> Lowerer<'a> {
    /// The statements of a block; its cautions reach to its end.
    pub(super) fn block(&mut self, block: &'a tree::Block) {
        if let Some(frame) = self.frame() {
            frame.cautions.push(Vec::new());
        }
        for statement in &block.statements {
            self.statement(statement);
        }
        let cautions = self.frame().and_then(|frame| frame.cautions.pop()).unwrap_or_default();
        if !cautions.is_empty() {
            let end = Span::new(block.span.end.saturating_sub(1), block.span.end);
            let place = self.place(end);
            if let Some(frame) = self.frame() {
                frame.inner_cautions.extend(&cautions);
            }
            if !self.loose.is_empty() {
                self.add_made(Act::Uncover { cautions }, place);
            }
        }
    }

    /// One statement.
    pub(super) fn statement(&mut self, statement: &'a tree::Statement) {
        let place = self.place(statement.span);
        match &statement.kind {
            StatementKind::Caution { level, hazard, text } => {
                self.caution(*level, hazard, text.as_ref(), place)
            }
            StatementKind::Note(text) => {
                let text = self.spoken(text);
                self.add(Act::Note { text }, place);
            }
            StatementKind::Handle(handle) => self.handle(handle, place),
            StatementKind::Do { text, brings, zeroes } => {
                self.instruction(text, brings, zeroes.as_ref(), place)
            }
            StatementKind::Measure(measure) => self.measure(measure, place),
            StatementKind::Read { name, kind, from, expected } => {
                self.read(name, kind.as_ref(), from, expected.as_ref(), place);
            }
            StatementKind::Expect { condition, proves, otherwise } => {
                self.expect(condition, proves.as_ref(), otherwise, place);
            }
            StatementKind::Adjust { what, times, block, otherwise } => {
                self.adjust(what, times.as_ref(), block, otherwise, place);
            }
            StatementKind::If { arms, last } => self.branches(arms, last.as_ref()),
            StatementKind::Ask { name, text, answers } => self.question(name, text, answers, place),
            StatementKind::Let { name, kind, value } => self.formula(name, kind.as_ref(), value),
            StatementKind::LetBand { name, kind, band } => self.computed_band(name, kind.as_ref(), band),
            StatementKind::Wait { duration, since, text } => {
                self.wait(duration, since.as_ref(), text.as_ref(), place)
            }
            StatementKind::Perform { what, otherwise } => self.perform(what, otherwise, place),
            StatementKind::Refer { to, text } => self.refer(to, text.as_ref(), place),
            StatementKind::Cause { item, text } => self.cause(item, text.as_ref(), place),
            StatementKind::End { outcome, text } => self.end_word(outcome, text.as_ref(), place),
            StatementKind::Back { step, times, otherwise } => {
                self.back(step, times.as_ref(), otherwise, place)
            }
            StatementKind::On { step } => self.on(step, place),
            StatementKind::Keep(keep) => self.keep(keep, statement.span),
            StatementKind::ForEach { positions, condition, block } => {
                self.for_each(positions, condition.as_ref(), block, place);
            }
            StatementKind::Choose { name, from, nearest, otherwise } => {
                self.choose(name, from, nearest, otherwise, place);
            }
            StatementKind::Waive { .. } | StatementKind::Broken => {}
        }
    }

    fn caution(&mut self, signal: tree::Level, hazard: &tree::Name, text: Option<&tree::Text>, place: Place) {
        let found = names::look_up(self.model, self.file(), hazard, "a hazard", |thing| {
            matches!(thing, Thing::Hazard(_))
        });
        let known = match found {
            Ok(Thing::Hazard(known)) => known,
            Ok(_) => return,
            Err(trouble) => return self.troubles.push(trouble),
        };
        let Some(declared) = self.model.hazards.get(known) else { return };
        let signal = level(signal);
        let mildest = self.model.house.signal_words.mildest(declared.level);
        if signal < mildest {
            self.troubles.push(Trouble::CautionTooWeak {
                place,
                hazard: declared.name.clone(),
                hazard_place: declared.place,
                has: signal.word(),
                should: mildest.word(),
            });
        }
        let usual = declared.text.clone();
        let text = self.spoken_if(text).unwrap_or(usual);
        let hazard = self.hazard(known);
        let node = self.add(Act::Caution { hazard, level: signal, text }, place);
        if let Some(frame) = self.frame()
            && let Some(block) = frame.cautions.last_mut()
        {
            block.push(node);
        }
    }

    fn instruction(
        &mut self,
        text: &tree::Text,
        brings: &'a [tree::Effect],
        zeroes: Option<&tree::Name>,
        place: Place,
    ) {
        let mut work = Work { says: self.spoken(text), ..Work::default() };
        let mut hazards = Vec::new();
        for effect in brings {
            match effect {
                tree::Effect::Hazard(name) => {
                    let found = names::look_up(self.model, self.file(), name, "a hazard", |thing| {
                        matches!(thing, Thing::Hazard(_))
                    });
                    match found {
                        Ok(Thing::Hazard(known)) => hazards.push((self.hazard(known), place)),
                        Ok(_) => {}
                        Err(trouble) => self.troubles.push(trouble),
                    }
                }
                tree::Effect::State(state) => {
                    let Some(known) = resolve::state(self.model, self.file(), state, self.troubles) else {
                        continue;
                    };
                    let there = self.place(state.span);
                    for slot in self.slots_of_state(known, there) {
                        if self
                            .out
                            .card
                            .slots
                            .get(slot)
                            .is_some_and(|slot| slot.proved.contains(&known.state))
                        {
                            let known_slot = self.out.card.slots.get(slot);
                            let label = known_slot.map_or("", |slot| slot.label.as_str());
                            let state = words::state_sentence(label, &state.state.text);
                            self.troubles.push(Trouble::ProofMissing {
                                place: there,
                                state: words::lower_first(&state),
                                how: Unproved::Brought,
                                related: None,
                                witness: None,
                            });
                        }
                        self.bring_state(&mut work, slot, known.state, Vec::new());
                    }
                }
            }
        }
        if let Some(tool) = zeroes {
            let found = names::look_up(self.model, self.file(), tool, "a tool", |thing| {
                matches!(thing, Thing::Tool(_))
            });
            match found {
                Ok(Thing::Tool(tool)) => self.zeroes(&mut work, tool),
                Ok(_) => {}
                Err(trouble) => self.troubles.push(trouble),
            }
        }
        self.work(work, hazards, Vec::new(), place);
    }

    fn question(&mut self, name: &tree::Name, text: &tree::Text, answers: &[tree::Name], place: Place) {
        let values = if answers.is_empty() {
            vec!["yes".to_owned(), "no".to_owned()]
        } else {
            answers.iter().map(|answer| answer.text.clone()).collect()
        };
        let text = self.spoken(text);
        let known = self.frames.last().and_then(|frame| frame.questions.get(&name.text)).copied();
        let question = match known.filter(|_| self.is_repeated()) {
            Some(known) => known,
            None => {
                self.out.card.questions.push(Question { name: name.text.clone(), text, values });
                self.out.card.questions.len().saturating_sub(1)
            }
        };
        if let Some(frame) = self.frame() {
            frame.questions.insert(name.text.clone(), question);
        }
        self.add(Act::Ask { question }, place);
    }

    fn wait(
        &mut self,
        duration: &tree::Amount,
        since: Option<&tree::Event>,
        text: Option<&tree::Text>,
        place: Place,
    ) {
        let Some(kind) = Kind::named("duration") else { return };
        let file = self.file();
        let seconds = resolve::amount(file, duration, kind, "a wait", true, self.troubles);
        let ripens = since.map_or_else(Vec::new, |event| self.ripening_since(event));
        let since = since.map(|event| {
            let item = self.thing_label(&event.item);
            format!("{} {item}", words::gerund(&event.verb.text))
        });
        let Some(seconds) = seconds else { return };
        let text = self.spoken_if(text);
        let says = words::wait(duration, since.as_deref(), text.as_deref());
        self.add(Act::Wait { seconds: Num(seconds), since, ripens, says }, place);
    }

    fn refer(&mut self, to: &tree::Name, text: Option<&tree::Text>, place: Place) {
        if self.frames.last().is_some_and(|frame| frame.in_restore) {
            return self.cannot(
                place,
                "`refer to` in `restore`",
                "refer before `restore`; it runs on that way out as well",
            );
        }
        self.procedure_named(to);
        let text = self.spoken_if(text);
        let end = End { outcome: Outcome::Referred, text, refer: Some(to.text.clone()), in_restore: false };
        self.end(end, place, false);
    }

    fn cause(&mut self, item: &tree::Name, text: Option<&tree::Text>, place: Place) {
        let known = self.item_named(item).and_then(|item| self.model.items.get(item));
        let label = known.map_or_else(|| item.text.clone(), |thing| thing.label.clone());
        let located = known.and_then(|thing| thing.located.clone());
        let text = self.spoken_if(text);
        self.add(Act::Cause { item: label, text, located }, place);
    }

    fn end_word(&mut self, word: &tree::Name, text: Option<&tree::Text>, place: Place) {
        let outcome = match word.text.as_str() {
            "passed" => Outcome::Passed,
            "failed" => Outcome::Failed,
            "unfinished" => Outcome::Unfinished,
            _ => {
                return self.troubles.push(Trouble::NotFound {
                    place: self.place(word.span),
                    name: word.text.clone(),
                    what: "an end",
                    near: vec!["passed".into(), "failed".into(), "unfinished".into()],
                    elsewhere: None,
                });
            }
        };
        let text = self.spoken_if(text);
        self.end(End { outcome, text, refer: None, in_restore: false }, place, false);
    }

    /// The procedure that a name means, or a trouble.
    pub(super) fn procedure_named(&mut self, name: &tree::Name) -> Option<usize> {
        let found = names::look_up(self.model, self.file(), name, "a procedure", |thing| {
            matches!(thing, Thing::Procedure(_))
        });
        match found {
            Ok(thing) => self.used_procedure(thing, name),
            Err(trouble) => {
                self.troubles.push(trouble);
                None
            }
        }
    }
}
