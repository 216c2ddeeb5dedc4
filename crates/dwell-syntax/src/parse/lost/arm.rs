//! `otherwise` and `else`, misspelt or lost before their blocks.

use chumsky::prelude::*;

use super::super::input::{Extra, Input, Place};
use super::super::mistake::{Expected, Mistake, Saying};
use super::super::name::misspells;
use super::ahead::{ahead, is, is_going_on, is_word, nearly, note, note_lost, note_misspelt, refused, takes};
use crate::lex::TokenKind;
use crate::words::Word;

/// `otherwise`, misspelt, or missing before its block.
pub(in crate::parse) fn otherwise<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::Otherwise) {
            return Ok(());
        }
        if place.peek().and_then(|next| next.word).is_some_and(Word::begins_statement) {
            return refused(place, Expected::word(Word::Otherwise));
        }
        let [next, second, third] = ahead(place);
        let side = is_word(next, Word::Low) || is_word(next, Word::High);
        let blocked =
            is(second, TokenKind::OpenBrace) || (is_going_on(second) && is(third, TokenKind::OpenBrace));
        match next {
            Some(next) if next.is_word() && misspells(&next, Word::Otherwise) => {
                note_misspelt(place, Word::Otherwise);
            }
            Some(next) if next.kind == TokenKind::OpenBrace => {
                note(place, |span| Mistake::said(span, Saying::LostArm));
            }
            Some(next) if next.kind == TokenKind::LineWord && side && blocked => {
                note_lost(place, Word::Otherwise);
            }
            Some(next)
                if next.is(Word::No) && is_word(second, Word::Reading) && is(third, TokenKind::OpenBrace) =>
            {
                note_lost(place, Word::Otherwise);
            }
            _ => return refused(place, Expected::word(Word::Otherwise)),
        }
        Ok(())
    })
}

/// `else`, misspelt, or missing before its block.
pub(in crate::parse) fn else_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::Else) {
            return Ok(());
        }
        let [next, second] = ahead(place);
        let goes_on = is(second, TokenKind::OpenBrace) || is_word(second, Word::If);
        match next {
            Some(next) if goes_on && nearly(&next, Word::Else) => note_misspelt(place, Word::Else),
            Some(next) if next.kind == TokenKind::OpenBrace => {
                note(place, |span| Mistake::said(span, Saying::LostArm));
            }
            _ => return refused(place, Expected::word(Word::Else)),
        }
        Ok(())
    })
}
