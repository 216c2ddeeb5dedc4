//! The names, answers and units of the cases of a procedure: a case that speaks of nothing tests nothing.

use super::Lowered;
use crate::finding::Place;
use crate::model::Model;
use crate::program::Program;
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_quantity::Kind;
use dwell_syntax::tree::{self, CaseValue, DeclarationKind, Part};

/// How a case can say that a procedure ends.
const ENDS: [&str; 4] = ["passed", "failed", "unfinished", "referred"];

/// What an entry of a case speaks of.
enum Spoken {
    /// A question or a variant: what can be answered.
    Words(Vec<String>),
    /// A reading: its kind.
    Reading(Option<Kind>),
    /// Something that is needed: the states that are asked for.
    Need(Vec<String>),
}

/// Looks over all cases of a procedure. Done beside the lowering: a slip in a test leaves no hole in what is tested.
pub fn cases(
    program: &Program,
    model: &Model,
    procedure: usize,
    lowered: &Lowered,
    troubles: &mut Vec<Trouble>,
) {
    let Some(head) = model.procedures.get(procedure) else { return };
    let file = head.place.file;
    let declared = program.files.get(file).and_then(|file| file.tree.declarations.get(head.declaration));
    let Some(DeclarationKind::Procedure(declared)) = declared.map(|declared| &declared.kind) else { return };
    let mut cases = Cases { card: &lowered.card, file, troubles };
    for part in &declared.parts {
        let Part::Case(case) = part else { continue };
        for entry in &case.entries {
            cases.entry(entry);
        }
        if let Some(ends) = &case.ends {
            cases.among(ends, &ENDS.map(str::to_owned), "an end of a case");
        }
    }
}

struct Cases<'a> {
    card: &'a Card,
    file: usize,
    troubles: &'a mut Vec<Trouble>,
}

impl Cases<'_> {
    /// Whether an entry says that something kept is lost.
    fn is_lost(&self, name: &tree::Name, value: &CaseValue) -> bool {
        let held =
            |node: &dwell_card::graph::Node| matches!(&node.act, Act::Hold(hold) if hold.name == name.text);
        matches!(value, CaseValue::Word(word) if word.text == "lost") && self.card.nodes.iter().any(held)
    }

    fn entry(&mut self, entry: &tree::CaseEntry) {
        if entry.values.iter().all(|value| self.is_lost(&entry.name, value)) {
            return;
        }
        let Some(spoken) = self.spoken(&entry.name) else {
            let card = self.card;
            let all = card.readings.iter().map(|reading| reading.name.as_str());
            let all = all.chain(card.questions.iter().map(|question| question.name.as_str()));
            let near =
                names::near(&entry.name.text, all.chain(card.axes.iter().map(|axis| axis.name.as_str())));
            let place = Place { file: self.file, span: entry.name.span };
            let what = "a reading, answer or need of this procedure";
            let name = entry.name.text.clone();
            return self.troubles.push(Trouble::NotFound { place, name, what, near, elsewhere: None });
        };
        for value in &entry.values {
            if self.is_lost(&entry.name, value) {
                continue;
            }
            match (&spoken, value) {
                (Spoken::Words(words), CaseValue::Word(word)) => {
                    self.among(word, words, "an answer here");
                }
                (Spoken::Reading(_), CaseValue::Word(word)) => {
                    self.among(word, &["no-reading".to_owned()], "a value of a reading");
                }
                (Spoken::Need(states), CaseValue::Word(word) | CaseValue::Not(word)) => {
                    self.among(word, states, "a state that is needed here");
                }
                (Spoken::Reading(Some(kind)), CaseValue::Amount(amount) | CaseValue::Interval(_, amount)) => {
                    resolve::amount(self.file, amount, *kind, &entry.name.text, false, self.troubles);
                }
                (Spoken::Reading(Some(kind)), CaseValue::Series(numbers, unit, _)) => {
                    let before = self.troubles.len();
                    for number in numbers {
                        let amount = tree::Amount {
                            number: number.clone(),
                            unit: unit.clone(),
                            second: None,
                            span: number.span,
                        };
                        resolve::amount(self.file, &amount, *kind, &entry.name.text, false, self.troubles);
                        // They share one unit: what is wrong with it is said once.
                        if self.troubles.len() > before {
                            break;
                        }
                    }
                }
                (Spoken::Words(_) | Spoken::Reading(_), CaseValue::Not(_)) => {
                    let what = format!("`{}` is nothing that is needed at the start", entry.name.text);
                    self.cannot(&entry.name, what, "only a need can be said not to hold");
                }
                (Spoken::Words(_), _) => {
                    let what = format!("`{}` is no reading", entry.name.text);
                    self.cannot(&entry.name, what, "write one of its answers");
                }
                (Spoken::Need(states), _) => {
                    let state = states.first().map_or("", String::as_str);
                    let what = format!("`{}` is no reading", entry.name.text);
                    self.cannot(&entry.name, what, &format!("write `{state}` or `not {state}`"));
                }
                (Spoken::Reading(None), _) => {}
            }
        }
    }

    fn spoken(&self, name: &tree::Name) -> Option<Spoken> {
        let card = self.card;
        if let Some(axis) = card.axes.iter().find(|axis| axis.name == name.text) {
            return Some(Spoken::Words(axis.values.clone()));
        }
        if let Some(question) = card.questions.iter().find(|question| question.name == name.text) {
            return Some(Spoken::Words(question.values.clone()));
        }
        if let Some(reading) = card.readings.iter().find(|reading| reading.name == name.text) {
            return Some(Spoken::Reading(Kind::named(&reading.kind)));
        }
        let states: Vec<String> = self.needed(&name.text).collect();
        (!states.is_empty()).then_some(Spoken::Need(states))
    }

    /// The states of a thing that are asked for.
    fn needed(&self, item: &str) -> impl Iterator<Item = String> {
        let card = self.card;
        let of = card.nodes.iter().filter_map(move |node| match &node.act {
            Act::Need { required, proved: false, .. } => {
                let slot = card.slots.get(required.slot).filter(|slot| slot.item == item)?;
                Some(required.states.iter().filter_map(|state| slot.states.get(*state)).cloned())
            }
            _ => None,
        });
        of.flatten()
    }

    fn cannot(&mut self, name: &tree::Name, what: String, help: &str) {
        let place = Place { file: self.file, span: name.span };
        self.troubles.push(Trouble::NotExecutable { place, what, help: help.to_owned() });
    }

    fn among(&mut self, word: &tree::Name, known: &[String], what: &'static str) {
        if !known.contains(&word.text) {
            let place = Place { file: self.file, span: word.span };
            let near = known.to_vec();
            self.troubles.push(Trouble::NotFound {
                place,
                name: word.text.clone(),
                what,
                near,
                elsewhere: None,
            });
        }
    }
}
