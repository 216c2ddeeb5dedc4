//! Slips of the pen, made on purpose: a token lost, a quote lost, a word of the language misspelt.

use std::collections::BTreeSet;
use std::path::Path;

use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::words::Word;

use super::pieces::pieces;
use crate::merle::Merle;

/// Which slip it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Kind {
    Token,
    OpeningQuote,
    ClosingQuote,
    Dropped,
    Doubled,
    Swapped,
    Replaced,
}

impl Kind {
    /// As the table names it.
    pub(crate) fn shown(self) -> &'static str {
        match self {
            Kind::Token => "token lost",
            Kind::OpeningQuote => "opening quote lost",
            Kind::ClosingQuote => "closing quote lost",
            Kind::Dropped => "keyword, a letter lost",
            Kind::Doubled => "keyword, a letter doubled",
            Kind::Swapped => "keyword, two letters swapped",
            Kind::Replaced => "keyword, a wrong letter",
        }
    }

    /// How many are tried where not all of them are.
    pub(crate) fn most_tried(self) -> usize {
        match self {
            Kind::Token => 400,
            Kind::OpeningQuote | Kind::ClosingQuote => 60,
            Kind::Dropped | Kind::Doubled | Kind::Swapped | Kind::Replaced => 100,
        }
    }
}

/// A file that reads without a slip, and what is needed to compare.
pub(crate) struct Sound {
    pub(crate) path: String,
    pub(crate) text: String,
    /// Whether it is one of the library, which the checker can read with what it uses.
    pub(crate) checks: bool,
}

/// One slip in one file.
pub(crate) struct Damage {
    /// The file, by its place among the sound ones.
    pub(crate) file: usize,
    pub(crate) kind: Kind,
    /// The bytes of the sound text that are replaced.
    pub(crate) start: usize,
    pub(crate) end: usize,
    /// By what.
    pub(crate) by: String,
}

impl Damage {
    /// The text with its slip.
    pub(crate) fn text(&self, sound: &str) -> String {
        format!("{}{}{}", &sound[..self.start], self.by, &sound[self.end..])
    }
}

/// The library and the parser's own example, which has every construct of the language once.
pub(crate) fn sound() -> Vec<Sound> {
    let mut all: Vec<Sound> =
        Merle::read().files.into_iter().map(|(path, text)| Sound { path, text, checks: true }).collect();
    let example = Path::new("crates/dwell-syntax/src/parse/tests/merle.dwell");
    let text = std::fs::read_to_string(crate::root().join(example)).expect("the example is there");
    all.push(Sound { path: "merle.dwell".to_owned(), text, checks: false });
    all
}

/// Every slip of every kind in every file.
pub(crate) fn all(files: &[Sound]) -> Vec<Damage> {
    let mut all = Vec::new();
    for (file, sound) in files.iter().enumerate() {
        let text = sound.text.as_str();
        let names: BTreeSet<usize> = pieces(text).names;
        for token in lex(text).tokens {
            let (start, end) = (token.span.start, token.span.end);
            let mut add = |kind, start, end, by: String| all.push(Damage { file, kind, start, end, by });
            add(Kind::Token, start, end, String::new());
            match token.kind {
                TokenKind::Str | TokenKind::LineStr => {
                    add(Kind::OpeningQuote, start, start + 1, String::new());
                    add(Kind::ClosingQuote, end - 1, end, String::new());
                }
                TokenKind::Word | TokenKind::LineWord
                    if Word::of(&text[start..end]).is_some() && !names.contains(&start) =>
                {
                    for (kind, by) in misspellings(&text[start..end], start) {
                        add(kind, start, end, by);
                    }
                }
                _ => {}
            }
        }
    }
    all
}

/// One misspelling of each kind; which letter it is follows from the place, so that all of them have their turn.
fn misspellings(word: &str, place: usize) -> Vec<(Kind, String)> {
    let letters: Vec<char> = word.chars().collect();
    let at = place % letters.len();
    let mut all = Vec::new();
    let mut add = |kind, letters: Vec<char>| {
        let by: String = letters.into_iter().collect();
        if by != word && Word::of(&by).is_none() {
            all.push((kind, by));
        }
    };
    let mut lost = letters.clone();
    lost.remove(at);
    add(Kind::Dropped, lost);
    let mut doubled = letters.clone();
    doubled.insert(at, letters[at]);
    add(Kind::Doubled, doubled);
    let mut swapped = letters.clone();
    let first = place % (letters.len() - 1);
    swapped.swap(first, first + 1);
    add(Kind::Swapped, swapped);
    let mut replaced = letters;
    // The letter to the right on the keyboard, or to the left at the end of a row.
    replaced[at] = match replaced[at] {
        'p' => 'o',
        'l' => 'k',
        'm' => 'n',
        letter => {
            let keys = "qwertyuiopasdfghjklzxcvbnm";
            let here = keys.find(letter).expect("words are written in small letters");
            keys[here + 1..].chars().next().expect("m is taken out above")
        }
    };
    add(Kind::Replaced, replaced);
    all
}
