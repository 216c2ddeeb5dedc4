//! What a case says: variants, and rows in the order in which they are asked, each with its place in the text.

use dwell_check::finding::Place;
use dwell_run::Row;
use dwell_syntax::tree::{Amount, Case, CaseValue, Number, Part, Procedure};

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
    /// What a case of this file says to a card with these variants.
    pub(crate) fn of(case: &Case, file: usize, axes: &[String]) -> Said {
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
                    CaseValue::Word(word) => {
                        let value = word.text.replace("no-reading", "no reading");
                        let row = Row { name: name.clone(), value, ..Row::default() };
                        said.add(row, Place { file, span: word.span });
                    }
                    CaseValue::Amount(Amount { number, unit, span }) => {
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

/// The value of a number with its unit, as a row has them.
fn row(name: &str, number: &Number, unit: Option<String>) -> Row {
    Row { name: name.to_owned(), value: number.text.clone(), unit, ..Row::default() }
}
