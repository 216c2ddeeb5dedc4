//! A text cut into sentences and words, each word with where it stands and what stands behind it.

use super::lists;

/// A sentence: its words in order, at least one.
#[derive(Clone, Debug)]
pub(crate) struct Sentence<'a> {
    /// The words.
    pub(crate) words: Vec<Word<'a>>,
}

/// A word, a number or a `{name}`, without the signs at its ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Word<'a> {
    /// Its letters as typed.
    pub(crate) text: &'a str,
    /// The byte of the file that it begins at.
    pub(crate) start: usize,
    /// Whether a comma, a colon, a semicolon, a dash or a bracket stands between it and the next.
    pub(crate) paused: bool,
}

impl Word<'_> {
    /// The byte after its last.
    pub(crate) fn end(&self) -> usize {
        self.start + self.text.len()
    }

    /// Whether it is this word, whatever the case of its letters.
    pub(crate) fn is(&self, word: &str) -> bool {
        self.text.eq_ignore_ascii_case(word)
    }

    /// Whether it is in a list of words in lower case.
    pub(crate) fn among(&self, list: &[&str]) -> bool {
        list.iter().any(|word| self.is(word))
    }
}

impl<'a> Sentence<'a> {
    /// The words from one place on.
    pub(crate) fn from(&self, place: usize) -> &[Word<'a>] {
        self.words.get(place..).unwrap_or_default()
    }

    /// Where this run of words, in lower case with one blank between them, begins and ends.
    pub(crate) fn find(&self, run: &str) -> Option<(Word<'a>, Word<'a>)> {
        let wanted: Vec<&str> = run.split(' ').collect();
        let found = self
            .words
            .windows(wanted.len())
            .find(|words| words.iter().zip(&wanted).all(|(word, wanted)| word.is(wanted)))?;
        Some((*found.first()?, *found.last()?))
    }

    /// Whether an instruction may begin there: at the beginning, after a pause, "and", "then" or "after that", also with
    /// words such as "always" and "finally" between.
    fn begins(&self, place: usize) -> bool {
        let Some(at) = place.checked_sub(1) else { return true };
        let Some(before) = self.words.get(at) else { return false };
        let after_that = before.is("that")
            && at.checked_sub(1).and_then(|at| self.words.get(at)).is_some_and(|word| word.is("after"));
        before.paused
            || after_that
            || before.among(&["and", "then", "&"])
            || (before.among(lists::BEFORE_A_VERB) && self.begins(at))
    }

    /// The places of the verbs that tell somebody to do something: at the beginning, and after a pause, "and" or "then"
    /// where what follows shows that the word is a verb there ("and set it to zero", not "whole and clean").
    pub(crate) fn orders(&self) -> Vec<usize> {
        let mut orders = Vec::new();
        for (place, word) in self.words.iter().enumerate() {
            let before = place.checked_sub(1).and_then(|before| self.words.get(before));
            let begins = self.begins(place);
            let pure = word.among(lists::VERBS);
            let follows = self.from(place + 1).first().is_some_and(|next| {
                next.among(lists::AFTER_A_VERB)
                    || next.text.starts_with(|c: char| c.is_ascii_digit() || c == '{')
            });
            let verb = (pure && (before.is_none() || follows)) || (word.among(lists::ALSO_NOUNS) && follows);
            if begins && verb {
                orders.push(place);
            }
        }
        orders
    }
}

/// The sentences of a text that begins at this byte of its file.
pub(super) fn sentences(text: &str, start: usize) -> Vec<Sentence<'_>> {
    let mut all = Vec::new();
    let mut words: Vec<Word<'_>> = Vec::new();
    let mut at = 0;
    let mut pieces = text.split(' ').peekable();
    while let Some(piece) = pieces.next() {
        let begin = at;
        at += piece.len() + 1;
        let bare = piece.trim_start_matches(OPENING);
        let word = bare.trim_end_matches(CLOSING);
        let tail = bare.get(word.len()..).unwrap_or_default();
        if word.is_empty() {
            if let Some(last) = words.last_mut().filter(|_| !piece.is_empty()) {
                last.paused = true;
            }
        } else {
            if let Some(last) = words.last_mut().filter(|_| bare.len() < piece.len()) {
                last.paused = true;
            }
            let paused = tail.contains([',', ';', ':', ')']);
            words.push(Word { text: word, start: start + begin + piece.len() - bare.len(), paused });
        }
        let shortened = words.last().is_some_and(|last| last.among(lists::SHORT))
            && pieces.peek().is_some_and(|next| next.starts_with(|letter: char| letter.is_ascii_digit()));
        if tail.contains(['.', '!', '?']) && !words.is_empty() && !shortened {
            all.push(Sentence { words: std::mem::take(&mut words) });
        }
    }
    if !words.is_empty() {
        all.push(Sentence { words });
    }
    all
}

/// Signs before a word.
const OPENING: [char; 6] = ['(', '[', '“', '‘', '\'', '—'];
/// Signs after a word.
const CLOSING: [char; 12] = ['.', ',', ';', ':', '!', '?', ')', ']', '”', '’', '\'', '—'];
