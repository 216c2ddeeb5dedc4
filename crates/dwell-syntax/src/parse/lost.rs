//! Words that got lost or were misspelt where it is plain what was meant: said once, and read on as if they stood there.

mod ahead;
pub(super) mod arm;
pub(super) mod asked;
pub(super) mod head;
pub(super) mod statement;
pub(super) mod verb;

use chumsky::prelude::*;

use self::ahead::{
    ahead, block_on_line, is_going_on, nearly, note_lost, note_missing, note_misspelt, refused, takes,
};
use super::input::{Extra, Input, Place, Tok};
use super::mistake::{Expected, Label};
use super::name::{name, text};
use crate::lex::TokenKind;
use crate::tree::{Name, Span, Text};
use crate::words::Word;

/// The word `meant` inside a statement, before something for which `fits` holds: it may be misspelt or missing.
pub(super) fn must<'t>(
    meant: Word,
    fits: fn(&Tok<'_>) -> bool,
) -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    let goes_on = move |found: &Tok<'_>| !found.fresh && fits(found);
    custom(move |place: &mut Place<'t, '_>| {
        if takes(place, meant) {
            return Ok(());
        }
        let [next, after] = ahead(place);
        match next {
            Some(next) if !next.fresh && nearly(&next, meant) && after.is_some_and(|next| goes_on(&next)) => {
                note_misspelt(place, meant);
            }
            Some(next) if goes_on(&next) => note_lost(place, meant),
            _ => return refused(place, Expected::word(meant)),
        }
        Ok(())
    })
}

/// `at` before `each`: it may be misspelt or missing.
pub(super) fn at_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    must(Word::At, |next| next.is(Word::Each))
}

/// `each` after `at` and before a name: it may be misspelt.
pub(super) fn each_word<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        if takes(place, Word::Each) {
            return Ok(());
        }
        let [next, name] = ahead(place);
        if next.is_some_and(|next| !next.fresh && nearly(&next, Word::Each)) && is_going_on(name) {
            note_misspelt(place, Word::Each);
            return Ok(());
        }
        refused(place, Expected::word(Word::Each))
    })
}

/// The colon before a name.
pub(super) fn colon<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| match place.peek() {
        Some(next) if next.kind == TokenKind::Colon => {
            place.skip();
            Ok(())
        }
        Some(next) if next.kind == TokenKind::Word && next.is_name() => {
            note_missing(place, Expected::kind(TokenKind::Colon));
            Ok(())
        }
        _ => refused(place, Expected::kind(TokenKind::Colon)),
    })
}

/// A name that is declared: where it got lost an empty one stands for it.
pub(super) fn or_lost_name<'t>() -> impl Parser<'t, Input<'t>, Name, Extra> + Clone + 't {
    let lost = custom(|place: &mut Place<'t, '_>| match place.peek() {
        Some(next)
            if matches!(
                next.kind,
                TokenKind::Colon | TokenKind::Comma | TokenKind::Str | TokenKind::OpenBrace
            ) || next.is(Word::At)
                || next.is(Word::By)
                || next.is(Word::Where) =>
        {
            note_missing(place, Expected::label(Label::Name));
            Ok(Name { text: String::new(), span: Span::new(next.span.start, next.span.start) })
        }
        _ => refused(place, Expected::label(Label::Name)),
    });
    name().or(lost)
}

/// A title: where it got lost an empty one stands for it.
pub(super) fn or_lost_text<'t>() -> impl Parser<'t, Input<'t>, Text, Extra> + Clone + 't {
    let lost = custom(|place: &mut Place<'t, '_>| match place.peek() {
        Some(next) if next.kind == TokenKind::OpenBrace => {
            note_missing(place, Expected::label(Label::Text));
            Ok(Text { text: String::new(), span: Span::new(next.span.start, next.span.start) })
        }
        _ => refused(place, Expected::label(Label::Text)),
    });
    text().or(lost)
}

/// Skips to the block of a declaration over what cannot stand before it on its line, and says so.
pub(super) fn to_its_block<'t>() -> impl Parser<'t, Input<'t>, (), Extra> + Clone + 't {
    custom(|place: &mut Place<'t, '_>| {
        let Some(next) = place.peek() else { return refused(place, Expected::default()) };
        if next.kind == TokenKind::OpenBrace {
            return Ok(());
        }
        if next.first {
            return refused(place, Expected::default());
        }
        if next.kind == TokenKind::CloseBrace || block_on_line(place).is_none() {
            return refused(place, Expected::kind(TokenKind::OpenBrace));
        }
        let text = Expected::label(Label::Text);
        note_missing(place, text.and(Expected::word(Word::At)).and(Expected::kind(TokenKind::OpenBrace)));
        while place.peek().is_some_and(|next| next.kind != TokenKind::OpenBrace) {
            place.skip();
        }
        Ok(())
    })
}
