//! Tests of the words: the list agrees with itself and with the grammar on paper.

use std::collections::BTreeSet;

use super::{Group, WORDS, Word};

/// The grammar on paper.
const GRAMMAR: &str = include_str!("../../../../grammar/dwell.ebnf");

/// The grammar without what stands between `open` and `close`.
fn without(text: &str, open: &str, close: &str) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once(open) {
        out.push_str(before);
        out.push(' ');
        rest = after.split_once(close).map_or("", |(_, more)| more);
    }
    out + rest
}

/// The productions alone: no comments, nothing said in words.
fn productions() -> String {
    without(&without(GRAMMAR, "(*", "*)"), "?", "?")
}

#[test]
fn twenty_hard_words_and_each_word_once() {
    assert_eq!(WORDS.iter().filter(|word| word.group() == Group::Hard).count(), 20);
    for word in WORDS {
        assert_eq!(Word::of(word.text()), Some(*word));
    }
}

/// A hard word beats the table, the table beats a soft word; so no word may be a unit but those that are meant to be.
#[test]
fn words_that_are_units_too() {
    let units: BTreeSet<&str> = dwell_quantity::spellings().collect();
    for word in WORDS.iter().map(|word| word.text()).filter(|word| units.contains(word)) {
        assert!(matches!(word, "at" | "turn" | "digits" | "digit" | "months" | "month"), "{word}");
    }
    for unit in ["in", "min", "s", "h", "m", "bar"] {
        assert_eq!(Word::of(unit), None, "{unit}");
    }
}

#[test]
fn the_grammar_has_every_word_and_no_other() {
    let productions = productions();
    let quoted: BTreeSet<&str> = productions.split('"').skip(1).step_by(2).collect();
    let lettered: BTreeSet<&str> =
        quoted.into_iter().filter(|text| text.starts_with(|c: char| c.is_ascii_lowercase())).collect();
    let words: BTreeSet<&str> = WORDS.iter().map(|word| word.text()).collect();
    assert_eq!(lettered, words);
}

#[test]
fn the_grammar_names_the_hard_words() {
    let (_, after) = GRAMMAR.split_once("none of the 20 hard words:").expect("the sentence is there");
    let (list, _) = after.split_once('?').expect("it ends");
    let named: BTreeSet<&str> = list.split_whitespace().collect();
    let hard: BTreeSet<&str> = WORDS.iter().filter(|word| word.is_hard()).map(|word| word.text()).collect();
    assert_eq!(named, hard);
}

#[test]
fn every_symbol_of_the_grammar_is_defined_once_and_used() {
    let bare = without(&productions(), "\"", "\"");
    let symbol = |c: char| c.is_ascii_alphabetic() || c == '-';
    let defined: Vec<&str> = bare
        .lines()
        .filter_map(|line| line.split_once(" ="))
        .map(|(name, _)| name)
        .filter(|name| name.chars().all(symbol))
        .collect();
    let once: BTreeSet<&str> = defined.iter().copied().collect();
    assert_eq!(defined.len(), once.len(), "a symbol is defined twice");
    let mut used = BTreeSet::from(["file"]);
    for line in bare.lines() {
        let right =
            line.split_once(" =").filter(|(name, _)| once.contains(name)).map_or(line, |(_, right)| right);
        used.extend(
            right
                .split(|c: char| !symbol(c))
                .filter(|name| name.starts_with(|c: char| c.is_ascii_alphabetic())),
        );
    }
    assert_eq!(used, once);
}
