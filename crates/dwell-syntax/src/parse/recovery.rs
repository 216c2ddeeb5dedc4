//! Going on after something that could not be read: to the next line that can begin something, never out of the block.

use chumsky::prelude::*;

use super::input::{Extra, Input, Place, Tok, span_of};
use super::mistake::{Expected, Mistake};
use crate::lex::TokenKind;
use crate::tree::Span;
use crate::words::{Group, Word};

/// Skips tokens by hand while `stops` does not hold, blocks as a whole; gives the span of what was skipped.
fn skip<'t>(
    least: usize,
    stops: impl Fn(&Tok<'t>) -> bool + Clone + 't,
    fits: impl Fn(Option<&Tok<'t>>) -> bool + Clone + 't,
) -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    custom(move |place: &mut Place<'t, '_>| {
        let before = place.cursor();
        let mut skipped = 0;
        while let Some(next) = place.peek() {
            if next.kind == TokenKind::CloseBrace || (skipped >= least && stops(&next)) {
                break;
            }
            place.skip();
            skipped += 1;
            if next.kind == TokenKind::OpenBrace {
                skip_block(place);
            }
        }
        let next = place.peek();
        if skipped < least || !fits(next.as_ref()) {
            return Err(Mistake::expected(place.span_since(&before), Expected::default()));
        }
        let from = before;
        Ok(span_of(place.slice_since(&from..)))
    })
}

/// Skips to the end of a block whose opening brace was read.
fn skip_block(place: &mut Place<'_, '_>) {
    let mut depth = 1usize;
    while let Some(next) = place.next() {
        match next.kind {
            TokenKind::OpenBrace => depth += 1,
            TokenKind::CloseBrace => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return;
        }
    }
}

/// Whether a statement or a line can begin with this token, seen by where it stands.
fn begins_line(next: &Tok<'_>) -> bool {
    next.kind == TokenKind::LineWord
        && (!next.word.is_some_and(Word::is_hard)
            || matches!(
                next.word,
                Some(Word::Otherwise | Word::If | Word::For | Word::At | Word::Not | Word::By | Word::Is)
            ))
}

/// Skips a statement.
pub(super) fn skip_statement<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(
        1,
        |next| {
            next.kind == TokenKind::LineStr
                || next.kind == TokenKind::LineWord
                    && (!next.word.is_some_and(goes_on)
                        || matches!(next.word, Some(Word::Otherwise | Word::If | Word::For)))
        },
        |_| true,
    )
}

/// Whether a line that begins with this word goes on with the statement above.
fn goes_on(word: Word) -> bool {
    word.is_hard() || word.group() == Group::Clause
}

/// Skips a line of a declaration.
pub(super) fn skip_line<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(1, begins_line, |_| true)
}

/// Skips a declaration. A closing brace cannot stand here: those without an opening one are taken out before parsing.
pub(super) fn skip_declaration<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(
        1,
        |next| next.kind == TokenKind::LineWord && next.word.is_some_and(Word::begins_declaration),
        |_| true,
    )
}

/// Skips a part of a procedure.
pub(super) fn skip_part<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(
        1,
        |next| {
            next.kind == TokenKind::LineWord
                && next.word.is_some_and(|word| word.begins_part() || word.begins_statement())
        },
        |_| true,
    )
}

/// Skips what stands before an opening brace, on lines that go on.
pub(super) fn skip_to_block<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(
        0,
        |next| next.kind == TokenKind::OpenBrace || begins_line(next),
        |next| next.is_some_and(|next| next.kind == TokenKind::OpenBrace),
    )
}

/// Skips the rest of a condition that no block follows.
pub(super) fn skip_condition<'t>() -> impl Parser<'t, Input<'t>, Span, Extra> + Clone + 't {
    skip(
        0,
        |next| {
            begins_line(next)
                || next.is(Word::Otherwise)
                || next.is(Word::Proves)
                || next.kind == TokenKind::OpenBrace
        },
        |_| true,
    )
}
