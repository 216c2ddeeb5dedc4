//! One list of words and one of units: what editors colour is written from the lists of the program; `UPDATE=1` writes it anew.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::fs;

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::words::{Group, WORDS, Word};

/// The groups of words, in their order.
const GROUPS: [(Group, &str); 8] = [
    (Group::Hard, "hard"),
    (Group::Declaration, "declaration"),
    (Group::Procedure, "procedure"),
    (Group::Statement, "statement"),
    (Group::Clause, "clause"),
    (Group::Line, "line"),
    (Group::Fold, "fold"),
    (Group::Outcome, "outcome"),
];

/// The words of a group, in order.
fn group(group: Group) -> impl Iterator<Item = Word> {
    WORDS.iter().copied().filter(move |word| word.group() == group)
}

/// The words of every group, by the name of the group.
pub(super) fn by_group() -> impl Iterator<Item = (&'static str, Vec<Word>)> {
    GROUPS.into_iter().map(|(one, name)| (name, group(one).collect()))
}

/// Every spelling of a unit, in order of its bytes.
pub(super) fn units() -> BTreeSet<&'static str> {
    dwell_quantity::spellings().collect()
}

/// What stands in a file below the top folder; `UPDATE=1` writes it.
pub(super) fn written(path: &str, text: &str) {
    let file = crate::root().join(path);
    if std::env::var_os("UPDATE").is_some() {
        fs::write(&file, text).unwrap_or_else(|error| panic!("{path}: {error}"));
    }
    assert!(
        fs::read_to_string(&file).unwrap_or_default() == text,
        "{path} has not the words or units of the program: run the tests with UPDATE=1, then follow grammar/tree-sitter/README.md"
    );
}

/// The words by group, which the grammar of tree-sitter reads.
fn words_json() -> String {
    let mut json = String::from("{\n");
    for (at, (one, name)) in GROUPS.into_iter().enumerate() {
        let words: Vec<String> = group(one).map(|word| format!("\"{}\"", word.text())).collect();
        let comma = if at + 1 < GROUPS.len() { "," } else { "" };
        _ = writeln!(json, "  \"{name}\": [{}]{comma}", words.join(", "));
    }
    json + "}\n"
}

/// The words and units that its scanner compares with.
fn words_h() -> String {
    let mut header = String::from(
        "// The words of the language and the spellings of its units, written by tests/grammars/words.rs.\n\
         #ifndef DWELL_WORDS_H_\n#define DWELL_WORDS_H_\n\n#include <stdint.h>\n\nenum {\n",
    );
    let all: Vec<Word> = GROUPS.into_iter().flat_map(|(one, _)| group(one)).collect();
    for word in &all {
        _ = writeln!(header, "  WORD_{},", word.text().to_uppercase());
    }
    let hard = group(Group::Hard).count();
    _ = write!(
        header,
        "  WORD_COUNT,\n  HARD_COUNT = {hard},\n}};\n\nstatic const char *const WORDS[WORD_COUNT] = {{\n"
    );
    for word in &all {
        _ = writeln!(header, "  \"{}\",", word.text());
    }
    let units = units();
    _ = write!(
        header,
        "}};\n\nenum {{ UNIT_COUNT = {} }};\n\nstatic const char *const UNITS[UNIT_COUNT] = {{\n",
        units.len()
    );
    for unit in units {
        assert!(!unit.contains(['"', '\\']), "{unit} would have to be escaped");
        _ = writeln!(header, "  \"{unit}\",");
    }
    let letters = letters();
    _ = write!(
        header,
        "}};\n\n// The letters beyond ASCII, from … to.\nenum {{ LETTER_COUNT = {} }};\n\n\
         static const int32_t LETTERS[LETTER_COUNT][2] = {{\n",
        letters.len()
    );
    for run in letters.chunks(6) {
        let run: Vec<String> = run.iter().map(|(from, to)| format!("{{0x{from:X}, 0x{to:X}}},")).collect();
        _ = writeln!(header, "  {}", run.join(" "));
    }
    header + "};\n\n#endif\n"
}

/// The runs of characters beyond ASCII with which a word of our own lexer goes on.
fn letters() -> Vec<(u32, u32)> {
    let candidates: Vec<char> = ('\u{80}'..='\u{323FF}').collect();
    // Each behind a letter, on a line of its own: it is one of a word where the word goes to the end of its line.
    let text: String = candidates.iter().map(|c| format!("a{c}\n")).collect();
    let words: BTreeSet<(usize, usize)> = lex(&text)
        .tokens
        .iter()
        .filter(|token| token.kind == TokenKind::LineWord)
        .map(|token| (token.span.start, token.span.end))
        .collect();
    let mut runs: Vec<(u32, u32)> = Vec::new();
    let mut start = 0;
    for c in candidates {
        let end = start + 1 + c.len_utf8();
        if words.contains(&(start, end)) {
            match runs.last_mut() {
                Some(last) if last.1 + 1 == u32::from(c) => last.1 = u32::from(c),
                _ => runs.push((u32::from(c), u32::from(c))),
            }
        }
        start = end + 1;
    }
    runs
}

#[test]
fn every_word_has_its_group() {
    let listed: usize = GROUPS.into_iter().map(|(one, _)| group(one).count()).sum();
    assert_eq!(listed, WORDS.len(), "a group of words is not in the list");
}

#[test]
fn the_grammar_of_tree_sitter_has_the_words_and_units() {
    written("grammar/tree-sitter/words.json", &words_json());
    written("grammar/tree-sitter/src/words.h", &words_h());
}

/// `parser.c` and `grammar.json` are made from `grammar.js` and `words.json` by a tool that the tests do not need: at least
/// every word must be a token of both, in the same order.
#[test]
fn the_parser_is_made_from_these_words() {
    let folder = crate::root().join("grammar/tree-sitter/src");
    let grammar = fs::read_to_string(folder.join("grammar.json")).expect("grammar.json is there");
    let grammar: serde_json::Value = serde_json::from_str(&grammar).expect("grammar.json is JSON");
    let externals = grammar["externals"].as_array().expect("a list of tokens");
    let parser = fs::read_to_string(folder.join("parser.c")).expect("parser.c is there");
    let all: Vec<Word> = GROUPS.into_iter().flat_map(|(one, _)| group(one)).collect();
    for (place, word) in all.iter().enumerate() {
        let token = format!("_word_{}", word.text());
        assert_eq!(
            externals[place]["name"], token,
            "grammar.json is older than words.json: see grammar/tree-sitter/README.md"
        );
        let in_parser = format!("ts_external_token__word_{} = {place},", word.text());
        assert!(parser.contains(&in_parser), "parser.c is older than words.json: it lacks `{in_parser}`");
    }
    let other = externals[all.len()]["name"].as_str().unwrap_or_default();
    assert!(other.starts_with("_sign_"), "words.json has fewer words than grammar.json: {other}");
}
