//! Numbers with a unit in a sentence, and whether a limit is meant.

use super::lists;
use super::sentence::{Sentence, Word};
use dwell_quantity::{Decimal, Lookup, lookup};

/// A number with its unit in a sentence.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Typed<'a> {
    /// The first word of it.
    pub(crate) first: Word<'a>,
    /// The last word of it.
    pub(crate) last: Word<'a>,
    /// Whether something is compared with it: "at most 5 mm", "up to 100 kPa".
    pub(crate) limit: bool,
    /// Whether "about" or the like stands before it.
    pub(crate) about: Option<Word<'a>>,
    /// Whether it is a time.
    pub(crate) time: bool,
}

/// The numbers with a unit in a sentence.
pub(crate) fn typed<'a>(sentence: &Sentence<'a>) -> Vec<Typed<'a>> {
    let words = &sentence.words;
    let mut all: Vec<Typed<'a>> = Vec::new();
    for (place, word) in words.iter().enumerate() {
        let Some((last, unit)) = amount(word, words.get(place + 1)) else { continue };
        let before = |back: usize| place.checked_sub(back).and_then(|at| words.get(at));
        let limit =
            [1, 2, 3, 4].iter().filter_map(|back| before(*back)).any(|word| word.among(lists::COMPARING))
                || number(word.text).is_none_or(ranged)
                || or_more(sentence.from(words.iter().position(|word| *word == last).unwrap_or(place) + 1))
                || all.last().is_some_and(|known| known.limit && known.last.end() + 5 >= word.start);
        all.push(Typed {
            first: *word,
            last,
            limit: limit || unit == "N·m",
            about: before(1).filter(|word| word.among(lists::ABOUT)).copied(),
            time: ["s", "min", "h", "d"].contains(&unit),
        });
    }
    all
}

/// Whether a number is a range: "2..3", "2-3".
fn ranged(number: &str) -> bool {
    number.contains("..") || number.trim_start_matches(['+', '-', '±']).contains(['-', '–'])
}

/// Whether these words behind a number make it a limit: "or more".
fn or_more(after: &[Word<'_>]) -> bool {
    matches!(after, [or, more, ..] if or.is("or") && more.among(lists::OR_MORE))
}

/// The last word of a number with its unit, and the unit: "5 mm" in two words or "5mm" in one.
fn amount<'a>(word: &Word<'a>, next: Option<&Word<'a>>) -> Option<(Word<'a>, &'a str)> {
    let digits = number(word.text)?;
    let glued = word.text.get(digits.len()..).unwrap_or_default();
    let known = |unit: &str| match lookup(unit) {
        Lookup::Unit(unit) => Some(unit.symbol()),
        Lookup::Ambiguous { .. } => Some("ambiguous"),
        Lookup::Unknown { .. } => lists::UNITS_IN_WORDS.contains(&unit).then_some("in words"),
    };
    if !glued.is_empty() {
        return Some((*word, known(glued)?));
    }
    let next = next.filter(|next| !word.paused && !next.among(lists::UNITS_THAT_ARE_WORDS))?;
    Some((*next, known(next.text)?))
}

/// The number that a word begins with, a sign and a range included.
fn number(word: &str) -> Option<&str> {
    let end = word.find(|letter: char| !(letter.is_ascii_digit() || "+-–±.,".contains(letter)));
    let digits = word.get(..end.unwrap_or(word.len()))?.trim_end_matches(['.', ',', '-', '–']);
    let parts =
        digits.trim_start_matches(['+', '-', '±']).split("..").flat_map(|part| part.split(['-', '–']));
    let mut parts = parts.map(|part| Decimal::parse(&part.replace(',', ".")).is_ok());
    parts.all(|number| number).then_some(digits)
}
