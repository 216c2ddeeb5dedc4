//! `expect` and `if`, misspelt or lost before the test that they ask.

use chumsky::prelude::*;

use super::super::input::{Extra, Input, Place, Tok};
use super::super::mistake::Expected;
use super::super::name::keyword;
use super::ahead::{
    ahead, begins_nothing, block_on_line, is_going_on, is_word, nearly, note_lost, note_misspelt, refused,
};
use crate::lex::TokenKind;
use crate::words::Word;

/// `expect` or `if`, also misspelt.
pub(in crate::parse) fn test_word<'t>(meant: Word) -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    let misspelt = custom(move |place: &mut Place<'t, '_>| {
        let short = place.peek().filter(|next| {
            meant == Word::If
                && next.kind == TokenKind::LineWord
                && next.text.len() > 1
                && nearly(next, meant)
        });
        if short.is_some() {
            let [_, what, relation, value] = ahead(place);
            if is_going_on(what) && tests(relation, value) {
                note_misspelt(place, meant);
                return Ok(());
            }
        }
        refused(place, Expected::word(meant))
    });
    keyword(meant).ignored().or(misspelt)
}

/// Nothing, where `expect` or `if` is missing before its test: which of them, a block on the line tells.
pub(in crate::parse) fn lost_before_test<'t>(
    meant: Word,
) -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        if !place.peek().is_some_and(begins_nothing) {
            return refused(place, Expected::word(meant));
        }
        let [first, second, third, fourth] = ahead(place);
        let all = is_word(first, Word::Every) || is_word(first, Word::Any);
        let tests = match all {
            true => is_going_on(second) && tests(third, fourth),
            false => tests(second, third),
        };
        let mut fits = || match block_on_line(place) {
            Some(held) => meant == Word::If && !held,
            None => meant == Word::Expect,
        };
        if tests && fits() {
            note_lost(place, meant);
            return Ok(());
        }
        refused(place, Expected::word(meant))
    })
}

/// Whether these two tokens after a name can only be a test: no clause of a verb begins like that.
pub(super) fn tests(relation: Option<Tok<'_>>, value: Option<Tok<'_>>) -> bool {
    let Some(word) = relation.filter(|relation| !relation.fresh).and_then(|relation| relation.word) else {
        return false;
    };
    let number = value.is_some_and(|value| matches!(value.kind, TokenKind::Number | TokenKind::Compound));
    match word {
        Word::Is | Word::Are => true,
        Word::At => is_word(value, Word::Least) || is_word(value, Word::Most),
        Word::Meets | Word::Misses => is_going_on(value),
        Word::Within | Word::Above | Word::Below | Word::Exactly => number || is_going_on(value),
        _ => false,
    }
}
