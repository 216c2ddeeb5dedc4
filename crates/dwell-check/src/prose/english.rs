//! Whether the texts of a file are English, told by their small words.

use super::lists::{ENGLISH, OTHERS};
use super::sentence::Sentence;

/// Whether these sentences are English. Small words decide ("the", "and" against "der", "und", "les"); where there are none
/// of either, a letter that is not used in English does.
pub(super) fn english<'a>(sentences: impl Iterator<Item = &'a Sentence<'a>>) -> bool {
    let (mut ours, mut others, mut foreign) = (0_usize, 0_usize, false);
    for word in sentences.flat_map(|sentence| &sentence.words) {
        ours += usize::from(word.among(ENGLISH));
        others += usize::from(word.among(OTHERS));
        foreign |= word
            .text
            .chars()
            .any(|letter| letter.is_alphabetic() && !letter.is_ascii() && !UNITS.contains(&letter));
    }
    if ours + others == 0 { !foreign } else { ours > others }
}

/// Letters of units and formulas.
const UNITS: [char; 4] = ['Ω', 'µ', 'μ', 'λ'];
