//! `waive`: what the writer lets pass, in a block of statements and in a declaration.

use chumsky::prelude::*;

use super::input::{Rule, roomy, span_of};
use super::line::braced;
use super::lost::must;
use super::lost::statement::lost_before_reason;
use super::name::{keyword, name, sign, text};
use crate::lex::TokenKind;
use crate::tree::{Line, LineKind, Name, Text};
use crate::words::Word;

/// `waive caution-missing because "…"`: the rule and the reason.
pub(super) fn waiver<'t>() -> Rule<'t, (Name, Text)> {
    keyword(Word::Waive)
        .ignore_then(name())
        .or(lost_before_reason())
        .then_ignore(must(Word::Because, |next| next.kind == TokenKind::Str))
        .then(text())
        .boxed()
}

/// A waiver as a line of a declaration.
pub(super) fn waiver_line<'t>() -> Rule<'t, Line> {
    let kind = waiver().map(|(rule, because)| LineKind::Waive { rule, because });
    roomy(kind.map_with(|kind, extra| Line { kind, when: Vec::new(), span: span_of(extra.slice()) }).boxed())
}

/// `{ waive … }` after a declaration that has no other lines.
pub(super) fn waivers<'t>() -> Rule<'t, Vec<Line>> {
    // What follows on the same line without a brace is the next declaration, not something on the way to one.
    let opened = sign(TokenKind::OpenBrace).rewind().ignore_then(braced(waiver_line()));
    opened.or_not().map(Option::unwrap_or_default).boxed()
}
