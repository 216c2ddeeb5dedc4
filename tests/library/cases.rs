//! The cases that stand in the procedures of the library: each is run, and ends as it says.

use dwell_check::program::Sources;
use dwell_record::Outcome;
use dwell_run::{Row, Rows, Session, drive};
use dwell_syntax::parse::parse;
use dwell_syntax::tree::{Amount, Case, CaseValue, DeclarationKind, Number, Part};

use super::cards::cards;
use crate::merle::Merle;

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-04-12T09:05:00+02:00";

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

#[test]
fn every_case_ends_as_it_says() {
    let library = Merle::read();
    let cards = cards();
    let mut run = 0;
    let mut wrong = Vec::new();
    for path in library.files.keys() {
        for declaration in parse(&library.read(path).unwrap()).tree.declarations {
            let DeclarationKind::Procedure(procedure) = declaration.kind else { continue };
            let card = &cards[&procedure.name.text];
            let axes: Vec<String> = card.axes.iter().map(|axis| axis.name.clone()).collect();
            let cases: Vec<&Case> = procedure
                .parts
                .iter()
                .filter_map(|part| match part {
                    Part::Case(case) => Some(case),
                    _ => None,
                })
                .collect();
            assert!(cases.len() >= 2, "{} has fewer than two cases", procedure.name.text);
            for case in cases {
                let title = format!("{}: case \"{}\"", procedure.name.text, case.title.text);
                let (variants, rows) = said(case, &axes);
                run += 1;
                let mut rows = Rows::new(rows).signing();
                let driven = Session::start(card.clone(), &variants, AT)
                    .map_err(|why| why.to_string())
                    .and_then(|mut session| {
                        drive(&mut session, &mut rows, &mut || AT.to_owned(), &mut |_| ())
                            .map_err(|why| why.to_string())
                    });
                let result = match driven {
                    Ok(result) => result,
                    Err(why) => {
                        wrong.push(format!("{title}: {why}"));
                        continue;
                    }
                };
                if !rows.left_over().is_empty() {
                    wrong.push(format!("{title}: values that nobody asked for: {:?}", rows.left_over()));
                }
                let ends = match result {
                    Outcome::Passed | Outcome::AdjustedAndPassed => "passed",
                    other => other.words(),
                };
                if case.ends.as_ref().unwrap().text != ends {
                    wrong.push(format!("{title}: ends {ends}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(run >= 18, "only {run} cases");
}
