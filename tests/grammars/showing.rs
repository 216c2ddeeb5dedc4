//! What editors show: every query is accepted, the outline is what our own parser declares, and every word is coloured.

use std::collections::BTreeSet;

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::parse::parse;
use dwell_syntax::tree::{DeclarationKind, Name, Part};
use dwell_syntax::words::{WORDS, Word};

use super::reader::{Capture, folder, read};
use super::texts;
use super::words::units;
use crate::recovery::pieces::pieces;

/// The queries beside the grammar, by name.
fn queries() -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder().join("queries"))
        .expect("the queries are there")
        .flatten()
        .filter_map(|entry| Some(entry.file_name().to_str()?.strip_suffix(".scm")?.to_owned()))
        .collect();
    names.sort();
    names
}

/// The queries that stand beside an editor's settings, from the folder of the grammar's queries.
const ELSEWHERE: [&str; 1] = ["../../../editors/helix/queries/dwell/indents"];

#[test]
fn every_query_is_accepted_and_takes_something() {
    let names = queries();
    let names: Vec<&str> = names.iter().map(String::as_str).chain(ELSEWHERE).collect();
    assert!(names.len() >= 6, "{names:?}");
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let seen = read(&all, &names, false);
    for name in names {
        let taken: BTreeSet<u64> =
            seen.iter().flat_map(|seen| seen.captures[name].iter().map(|capture| capture.pattern)).collect();
        let last = taken.last().copied().unwrap_or_default();
        // A pattern for what could not be read takes nothing here.
        let silent: Vec<u64> = (0..=last).filter(|pattern| !taken.contains(pattern)).collect();
        assert!(!taken.is_empty() && silent.is_empty(), "{name}.scm: patterns {silent:?} take nothing");
    }
}

/// The names that a file declares, and the steps of its procedures.
fn declared(text: &str) -> Vec<(usize, String)> {
    let mut all = Vec::new();
    let mut add = |name: &Name| all.push((name.span.start, name.text.clone()));
    for declaration in parse(text).tree.declarations {
        match declaration.kind {
            DeclarationKind::Use(_) | DeclarationKind::Broken => {}
            DeclarationKind::Handling(it) => add(&it.name),
            DeclarationKind::Item(it) => add(&it.name),
            DeclarationKind::Quantity(it) => add(&it.name),
            DeclarationKind::Spec(it) => add(&it.name),
            DeclarationKind::Table(it) => add(&it.name),
            DeclarationKind::Series(it) => add(&it.name),
            DeclarationKind::Tool(it) => add(&it.name),
            DeclarationKind::Hazard(it) => add(&it.name),
            DeclarationKind::Variant(it) | DeclarationKind::Positions(it) => add(&it.name),
            DeclarationKind::Procedure(it) => {
                add(&it.name);
                for part in &it.parts {
                    if let Part::Step(step) = part {
                        add(&step.name);
                    }
                }
            }
        }
    }
    all.sort();
    all
}

#[test]
fn the_outline_is_what_our_own_parser_declares() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let mut count = 0;
    for (text, seen) in sound.iter().zip(read(&all, &["tags", "outline"], false)) {
        let shown = |capture: &Capture| (capture.start, text.text[capture.start..capture.end].to_owned());
        let expected = declared(&text.text);
        count += expected.len();
        // What is only referred to comes last in the query.
        let tags = seen.captures["tags"].iter().filter(|found| found.name == "name" && found.pattern < 12);
        let mut tags: Vec<_> = tags.map(shown).collect();
        tags.sort();
        assert_eq!(tags, expected, "tags.scm in {}", text.at);
        let mut outline: Vec<_> = seen.captures["outline"]
            .iter()
            .filter(|found| found.name == "name")
            .map(shown)
            .filter(|(_, name)| !name.starts_with('"') && name != "restore")
            .collect();
        outline.sort();
        assert_eq!(outline, expected, "outline.scm in {}", text.at);
    }
    assert!(count > 1000, "only {count} names are declared");
}

/// The colours that a word of the language may have.
fn is_word_colour(colour: &str) -> bool {
    colour.starts_with("keyword") || matches!(colour, "function.builtin" | "constant.builtin")
}

#[test]
fn every_word_is_coloured_as_one_and_no_name_is() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let mut met = BTreeSet::new();
    for (text, seen) in sound.iter().zip(read(&all, &["highlights"], false)) {
        let names = pieces(&text.text).names;
        let mut colours = seen.captures["highlights"].clone();
        colours.sort_by_key(|colour| (colour.start, colour.end));
        for pair in colours.windows(2) {
            let twice = pair[0].start == pair[1].start && pair[0].end == pair[1].end;
            assert!(!twice, "two colours for one node of {}: {pair:?}", text.at);
        }
        for token in lex(&text.text).tokens {
            let (start, end) = (token.span.start, token.span.end);
            let own = &text.text[start..end];
            let last = colours.iter().rfind(|colour| colour.start <= start && end <= colour.end);
            let colour = last.map_or("", |colour| colour.name.as_str());
            let place = || format!("{own:?} at byte {start} of {} is {colour:?}", text.at);
            match token.kind {
                TokenKind::Word | TokenKind::LineWord => {
                    // How a procedure ends and that nothing was read are names in our tree.
                    let said = colour == "constant.builtin" || text.text[start..].starts_with("no reading");
                    let word = Word::of(own).filter(|_| said || !names.contains(&start));
                    met.extend(word);
                    assert_eq!(is_word_colour(colour), word.is_some(), "{}", place());
                }
                TokenKind::Str | TokenKind::LineStr => assert_eq!(colour, "string", "{}", place()),
                TokenKind::Number | TokenKind::Compound | TokenKind::Date => {
                    assert_eq!(colour, "number", "{}", place());
                }
                // `12 months`: a unit to the lexer, a word to the grammar.
                TokenKind::Unit if colour == "keyword" => met.extend(Word::of(own)),
                TokenKind::Unit => assert_eq!(colour, "type.builtin", "{}", place()),
                _ => assert!(!colour.is_empty(), "{}", place()),
            }
        }
    }
    // `month` and `digit` are units as well, and are coloured as those.
    let unseen: Vec<&str> = WORDS.iter().filter(|word| !met.contains(word)).map(|word| word.text()).collect();
    let unseen: Vec<&&str> = unseen.iter().filter(|word| !units().contains(**word)).collect();
    assert!(unseen.is_empty(), "no text uses {unseen:?}");
}
