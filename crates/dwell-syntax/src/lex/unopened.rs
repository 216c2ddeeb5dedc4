//! Texts whose opening quote got lost: seen by the closing one, which stands right after a letter.

use super::scan::Scan;
use super::{Token, TokenKind};
use crate::tree::Span;
use crate::words::Word;

/// How many characters ahead quotes are counted: longer lines than this are not written by hand.
const FAR: usize = 400;

impl Scan<'_> {
    /// Whether the quote at byte `start` closes a text that was never opened: something stands right before it, and no
    /// quote is left over on its line.
    pub(super) fn closes_nothing(&self, start: usize) -> bool {
        let glued = self.before(start).is_some_and(|c| {
            c.is_alphanumeric() || matches!(c, '.' | '?' | '!' | ';' | ')' | '}' | '%' | '\'' | '\u{2019}')
        });
        let odd = || {
            let ahead = self.rest().chars().take(FAR).take_while(|c| !matches!(c, '\n' | '\r'));
            ahead.filter(|c| *c == '"').count() % 2 == 1
        };
        glued && !odd() && self.begins_text().is_some()
    }

    /// Takes the words before the closing quote for the text that they are.
    pub(super) fn read_unopened_text(&mut self, start: usize) {
        let end = self.at();
        let Some((begin, first)) = self.begins_text() else { return };
        self.take_back(begin, first);
        let inside = self.between(begin, start);
        self.slip(begin, end, "this text has no opening quote")
            .help("a text stands between two quotes: put `\"` before its first word")
            .fix(Span::new(begin, begin), "\"");
        self.look_into(inside, begin, "text");
        self.token(TokenKind::Str, begin, end);
        self.mend(format!("\"{inside}\""));
    }

    /// Where the text begins that ends here, and whether it is the first on its line.
    fn begins_text(&self) -> Option<(usize, bool)> {
        let line = self.since(self.line_start);
        let closed = (0..line.len()).rev().find(|at| {
            line.get(*at).is_some_and(|token| match token.kind {
                TokenKind::Str | TokenKind::LineStr => true,
                TokenKind::OpenBrace => !is_hole(line, *at),
                TokenKind::CloseBrace => !at.checked_sub(2).is_some_and(|open| is_hole(line, open)),
                _ => false,
            })
        });
        let after = closed.map_or(0, |at| at + 1);
        let words = line.get(after..)?;
        let at = self.first_of_text(words).or(words.len().checked_sub(1))?;
        Some((words.get(at)?.span.start, after + at == 0))
    }

    /// Which of the words before a closing quote is the first of the text: the one after a word that waits for a text, the
    /// first with a capital or that shows a reading, or the second of two that no sign and no word of the language joins.
    fn first_of_text(&self, words: &[Token]) -> Option<usize> {
        let text = |token: &Token| self.between(token.span.start, token.span.end);
        let waits = words.iter().position(|token| Word::of(text(token)).is_some_and(waits_for_text));
        let waits = waits.map(|at| at + 1).filter(|at| *at < words.len());
        let capital = words.iter().position(|token| {
            matches!(token.kind, TokenKind::Word | TokenKind::LineWord)
                && text(token).starts_with(|c: char| c.is_ascii_uppercase())
        });
        let is_name = |token: &Token| {
            matches!(token.kind, TokenKind::Word | TokenKind::LineWord)
                && !Word::of(text(token)).is_some_and(Word::is_hard)
        };
        let waits_here = |token: &Token| Word::of(text(token)).is_some_and(waits_for_text);
        let pair = words.windows(2).skip(1).position(|pair| match pair {
            [one, two] => is_name(one) && (is_name(two) && !waits_here(two) || two.kind == TokenKind::Number),
            _ => false,
        });
        let pair = pair.map(|at| at + 2);
        let hole = words.iter().position(|token| token.kind == TokenKind::OpenBrace);
        [waits, capital, pair, hole].into_iter().flatten().min()
    }
}

/// Whether the token at `at` opens a place in a text that shows a value, as in `{charge}`: no blanks stand in it.
fn is_hole(line: &[Token], at: usize) -> bool {
    match line.get(at..at + 3) {
        Some([open, name, close]) => {
            open.kind == TokenKind::OpenBrace
                && matches!(name.kind, TokenKind::Word | TokenKind::LineWord)
                && close.kind == TokenKind::CloseBrace
                && open.span.end == name.span.start
                && name.span.end == close.span.start
        }
        _ => false,
    }
}

/// Whether a text stands right after this word.
pub(super) fn waits_for_text(word: Word) -> bool {
    matches!(
        word,
        Word::Use
            | Word::Do
            | Word::Note
            | Word::Case
            | Word::From
            | Word::Because
            | Word::Source
            | Word::Condition
            | Word::Located
            | Word::Fits
            | Word::Positive
            | Word::Negative
            | Word::Passed
            | Word::Failed
            | Word::Unfinished
    )
}
