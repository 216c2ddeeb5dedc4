//! Looking ahead to tell what a line is, and noting what is missing or misspelt there without losing the place.

use chumsky::span::SimpleSpan;

use super::super::input::{Place, Tok};
use super::super::mistake::{Expected, Mistake, Saying};
use super::super::near::within;
use crate::lex::TokenKind;
use crate::words::Word;

/// How many tokens of a line are looked at to find out what it is.
pub(super) const FAR: usize = 64;

/// Goes on after the next token if it is this word.
pub(super) fn takes(place: &mut Place<'_, '_>, word: Word) -> bool {
    let found = place.peek().is_some_and(|next| next.is(word));
    if found {
        place.skip();
    }
    found
}

/// The next tokens, without going on.
pub(super) fn ahead<'t, const N: usize>(place: &mut Place<'t, '_>) -> [Option<Tok<'t>>; N] {
    let before = place.save();
    let found = std::array::from_fn(|_| place.next());
    place.rewind(before);
    found
}

/// Notes a mistake at the next token, without going on.
pub(super) fn note(place: &mut Place<'_, '_>, mistake: impl FnOnce(SimpleSpan<usize>) -> Mistake) {
    let before = place.save();
    let start = place.cursor();
    place.skip();
    let span = place.span_since(&start);
    place.rewind(before);
    place.emit(mistake(span));
}

/// Notes that `expected` is missing before the next token.
pub(super) fn note_missing(place: &mut Place<'_, '_>, expected: Expected) {
    note(place, |span| Mistake::expected(span, expected));
}

/// Notes that the word `lost` is missing before the next token.
pub(super) fn note_lost(place: &mut Place<'_, '_>, lost: Word) {
    note(place, |span| Mistake::said(span, Saying::Lost(lost)));
}

/// Notes that the next token is meant as `meant`, and goes on after it.
pub(super) fn note_misspelt(place: &mut Place<'_, '_>, meant: Word) {
    note(place, |span| Mistake::said(span, Saying::Misspelt(meant)));
    place.skip();
}

/// Nothing here.
pub(super) fn refused<T>(place: &mut Place<'_, '_>, expected: Expected) -> Result<T, Mistake> {
    let before = place.cursor();
    place.skip();
    Err(Mistake::expected(place.span_since(&before), expected))
}

/// Whether a token is a word that the language does not know and that is one letter from `meant`.
pub(super) fn nearly(found: &Tok<'_>, meant: Word) -> bool {
    found.is_word() && found.word.is_none() && within(found.text, meant.text(), 1)
}

/// Whether a token stands first on its line and is nearly `meant`.
pub(super) fn nearly_first(found: Option<Tok<'_>>, meant: Word) -> bool {
    found.is_some_and(|found| found.kind == TokenKind::LineWord && nearly(&found, meant))
}

/// Whether a token stands first on its line and begins no statement, so that a word may be missing before it.
pub(super) fn begins_nothing(found: Tok<'_>) -> bool {
    found.kind == TokenKind::LineWord
        && found.is_name()
        && !found.word.is_some_and(|word| word.begins_statement() || word.begins_part())
}

/// Whether a token is of this kind.
pub(super) fn is(found: Option<Tok<'_>>, kind: TokenKind) -> bool {
    found.is_some_and(|found| found.kind == kind)
}

/// Whether a token is this word.
pub(super) fn is_word(found: Option<Tok<'_>>, word: Word) -> bool {
    found.is_some_and(|found| found.is(word))
}

/// Whether a token is a name on a line that goes on.
pub(super) fn is_going_on(found: Option<Tok<'_>>) -> bool {
    found.is_some_and(|found| found.kind == TokenKind::Word && found.is_name())
}

/// Whether a token is a text on a line that goes on, which asks something.
pub(super) fn asks(found: Option<Tok<'_>>) -> bool {
    found.is_some_and(|found| found.kind == TokenKind::Str && found.text.ends_with("?\""))
}

/// Whether a block begins on this line, before an `otherwise`; and whether a text or `with` stands before it, as in `keep`.
pub(super) fn block_on_line(place: &mut Place<'_, '_>) -> Option<bool> {
    let before = place.save();
    place.skip();
    let mut found = None;
    let mut held = false;
    for _ in 0..FAR {
        match place.next() {
            Some(next) if next.kind == TokenKind::OpenBrace => {
                found = Some(held);
                break;
            }
            Some(next) if next.first || next.is(Word::Otherwise) || next.kind == TokenKind::CloseBrace => {
                break;
            }
            Some(next) => held |= next.kind == TokenKind::Str || next.is(Word::With),
            None => break,
        }
    }
    place.rewind(before);
    found
}
