//! An abbreviation in a text for the technician that nobody explains.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::program::SourceFile;
use dwell_quantity::{Lookup, lookup};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::{DeclarationKind, Span};

pub(super) const RULE: Rule = Rule {
    name: "abbreviation-unexplained",
    level: Level::Hint,
    waivable: true,
    page: include_str!("abbreviation_unexplained.md"),
};

/// Words after which a text is not for the technician: a file, a thread, a book, a reason, a test.
const NOT_FOR_THEM: [&str; 5] = ["use", "fits", "source", "because", "case"];

/// What every technician has read a thousand times, and what stands in capitals on a screen, a switch or a plate.
const KNOWN: [&str; 46] = [
    "OK", "ON", "OFF", "STOP", "START", "RUN", "READY", "RESET", "MIN", "MAX", "HIGH", "LOW", "OPEN", "HOLD",
    "AUTO", "MODE", "ENTER", "UP", "DOWN", "NOT", "NO", "YES", "AND", "OR", "ALL", "ONLY", "NEVER", "MUST",
    "BOTH", "AC", "DC", "LED", "USB", "ISO", "DIN", "SAE", "EU", "US", "UN", "TDC", "BTDC", "ATDC", "VIN",
    "II", "CO", "HC",
];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let settings = facts.options.settings.as_ref().map(|settings| settings.path.as_str());
    for (file, source) in facts.program.files.iter().enumerate().filter(|(_, source)| source.root) {
        if Some(source.path.as_str()) == settings || !is_english(facts, file, source) {
            continue;
        }
        let mut told: Vec<&str> = Vec::new();
        for span in texts(source) {
            let text = facts.text(Place { file, span });
            for (at, found) in capitals(text) {
                if told.contains(&found) || is_known(facts, found) || is_explained(facts, source, found) {
                    continue;
                }
                told.push(found);
                let start = span.start + at;
                findings.push(
                    RULE.at(Place { file, span: Span::new(start, start + found.len()) }, format!("`{found}` is explained nowhere"))
                        .label("what is it?")
                        .why("Who is new asks, or takes it for something else; the same letters mean two things in two workshops.")
                        .help(format!("write it out, or say it once: “steering angle sensor ({found})”; what the house knows can stand in the words of `dwell.toml`")),
                );
            }
        }
    }
}

/// Whether the texts of a file are English, as far as that can be told: those of its procedures, if it has any.
fn is_english(facts: &Facts, file: usize, source: &SourceFile) -> bool {
    let has_procedures = source
        .tree
        .declarations
        .iter()
        .any(|declared| matches!(declared.kind, DeclarationKind::Procedure(_)));
    !has_procedures || facts.prose.iter().any(|passage| passage.place.file == file)
}

/// Where the texts for the technician stand, with their quotes. A text after a date is about the revision.
fn texts(source: &SourceFile) -> Vec<Span> {
    let mut own = true;
    let mut all = Vec::new();
    for token in lex(&source.text).tokens {
        let written = source.text.get(token.span.start..token.span.end).unwrap_or_default();
        if matches!(token.kind, TokenKind::Str | TokenKind::LineStr) {
            if std::mem::replace(&mut own, true) {
                all.push(token.span);
            }
        } else {
            let date = written.starts_with(|first: char| first.is_ascii_digit())
                && written.matches('-').count() == 2;
            own = !date && !NOT_FOR_THEM.contains(&written);
        }
    }
    all
}

/// The words of two to five capitals in a text, outside the braces of a reading, that stand alone: not beside a digit (that is a
/// name of a thing, as in SAE 30), nor in a row of capitals (that is shouted).
fn capitals(text: &str) -> Vec<(usize, &str)> {
    let mut words: Vec<(usize, &str)> = Vec::new();
    let mut inside = false;
    let mut start = None;
    for (at, letter) in text.char_indices().chain([(text.len(), ' ')]) {
        inside = (inside || letter == '{') && letter != '}';
        let joins = !inside && letter.is_alphanumeric();
        match (joins, start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                words.extend(text.get(from..at).map(|word| (from, word)));
                start = None;
            }
            _ => {}
        }
    }
    let short =
        |word: &str| (2..=5).contains(&word.len()) && word.chars().all(|letter| letter.is_ascii_uppercase());
    let loud = |at: Option<usize>| {
        let word = at.and_then(|at| words.get(at)).map_or("", |(_, word)| *word);
        let big = word.len() > 1 && word.chars().all(|letter| letter.is_ascii_uppercase());
        big || word.starts_with(|first: char| first.is_ascii_digit())
    };
    let alone = |at: usize| !loud(at.checked_sub(1)) && !loud(Some(at + 1));
    let found = words.iter().enumerate().filter(|(at, (_, word))| short(word) && alone(*at));
    found.map(|(_, found)| *found).collect()
}

/// Whether it is a unit, a word that everybody knows, or one that the house has agreed on.
fn is_known(facts: &Facts, found: &str) -> bool {
    let agreed = facts.options.vocabulary.iter().any(|word| stands_in(&word.instead, found));
    agreed || KNOWN.contains(&found) || matches!(lookup(found), Lookup::Unit(_))
}

/// Whether a text of the file, or of one that it uses, says what it is: "air bag (SRS)", "SRS (air bag)".
fn is_explained(facts: &Facts, source: &SourceFile, found: &str) -> bool {
    let used = source.uses.iter().filter_map(|(used, _)| facts.program.files.get(*used));
    let (behind, before) = (format!("({found})"), format!("{found} ("));
    std::iter::once(source).chain(used).any(|known| {
        known.text.contains(&behind)
            || known.text.match_indices(&before).any(|(at, _)| !joined(&known.text, at))
    })
}

fn stands_in(text: &str, found: &str) -> bool {
    text.split(|letter: char| !letter.is_alphanumeric()).any(|word| word == found)
}

/// Whether a letter or a digit stands right before a place.
fn joined(text: &str, at: usize) -> bool {
    text.get(..at).and_then(|before| before.chars().next_back()).is_some_and(char::is_alphanumeric)
}
