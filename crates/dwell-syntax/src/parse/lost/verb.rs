//! Whether a statement is plainly a verb with its item, so that no keyword is lost or misspelt before it.

use super::super::input::{Place, Tok};
use super::super::near::within;
use super::ahead::{ahead, begins_nothing, block_on_line, is_going_on};
use crate::words::{Group, WORDS, Word};

/// Whether a user's verb and its item stand here: the second of two names that could be a verb and no slip of a keyword, and
/// no block follows.
pub(in crate::parse) fn is_plain(place: &mut Place<'_, '_>) -> bool {
    let [verb, item] = ahead(place);
    verb.is_some_and(|verb| begins_nothing(verb) && !is_slip(&verb) && !asks_or_ends(&verb))
        && is_going_on(item)
        && !item.and_then(|item| item.word).is_some_and(follows_a_name)
        && block_on_line(place).is_none()
}

/// Whether it is nearly a keyword.
fn is_slip(verb: &Tok<'_>) -> bool {
    let nearly = |word: &Word| word.begins_statement() && within(verb.text, word.text(), 1);
    verb.word.is_none() && WORDS.iter().any(nearly)
}

/// Words that begin a test or end a procedure after a keyword that may be lost.
fn asks_or_ends(verb: &Tok<'_>) -> bool {
    verb.word.is_some_and(|word| {
        matches!(word, Word::Every | Word::Any | Word::Take)
            || matches!(word.group(), Group::Outcome | Group::Fold)
    })
}

/// Words that stand after a name in a test or a waiver.
fn follows_a_name(word: Word) -> bool {
    let tests = matches!(word, Word::Meets | Word::Misses | Word::Within | Word::Above | Word::Below);
    tests || matches!(word, Word::Exactly | Word::Because)
}
