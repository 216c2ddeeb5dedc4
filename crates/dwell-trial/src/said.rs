//! What a case says: variants, and rows in the order in which they are asked, each with its place in the text.

use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_check::finding::Place;
use dwell_run::Row;
use dwell_syntax::tree::{Amount, Case, CaseValue, Number, Part, Procedure};
use std::collections::BTreeSet;

/// What a case gives.
pub(crate) struct Said {
    /// The variants, axis and value.
    pub(crate) variants: Vec<(String, String)>,
    /// For each of them the place of its value.
    pub(crate) variant_places: Vec<Place>,
    /// Readings, answers and what is lost.
    pub(crate) rows: Vec<Row>,
    /// For each row the place of its value.
    pub(crate) places: Vec<Place>,
}

/// The cases of a procedure, in their order.
pub(crate) fn cases_of(procedure: &Procedure) -> Vec<&Case> {
    let cases = procedure.parts.iter().filter_map(|part| match part {
        Part::Case(case) => Some(case),
        _ => None,
    });
    cases.collect()
}

impl Said {
    /// What a case of this file says to a card.
    pub(crate) fn of(case: &Case, file: usize, card: &Card) -> Said {
        let axes: Vec<String> = card.axes.iter().map(|axis| axis.name.clone()).collect();
        let needs = needs_of(card);
        let mut said =
            Said { variants: Vec::new(), variant_places: Vec::new(), rows: Vec::new(), places: Vec::new() };
        for entry in &case.entries {
            let name = &entry.name.text;
            for value in &entry.values {
                match value {
                    CaseValue::Word(word) if axes.contains(name) => {
                        said.variants.push((name.clone(), word.text.clone()));
                        said.variant_places.push(Place { file, span: word.span });
                    }
                    CaseValue::Word(word) if needs.contains(&(name.clone(), word.text.clone())) => {
                        let row = need(name, &word.text, "yes");
                        said.add(row, Place { file, span: word.span });
                    }
                    CaseValue::Word(word) => {
                        let value = word.text.replace("no-reading", "no reading");
                        let row = Row { name: name.clone(), value, ..Row::default() };
                        said.add(row, Place { file, span: word.span });
                    }
                    CaseValue::Not(word) => {
                        let row = need(name, &word.text, "no");
                        said.add(row, Place { file, span: word.span });
                    }
                    CaseValue::Interval(end, Amount { number, unit, span, .. }) => {
                        let unit = unit.as_ref().map(|unit| unit.text.clone());
                        let plain = row(name, number, unit);
                        let value = format!("{} {}", end.words(), plain.value);
                        said.add(Row { value, ..plain }, Place { file, span: *span });
                    }
                    CaseValue::Amount(Amount { number, unit, span, .. }) => {
                        let unit = unit.as_ref().map(|unit| unit.text.clone());
                        said.add(row(name, number, unit), Place { file, span: *span });
                    }
                    CaseValue::Series(numbers, unit, _) => {
                        let list = Some(said.rows.len());
                        let unit = unit.as_ref().map(|unit| unit.text.clone());
                        for number in numbers {
                            let row = Row { list, ..row(name, number, unit.clone()) };
                            said.add(row, Place { file, span: number.span });
                        }
                    }
                }
            }
        }
        said
    }

    fn add(&mut self, row: Row, place: Place) {
        self.rows.push(row);
        self.places.push(place);
    }

    /// The place of the last value that is given for a name.
    pub(crate) fn last_of(&self, name: &str) -> Option<Place> {
        let rows = self.rows.iter().zip(&self.places).rev();
        rows.into_iter().find(|(row, _)| row.name == name).map(|(_, place)| *place)
    }
}

/// Each thing that is needed, with each of the states that are asked for.
fn needs_of(card: &Card) -> BTreeSet<(String, String)> {
    let mut all = BTreeSet::new();
    for node in &card.nodes {
        let Act::Need { required, .. } = &node.act else { continue };
        let Some(slot) = card.slots.get(required.slot) else { continue };
        let states = required.states.iter().filter_map(|state| slot.states.get(*state));
        all.extend(states.map(|state| (slot.item.clone(), state.clone())));
    }
    all
}

/// Whether something needed is in this state, as a row has it.
fn need(name: &str, state: &str, holds: &str) -> Row {
    Row { name: name.to_owned(), value: holds.to_owned(), state: Some(state.to_owned()), ..Row::default() }
}

/// The value of a number with its unit, as a row has them.
fn row(name: &str, number: &Number, unit: Option<String>) -> Row {
    Row { name: name.to_owned(), value: number.text.clone(), unit, ..Row::default() }
}
