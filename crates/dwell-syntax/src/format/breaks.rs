//! Where a line that is too long may be broken: before a clause, after a comma; never before a text.

use crate::lex::{Token, TokenKind};
use crate::words::{Group, Word};

/// Whether a clause begins with token `at`, so that a long line may be broken before it. `row` is the first token of the
/// statement.
pub(super) fn begins_clause(tokens: &[Token], words: &[String], row: usize, at: usize) -> bool {
    let kind = |at: usize| tokens.get(at).map(|token| token.kind);
    let word = |at: usize| words.get(at).map_or("", String::as_str);
    let Some(before) = at.checked_sub(1).filter(|before| *before > row) else { return false };
    matches!(kind(at), Some(TokenKind::Word | TokenKind::LineWord))
        && ends_clause(kind(before), word(before))
        && is_clause_word(word(row), word(at), word(at + 1), kind(at + 1))
}

/// Whether token `at` stands after a comma; a text never does.
pub(super) fn after_comma(tokens: &[Token], at: usize) -> bool {
    at.checked_sub(1)
        .and_then(|before| tokens.get(before))
        .is_some_and(|before| before.kind == TokenKind::Comma)
}

/// Whether a clause can end with this token, so that the next word is no name that it waits for.
fn ends_clause(kind: Option<TokenKind>, word: &str) -> bool {
    match kind {
        Some(TokenKind::Word | TokenKind::LineWord) => match Word::of(word) {
            None => true,
            Some(
                Word::Times
                | Word::Time
                | Word::Again
                | Word::Reading
                | Word::Digits
                | Word::Digit
                | Word::Turn,
            ) => true,
            Some(word) => word.group() == Group::Fold,
        },
        Some(
            TokenKind::Number
            | TokenKind::Compound
            | TokenKind::Unit
            | TokenKind::Str
            | TokenKind::LineStr
            | TokenKind::CloseParen
            | TokenKind::CloseBrace,
        ) => true,
        _ => false,
    }
}

/// Whether `word`, which is followed by `next`, begins a clause in a statement that begins with `first`.
fn is_clause_word(first: &str, word: &str, next: &str, next_kind: Option<TokenKind>) -> bool {
    let number = matches!(next_kind, Some(TokenKind::Number | TokenKind::Compound));
    match Word::of(word) {
        Some(
            Word::With
            | Word::And
            | Word::Or
            | Word::When
            | Word::Where
            | Word::Then
            | Word::Otherwise
            | Word::By
            | Word::Until
            | Word::Since
            | Word::From
            | Word::Expected
            | Word::Proves
            | Word::Brings
            | Word::Zeroes
            | Word::Nearest
            | Word::Accuracy,
        ) => true,
        Some(Word::At) => !matches!(next, "most" | "least"),
        Some(Word::To) => first != "adjust",
        Some(Word::Needs) => matches!(first, "measures" | "sets"),
        Some(Word::After | Word::Every | Word::Averaging | Word::Resolution | Word::Target) => number,
        Some(Word::Over) => number || next == "at",
        Some(Word::Take) => Word::of(next).is_some_and(|next| next.group() == Group::Fold),
        Some(Word::Up) => next == "to",
        Some(Word::One) => next == "of",
        _ => false,
    }
}
