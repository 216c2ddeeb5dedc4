//! What the grammar reads: tokens with their text and, for words, which word of the language they are.

use chumsky::extra;
use chumsky::prelude::*;

use super::mistake::Mistake;
use crate::lex::{Lexed, TokenKind};
use crate::tree::{Name, Span};
use crate::words::Word;

/// A token with its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Tok<'t> {
    pub(super) kind: TokenKind,
    pub(super) word: Option<Word>,
    /// What it stands for: its bytes, or what they were mended to.
    pub(super) text: &'t str,
    pub(super) span: Span,
    /// Whether it is the first on its line.
    pub(super) first: bool,
    /// Whether it is the first on its line and what stands before does not plainly go on, as after a comma.
    pub(super) fresh: bool,
}

/// The tokens of one file.
pub(super) type Input<'t> = &'t [Tok<'t>];
/// Errors of our own, nothing else.
pub(super) type Extra = extra::Err<Mistake>;
/// A production.
pub(super) type Rule<'t, O> = Boxed<'t, 't, Input<'t>, O, Extra>;
/// The place in the tokens while parsing by hand.
pub(super) type Place<'t, 'p> = chumsky::input::InputRef<'t, 'p, Input<'t>, Extra>;

impl Tok<'_> {
    /// Whether it is a word of either kind.
    pub(super) fn is_word(&self) -> bool {
        matches!(self.kind, TokenKind::Word | TokenKind::LineWord)
    }

    /// Whether a name can stand here.
    pub(super) fn is_name(&self) -> bool {
        self.is_word() && !self.word.is_some_and(Word::is_hard)
    }

    /// Whether a name that something waits for can stand here: one that is the first on its line begins something new.
    pub(super) fn is_name_going_on(&self) -> bool {
        self.is_name() && !self.fresh
    }

    /// Whether it is the word `word`.
    pub(super) fn is(&self, word: Word) -> bool {
        self.word == Some(word)
    }

    pub(super) fn name(&self) -> Name {
        Name { text: self.text.to_owned(), span: self.span }
    }
}

/// The tokens of `lexed` with their texts.
pub(super) fn tokens<'t>(text: &'t str, lexed: &'t Lexed) -> Vec<Tok<'t>> {
    let mut mended = lexed.mended.iter().peekable();
    let mut out = Vec::with_capacity(lexed.tokens.len());
    let mut before = 0;
    for (index, token) in lexed.tokens.iter().enumerate() {
        let mut own = text.get(token.span.start..token.span.end).unwrap_or("");
        while let Some((_, better)) = mended.next_if(|(at, _)| *at <= index) {
            own = better;
        }
        let word =
            matches!(token.kind, TokenKind::Word | TokenKind::LineWord).then(|| Word::of(own)).flatten();
        let gap = text.get(before..token.span.start).unwrap_or("");
        let first = gap.contains(['\n', '\r']);
        before = token.span.end;
        let fresh = first && (!out.last().is_some_and(goes_on) || has_blank_line(gap));
        out.push(Tok { kind: token.kind, word, text: own, span: token.span, first, fresh });
    }
    out
}

/// Whether an empty line stands between two tokens.
fn has_blank_line(gap: &str) -> bool {
    let mut lines = gap.split(if gap.contains('\n') { '\n' } else { '\r' });
    lines.next();
    lines.next_back();
    lines.any(|line| line.trim().is_empty())
}

/// Whether a line that ends with this token plainly goes on in the next.
fn goes_on(last: &Tok<'_>) -> bool {
    matches!(
        last.kind,
        TokenKind::Comma
            | TokenKind::Colon
            | TokenKind::Equals
            | TokenKind::Arrow
            | TokenKind::OpenParen
            | TokenKind::Plus
            | TokenKind::Minus
            | TokenKind::Times
            | TokenKind::Over
    ) || matches!(last.word, Some(Word::And | Word::Or | Word::Then))
}

/// A rule that takes more stack from the heap when little is left. Rules that contain blocks go through this several
/// times for each level of nesting, so that a debug build on a small thread has room for the deepest text.
pub(super) fn roomy<'t, O: 't>(rule: Rule<'t, O>) -> Rule<'t, O> {
    recursive(move |_| rule).boxed()
}

/// From the first to the last of `tokens`.
pub(super) fn span_of(tokens: &[Tok<'_>]) -> Span {
    match (tokens.first(), tokens.last()) {
        (Some(first), Some(last)) => first.span.to(last.span),
        _ => Span::default(),
    }
}
