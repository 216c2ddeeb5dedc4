//! The cases that stand in procedures: each is run on the compiled card, and whether it ends as it says.

use dwell_card::Card;
use dwell_record::Outcome;
use dwell_run::{Row, Rows, Session, drive};
use dwell_syntax::tree::{Amount, Case, CaseValue, Number, Part, Procedure};

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-04-12T09:05:00+02:00";

/// The cases of a procedure.
pub(crate) fn of(procedure: &Procedure) -> Vec<&Case> {
    let parts = procedure.parts.iter();
    let cases = parts.filter_map(|part| match part {
        Part::Case(case) => Some(case),
        _ => None,
    });
    cases.collect()
}

/// Runs a case on the card of its procedure; what is wrong where it does not end as it says.
pub(crate) fn run(case: &Case, card: &Card) -> Result<(), String> {
    let axes: Vec<String> = card.axes.iter().map(|axis| axis.name.clone()).collect();
    let (variants, rows) = said(case, &axes);
    let mut rows = Rows::new(rows).signing();
    let mut session = Session::start(card.clone(), &variants, AT).map_err(|why| why.to_string())?;
    let result =
        drive(&mut session, &mut rows, &mut || AT.to_owned(), &mut |_| ()).map_err(|why| why.to_string())?;
    if !rows.left_over().is_empty() {
        return Err(format!("values that nobody asked for: {:?}", rows.left_over()));
    }
    let ends = match result {
        Outcome::Passed | Outcome::AdjustedAndPassed => "passed",
        other => other.words(),
    };
    match &case.ends {
        Some(promised) if promised.text == ends => Ok(()),
        _ => Err(format!("ends {ends}")),
    }
}

/// The value of a number with its unit, as a row has them.
fn row(name: &str, number: &Number, unit: Option<String>) -> Row {
    Row { name: name.to_owned(), place: None, value: number.text.clone(), unit, ..Row::default() }
}

/// What a case says, as variants and as rows.
fn said(case: &Case, axes: &[String]) -> (Vec<(String, String)>, Vec<Row>) {
    let (mut variants, mut rows) = (Vec::new(), Vec::new());
    for entry in &case.entries {
        let name = &entry.name.text;
        for value in &entry.values {
            match value {
                CaseValue::Word(word) if axes.contains(name) => {
                    variants.push((name.clone(), word.text.clone()))
                }
                CaseValue::Word(word) => rows.push(Row {
                    name: name.clone(),
                    place: None,
                    value: word.text.replace("no-reading", "no reading"),
                    ..Row::default()
                }),
                CaseValue::Amount(Amount { number, unit, .. }) => {
                    rows.push(row(name, number, unit.as_ref().map(|unit| unit.text.clone())));
                }
                CaseValue::Series(numbers, unit, _) => {
                    let list = Some(rows.len());
                    let unit = unit.as_ref().map(|unit| unit.text.clone());
                    rows.extend(numbers.iter().map(|number| Row { list, ..row(name, number, unit.clone()) }));
                }
            }
        }
    }
    (variants, rows)
}
