//! Misspelt keywords: which word of the language a word nearly is.

use strsim::damerau_levenshtein;

use crate::words::{WORDS, Word};

/// How many letters may differ: one in short words, two in longer ones.
fn slack(word: &str, text: &str) -> usize {
    match word.len() {
        0..=2 => usize::from(text.len() == 3),
        3..=4 => 1,
        _ => 2,
    }
}

/// The keyword among those for which `of` holds that `text` nearly is; none where two are equally near.
pub(super) fn nearest(text: &str, of: impl Fn(Word) -> bool) -> Option<Word> {
    nearest_within(text, of, |word| slack(word, text))
}

/// The same where few words can stand: one letter may differ even in the shortest of them.
pub(super) fn nearest_of_few(text: &str, of: impl Fn(Word) -> bool) -> Option<Word> {
    nearest_within(text, of, |word| slack(word, text).max(1))
}

fn nearest_within(text: &str, of: impl Fn(Word) -> bool, slack: impl Fn(&str) -> usize) -> Option<Word> {
    if text.len() > 24 {
        return None;
    }
    let mut best: Option<(usize, Word)> = None;
    let mut tied = false;
    for word in WORDS.iter().copied().filter(|word| of(*word)) {
        if is_longer(text, word.text(), slack(word.text())) {
            continue;
        }
        let distance = damerau_levenshtein(text, word.text());
        if distance > slack(word.text()) {
            continue;
        }
        match best {
            Some((least, _)) if distance > least => {}
            Some((least, _)) if distance == least => tied = true,
            _ => {
                best = Some((distance, word));
                tied = false;
            }
        }
    }
    best.filter(|_| !tied).map(|(_, word)| word)
}

/// Whether at most `most` letters differ.
pub(super) fn within(text: &str, word: &str, most: usize) -> bool {
    let one_slip = || {
        let ends = agree(text.bytes(), word.bytes()) + agree(text.bytes().rev(), word.bytes().rev());
        ends + 2 >= word.len()
    };
    text.len() <= 24
        && (most > 1 || shares_an_end(text.as_bytes(), word.as_bytes()))
        && !is_longer(text, word, most)
        && (most > 1 || one_slip())
        && damerau_levenshtein(text, word) <= most
}

/// Whether one is longer than the other by more letters than may differ; never said of other than ASCII letters.
fn is_longer(text: &str, word: &str, most: usize) -> bool {
    text.len().abs_diff(word.len()) > most && text.is_ascii()
}

/// Whether the first or the last byte is the same, which one slip leaves so in all but the shortest words.
fn shares_an_end(text: &[u8], word: &[u8]) -> bool {
    word.len() <= 2 || text.first() == word.first() || text.last() == word.last()
}

/// How many bytes are the same before the first that differs.
fn agree(text: impl Iterator<Item = u8>, word: impl Iterator<Item = u8>) -> usize {
    text.zip(word).take_while(|(one, other)| one == other).count()
}
