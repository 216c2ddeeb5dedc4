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
    if text.len() > 24 {
        return None;
    }
    let mut best: Option<(usize, Word)> = None;
    let mut tied = false;
    for word in WORDS.iter().copied().filter(|word| of(*word)) {
        if is_longer(text, word.text(), slack(word.text(), text)) {
            continue;
        }
        let distance = damerau_levenshtein(text, word.text());
        if distance > slack(word.text(), text) {
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
    text.len() <= 24
        && !is_longer(text, word, most)
        && (most > 1
            || agree(text.bytes(), word.bytes()) + agree(text.bytes().rev(), word.bytes().rev()) + 2
                >= word.len())
        && damerau_levenshtein(text, word) <= most
}

/// Whether one is longer than the other by more letters than may differ; never said of other than ASCII letters.
fn is_longer(text: &str, word: &str, most: usize) -> bool {
    text.is_ascii() && text.len().abs_diff(word.len()) > most
}

/// How many bytes are the same before the first that differs.
fn agree(text: impl Iterator<Item = u8>, word: impl Iterator<Item = u8>) -> usize {
    text.zip(word).take_while(|(one, other)| one == other).count()
}
