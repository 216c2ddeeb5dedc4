//! The language reference: every example can be read and is set as it stands, every word and every unit is listed.

use std::fmt::Write as _;
use std::fs;
use std::path::PathBuf;

use dwell_check::check::check;
use dwell_check::finding::Level;
use dwell_check::program::Sources;
use dwell_quantity::{Kind, Lookup, Unit, lookup, spellings};
use dwell_syntax::format::format;
use dwell_syntax::parse::parse;
use dwell_syntax::tree::DeclarationKind;
use dwell_syntax::words::WORDS;
use expect_test::expect_file;

/// A file of the folder `grammar`.
fn page(name: &str) -> (PathBuf, String) {
    let path = PathBuf::from(concat!(env!("CARGO_MANIFEST_DIR"), "/../grammar")).join(name);
    let text = fs::read_to_string(&path).unwrap_or_default();
    (path, text)
}

/// An example: the line it begins on, what its fence says, and its text.
struct Example {
    line: usize,
    fence: String,
    text: String,
}

/// The fenced examples of a page whose fence begins with `dwell`.
fn examples(page: &str) -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    let mut open = false;
    for (number, line) in page.lines().enumerate() {
        match line.strip_prefix("```") {
            Some(fence) if !open && fence.starts_with("dwell") => {
                found.push(Example { line: number + 1, fence: fence.to_owned(), text: String::new() });
                open = true;
            }
            Some(_) => open = false,
            None if open => {
                if let Some(example) = found.last_mut() {
                    example.text.push_str(line);
                    example.text.push('\n');
                }
            }
            None => {}
        }
    }
    found
}

/// A fragment as a part of a whole file, set in as far as it then stands.
fn whole(fence: &str, text: &str) -> Option<String> {
    let set_in = |depth: usize| -> String {
        let blanks = " ".repeat(depth * 4);
        text.lines()
            .map(|line| if line.is_empty() { "\n".to_owned() } else { format!("{blanks}{line}\n") })
            .collect()
    };
    let lines = |head: &str| Some(format!("{head} {{\n{}}}\n", set_in(1)));
    match fence {
        "dwell" => Some(text.to_owned()),
        "dwell part" => lines("procedure p \"P\""),
        "dwell step" => Some(format!("procedure p \"P\" {{\n    step s \"S\" {{\n{}    }}\n}}\n", set_in(2))),
        "dwell lines handling" => lines("handling h"),
        "dwell lines item" => lines("item i: removable \"I\""),
        "dwell lines quantity" => lines("quantity q: length"),
        "dwell lines spec" => lines("spec s: torque"),
        "dwell lines table" => lines("table t: torque by temperature"),
        "dwell lines tool" => lines("tool t: clip-on \"T\""),
        _ => None,
    }
}

#[test]
fn every_example_can_be_read_and_is_set_as_it_stands() {
    let (_, text) = page("REFERENCE.md");
    let examples = examples(&text);
    assert!(examples.len() > 20, "the page has its examples: {}", examples.len());
    let mut wrong = String::new();
    for example in &examples {
        let Example { line, fence, text } = example;
        let Some(file) = whole(fence, text) else {
            _ = writeln!(wrong, "line {line}: no such fence: {fence}");
            continue;
        };
        let parsed = parse(&file);
        for slip in &parsed.slips {
            let at = file.get(slip.span.start..slip.span.end).unwrap_or("");
            _ = writeln!(wrong, "line {line}: `{at}`: {} ({:?})", slip.message, slip.help);
        }
        if let Ok(set) = format(&file)
            && set != file
        {
            _ = writeln!(wrong, "line {line}: is set as\n{set}");
        }
    }
    assert!(wrong.is_empty(), "{wrong}");
}

/// An example beside the files that the long one uses.
struct Beside<'e>(&'e str);

impl Sources for Beside<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        match path {
            "example.dwell" => Ok(self.0.to_owned()),
            "vehicle.dwell" => Ok(include_str!("reference/vehicle.dwell").to_owned()),
            "workshop.dwell" => Ok(include_str!("reference/workshop.dwell").to_owned()),
            other => Err(format!("there is no {other}")),
        }
    }

    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

#[test]
fn every_whole_file_on_the_page_is_sound() {
    let (_, text) = page("REFERENCE.md");
    let mut cards = 0;
    for example in examples(&text).iter().filter(|example| example.fence == "dwell") {
        let checked = check(&["example.dwell".to_owned()], &Beside(&example.text));
        // What an example shows and does not use is only hinted at.
        let grave = checked.findings.iter().filter(|finding| finding.level != Level::Hint);
        let found: Vec<&String> = grave.map(|finding| &finding.message).collect();
        assert!(found.is_empty(), "line {}: {found:?}", example.line);
        cards += checked.procedures.iter().filter(|procedure| procedure.card.is_some()).count();
    }
    assert!(cards >= 3, "the page has procedures: {cards}");
}

#[test]
fn every_fence_that_the_page_names_is_known() {
    let (_, text) = page("REFERENCE.md");
    for fence in ["dwell", "dwell part", "dwell step", "dwell lines spec"] {
        assert!(text.contains(&format!("| `{fence}` |")), "{fence}");
        assert!(whole(fence, "").is_some(), "{fence}");
    }
}

#[test]
fn every_word_is_listed() {
    let (_, text) = page("REFERENCE.md");
    let (_, list) = text.split_once("## 21. All the words").unwrap_or_default();
    let (list, _) = list.split_once("\n## ").unwrap_or_default();
    let listed: Vec<&str> = list.split('`').skip(1).step_by(2).collect();
    let missing: Vec<&str> =
        WORDS.iter().map(|word| word.text()).filter(|word| !listed.contains(word)).collect();
    let strange: Vec<&&str> =
        listed.iter().filter(|listed| !WORDS.iter().any(|word| word.text() == **listed)).collect();
    assert!(missing.is_empty() && strange.is_empty(), "missing {missing:?}, strange {strange:?}");
    let (hard, _) = list.split_once("They mean something").unwrap_or_default();
    let hard: Vec<&str> = hard.split('`').skip(1).step_by(2).collect();
    let meant: Vec<&str> = WORDS.iter().filter(|word| word.is_hard()).map(|word| word.text()).collect();
    assert_eq!(hard, meant);
    assert_eq!(hard.len(), 20);
}

#[test]
fn every_heading_is_in_the_list_of_contents() {
    let (_, text) = page("REFERENCE.md");
    for heading in text.lines().filter_map(|line| line.strip_prefix("## ")) {
        let anchor: String = heading
            .to_lowercase()
            .chars()
            .filter(|c| c.is_alphanumeric() || matches!(c, ' ' | '-'))
            .map(|c| if c == ' ' { '-' } else { c })
            .collect();
        assert!(text.contains(&format!("](#{anchor})")), "{heading}: #{anchor}");
    }
}

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
    expect_file![page("UNITS.md").0].assert_eq(&text);
}

/// The file that every other one has without asking.
const BUILT_IN: &str = include_str!("../crates/dwell-check/src/prelude.dwell");

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
    expect_file![page("BUILT-IN.md").0].assert_eq(&text);
}

/// The examples in the comments of the grammar: `(* example: … *)`, each a whole file, or a statement.
#[test]
fn the_examples_in_the_grammar_can_be_read() {
    let (_, text) = page("dwell.ebnf");
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
