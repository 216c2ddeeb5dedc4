//! Pages beside the reference: units and what is built in are written from their tables, the grammar's examples can be read.

use std::fmt::Write as _;

use dwell_quantity::{Kind, Lookup, Unit, lookup, spellings};
use dwell_syntax::format::format;
use dwell_syntax::parse::parse;
use dwell_syntax::tree::DeclarationKind;
use expect_test::expect_file;

use super::examples::whole;
use super::{grammar, read};

/// A cell of a table: code, with what would end the cell taken care of.
fn code(text: &str) -> String {
    format!("`{}`", text.replace('|', "\\|"))
}

fn list(of: impl Iterator<Item = String>) -> String {
    of.collect::<Vec<String>>().join(" ")
}

#[test]
fn the_page_of_units_is_the_table() {
    let mut text = String::from(
        "# Units and kinds of quantity\n\nThis page is written by a test from the tables themselves; `UPDATE_EXPECT=1` writes it \
         anew.\n\n## Kinds of quantity\n\nTwo amounts may only meet when they are of the same kind. A kind that is *a sort of* another \
         one may stand where the other is asked for.\n\n| kind | what it is | units |\n| --- | --- | --- |\n",
    );
    for kind in Kind::all() {
        let mut about = kind.about().trim().to_owned();
        if let Some(broader) = kind.broader() {
            _ = write!(about, " A sort of {}.", code(broader.name()));
        }
        if kind.signed() {
            about.push_str(" Can be negative.");
        }
        if kind.difference() != kind {
            _ = write!(about, " The difference of two: {}.", code(kind.difference().name()));
        }
        if kind.bare() {
            about.push_str(" May stand without a unit.");
        }
        let units = Unit::all().filter(|unit| unit.measures(kind) && !unit.symbol().is_empty());
        let units = list(units.map(|unit| code(unit.symbol())));
        _ = writeln!(text, "| {} | {} | {} |", code(kind.name()), about.trim(), units);
    }
    text.push_str(
        "\n## Units\n\nThe first spelling is the one that is printed. Big and small letters count. UCUM is the Unified Code for Units \
         of Measure.\n\n| unit | also read | UCUM | source |\n| --- | --- | --- | --- |\n",
    );
    for unit in Unit::all().filter(|unit| !unit.symbol().is_empty()) {
        let also = list(
            unit.spellings().iter().filter(|spelling| !spelling.is_empty()).map(|spelling| code(spelling)),
        );
        _ = writeln!(
            text,
            "| {} | {} | {} | {} |",
            code(unit.symbol()),
            also,
            code(unit.ucum()),
            unit.source()
        );
    }
    text.push_str(
        "\n## Refused because they can be two things\n\n| typed | why | write |\n| --- | --- | --- |\n",
    );
    let mut groups: Vec<(&str, Vec<&str>, Vec<&str>)> = Vec::new();
    for spelling in spellings() {
        let Lookup::Ambiguous { why, choices } = lookup(spelling) else { continue };
        match groups.iter_mut().find(|(known, _, into)| *known == why && *into == choices) {
            Some((_, typed, _)) => typed.push(spelling),
            None => groups.push((why, vec![spelling], choices)),
        }
    }
    for (why, typed, choices) in groups {
        let typed = list(typed.into_iter().map(code));
        let choices = list(choices.into_iter().map(code));
        _ = writeln!(text, "| {typed} | {why} | {choices} |");
    }
    expect_file![grammar("UNITS.md")].assert_eq(&text);
}

/// The file that every other one has without asking.
const BUILT_IN: &str = include_str!("../../crates/dwell-check/src/prelude.dwell");

#[test]
fn the_page_of_what_is_built_in_is_the_file() {
    let parsed = parse(BUILT_IN);
    assert_eq!(parsed.slips, [], "what is built in can be read");
    assert_eq!(format(BUILT_IN).as_deref(), Ok(BUILT_IN), "and is set");
    let about = |start: usize| -> String {
        let above =
            BUILT_IN.get(..start).unwrap_or("").lines().rev().take_while(|line| line.starts_with('#'));
        let mut lines: Vec<&str> = above.map(|line| line.trim_start_matches('#').trim()).collect();
        lines.reverse();
        lines.join(" ")
    };
    let (mut handlings, mut hazards, mut quantities) = (String::new(), String::new(), String::new());
    for declaration in &parsed.tree.declarations {
        let about = about(declaration.span.start);
        match &declaration.kind {
            DeclarationKind::Handling(handling) => {
                let states = list(handling.states.iter().map(|state| code(&state.text)));
                let verbs = handling.transitions.iter().map(|way| {
                    let verb = way.verb.as_ref().map_or("*proof*".to_owned(), |verb| code(&verb.text));
                    let from: Vec<&str> = way.from.iter().map(|state| state.text.as_str()).collect();
                    format!("{verb}: {} → {}", from.join(", "), way.to.text)
                });
                let verbs = verbs.collect::<Vec<String>>().join("; ");
                _ = writeln!(handlings, "| {} | {about} | {states} | {verbs} |", code(&handling.name.text));
            }
            DeclarationKind::Hazard(hazard) => {
                let text = hazard.text.as_ref().map_or("", |text| text.text.as_str());
                let level = format!("{:?}", hazard.level).to_lowercase();
                _ = writeln!(hazards, "| {} | {level} | {text} |", code(&hazard.name.text));
            }
            DeclarationKind::Quantity(quantity) => {
                _ = writeln!(
                    quantities,
                    "| {} | {} | {about} |",
                    code(&quantity.name.text),
                    code(&quantity.kind.text)
                );
            }
            other => panic!("what is built in has handlings, hazards and quantities: {other:?}"),
        }
    }
    let text = format!(
        "# What is built in\n\nEvery file has these without asking. This page is written by a test; `UPDATE_EXPECT=1` writes it \
         anew.\n\n## Handlings\n\nThe first state is the normal one.\n\n| handling | for | states | verbs |\n\
         | --- | --- | --- | --- |\n{handlings}\n## Hazards\n\nThe texts are common practice. They replace neither local law nor \
         the maker's manual.\n\n| hazard | signal word | what is shown |\n| --- | --- | --- |\n{hazards}\n## Quantities\n\n\
         | quantity | kind | what it is |\n| --- | --- | --- |\n{quantities}"
    );
    expect_file![grammar("BUILT-IN.md")].assert_eq(&text);
}

/// The examples in the comments of the grammar: `(* example: … *)`, each a whole file, or a statement.
#[test]
fn the_examples_in_the_grammar_can_be_read() {
    let text = read(&grammar("dwell.ebnf"));
    for (number, line) in text.lines().enumerate() {
        let Some((_, rest)) = line.split_once("(* example: ") else { continue };
        let Some((example, _)) = rest.split_once("*)") else { continue };
        let example = format!("{}\n", example.trim());
        let readings = [
            "dwell",
            "dwell part",
            "dwell step",
            "dwell lines item",
            "dwell lines quantity",
            "dwell lines spec",
            "dwell lines handling",
            "dwell lines table",
            "dwell lines tool",
        ];
        let read = readings
            .iter()
            .filter_map(|fence| whole(fence, &example))
            .any(|file| parse(&file).slips.is_empty());
        assert!(read, "line {}: {example}", number + 1);
    }
}
