//! Where an opening brace got lost: after a line that has a block by its words and by the indentation of the next, or in a
//! line that closes more than it opens.

use super::input::Tok;
use crate::lex::TokenKind;
use crate::words::{Group, Word};

/// The places in `tokens` before which an opening brace is missing, in order; `column` says how far a token is indented.
pub(super) fn places(tokens: &[Tok<'_>], column: impl Fn(&Tok<'_>) -> usize) -> Vec<usize> {
    let mut places = Vec::new();
    let mut start = 0;
    while let Some(rest) = tokens.get(start..).filter(|rest| !rest.is_empty()) {
        let more = rest.get(1..).unwrap_or(&[]);
        let length = more.iter().position(|token| token.first).map_or(rest.len(), |at| at + 1);
        let (line, after) = rest.split_at_checked(length).unwrap_or((rest, &[]));
        if let Some(closes) = spare_on_line(line) {
            places.extend(line.get(..closes).and_then(within_line).map(|at| start + at));
        } else if let (Some(first), Some(next)) = (line.first(), after.first())
            && has_block(line)
            && begins_in_block(line, next)
            && column(next) > column(first)
        {
            places.push(start + length);
        }
        start += length;
    }
    places
}

/// The closing brace of a line that has its partner not on this line, though something stands before it.
fn spare_on_line(line: &[Tok<'_>]) -> Option<usize> {
    let mut open = 0usize;
    for (at, token) in line.iter().enumerate() {
        match token.kind {
            TokenKind::OpenBrace => open += 1,
            TokenKind::CloseBrace if open > 0 => open -= 1,
            TokenKind::CloseBrace => {
                let only_braces = line.iter().take(at).all(|token| token.kind == TokenKind::CloseBrace);
                return if only_braces { None } else { Some(at) };
            }
            _ => {}
        }
    }
    None
}

/// The word that a line begins with, after a closing brace.
fn head<'a, 't>(line: &'a [Tok<'t>]) -> Option<&'a Tok<'t>> {
    line.iter().find(|token| token.kind != TokenKind::CloseBrace)
}

/// Whether this line should end with an opening brace and does not.
fn has_block(line: &[Tok<'_>]) -> bool {
    let ended = line.last().is_some_and(|last| {
        !matches!(last.kind, TokenKind::Comma | TokenKind::Colon | TokenKind::Equals | TokenKind::CloseBrace)
    });
    let opens = line.iter().any(|token| token.kind == TokenKind::OpenBrace);
    let blocks = head(line).and_then(|head| head.word).is_some_and(|word| {
        matches!(
            word,
            Word::Procedure
                | Word::Spec
                | Word::Table
                | Word::Quantity
                | Word::Handling
                | Word::Item
                | Word::Tool
                | Word::Needs
                | Word::Leaves
                | Word::Step
                | Word::Restore
                | Word::Case
                | Word::If
                | Word::Else
                | Word::For
                | Word::Otherwise
                | Word::Adjust
                | Word::Keep
                | Word::Rows
        )
    });
    ended && blocks && !opens
}

/// Whether the line that `next` begins is one of a block, not the rest of the line above.
fn begins_in_block(line: &[Tok<'_>], next: &Tok<'_>) -> bool {
    let rows = head(line).is_some_and(|head| head.is(Word::Table) || head.is(Word::Rows));
    let begins = match next.word {
        Some(Word::If | Word::For | Word::Not) => true,
        Some(Word::At) => rows,
        Some(word) => !word.is_hard() && (word.group() != Group::Clause || word == Word::Check),
        None => true,
    };
    next.kind == TokenKind::LineWord && begins
}

/// Where in a line, up to a closing brace that is too many, the opening one belongs.
fn within_line(line: &[Tok<'_>]) -> Option<usize> {
    let is = |at: usize, word: Word| line.get(at).is_some_and(|token| token.is(word));
    let first_text = |from: usize| {
        let after = line.get(from..)?;
        after.iter().position(|token| token.kind == TokenKind::Str).map(|at| from + at + 1)
    };
    let place = |at: usize| {
        let token = line.get(at)?;
        let begins = token.kind == TokenKind::LineWord;
        match token.word? {
            Word::Needs | Word::Leaves if begins => Some(at + 1),
            Word::Restore if begins => {
                let signed = if is(at + 1, Word::Signed) { at + 2 } else { at + 1 };
                Some(if is(signed, Word::Twice) { signed + 1 } else { signed })
            }
            Word::Else if !is(at + 1, Word::If) => Some(at + 1),
            Word::Otherwise if is(at + 1, Word::Low) || is(at + 1, Word::High) => {
                let named = line.get(at + 3)?.word.is_some_and(Word::begins_statement);
                Some(if named { at + 3 } else { at + 2 })
            }
            Word::Otherwise if is(at + 1, Word::No) => Some(at + 3),
            Word::Otherwise => Some(at + 1),
            Word::Case | Word::Step | Word::Item | Word::Tool | Word::Quantity if begins => first_text(at),
            Word::Spec if begins && line.get(at + 2).is_some_and(|sign| sign.kind == TokenKind::Colon) => {
                Some(at + 4)
            }
            Word::By if line.iter().any(|token| token.is(Word::Adjust)) => Some(at + 1),
            _ => None,
        }
    };
    let blocked = |at: usize| line.get(at).is_none_or(|next| next.kind == TokenKind::OpenBrace);
    (0..line.len()).rev().filter_map(place).find(|at| !blocked(*at))
}
