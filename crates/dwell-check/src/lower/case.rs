//! The names, answers and units of the cases of a procedure: a case that speaks of nothing tests nothing.

use super::Lowerer;
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_quantity::Kind;
use dwell_syntax::tree::{self, CaseValue, Part};

/// How a case can say that a procedure ends.
const ENDS: [&str; 4] = ["passed", "failed", "unfinished", "referred"];

/// What an entry of a case speaks of.
enum Spoken {
    /// A question or a variant: what can be answered.
    Words(Vec<String>),
    /// A reading: its kind.
    Reading(Option<Kind>),
}

impl<'a> Lowerer<'a> {
    /// Looks over all cases, when everything that they can name is on the card.
    pub(super) fn cases(&mut self, declared: &'a tree::Procedure, file: usize) {
        for part in &declared.parts {
            let Part::Case(case) = part else { continue };
            for entry in &case.entries {
                self.case_entry(entry, file);
            }
            if let Some(ends) = &case.ends {
                self.among_words(ends, &ENDS.map(str::to_owned), "an end of a case", file);
            }
        }
    }

    fn case_entry(&mut self, entry: &tree::CaseEntry, file: usize) {
        let Some(spoken) = self.spoken(&entry.name) else {
            let card = &self.out.card;
            let all = card.readings.iter().map(|reading| reading.name.as_str());
            let all = all.chain(card.questions.iter().map(|question| question.name.as_str()));
            let near =
                names::near(&entry.name.text, all.chain(card.axes.iter().map(|axis| axis.name.as_str())));
            let place = crate::finding::Place { file, span: entry.name.span };
            let what = "a reading or answer of this procedure";
            let name = entry.name.text.clone();
            return self.troubles.push(Trouble::NotFound { place, name, what, near, elsewhere: None });
        };
        for value in &entry.values {
            match (&spoken, value) {
                (Spoken::Words(words), CaseValue::Word(word)) => {
                    self.among_words(word, words, "an answer here", file);
                }
                (Spoken::Reading(_), CaseValue::Word(word)) => {
                    self.among_words(word, &["no-reading".to_owned()], "a value of a reading", file);
                }
                (Spoken::Reading(Some(kind)), CaseValue::Amount(amount)) => {
                    resolve::amount(file, amount, *kind, &entry.name.text, false, self.troubles);
                }
                (Spoken::Reading(Some(kind)), CaseValue::Series(numbers, unit, _)) => {
                    for number in numbers {
                        let amount =
                            tree::Amount { number: number.clone(), unit: unit.clone(), span: number.span };
                        resolve::amount(file, &amount, *kind, &entry.name.text, false, self.troubles);
                    }
                }
                (Spoken::Words(_), CaseValue::Amount(_) | CaseValue::Series(..)) => {
                    let place = crate::finding::Place { file, span: entry.name.span };
                    self.cannot(
                        place,
                        format!("`{}` is no reading", entry.name.text),
                        "write one of its answers",
                    );
                }
                (Spoken::Reading(None), _) => {}
            }
        }
    }

    fn spoken(&self, name: &tree::Name) -> Option<Spoken> {
        let card = &self.out.card;
        if let Some(axis) = card.axes.iter().find(|axis| axis.name == name.text) {
            return Some(Spoken::Words(axis.values.clone()));
        }
        if let Some(question) = card.questions.iter().find(|question| question.name == name.text) {
            return Some(Spoken::Words(question.values.clone()));
        }
        let reading = card.readings.iter().find(|reading| reading.name == name.text)?;
        Some(Spoken::Reading(Kind::named(&reading.kind)))
    }

    fn among_words(&mut self, word: &tree::Name, known: &[String], what: &'static str, file: usize) {
        if !known.contains(&word.text) {
            let place = crate::finding::Place { file, span: word.span };
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
