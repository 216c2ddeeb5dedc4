//! Tokens and comments to lines: rows of a block under each other, blocks that fit in one line kept there.

use super::breaks::{after_comma, begins_clause};
use super::gaps::Gap;
use super::starts::Start;
use super::{INDENT, WIDTH};
use crate::lex::{Token, TokenKind};

/// A text being set.
pub(super) struct Layout<'t> {
    tokens: &'t [Token],
    words: &'t [String],
    starts: &'t [Start],
    gaps: &'t [Gap<'t>],
    /// For each opening brace the place of its closing one.
    closing: Vec<Option<usize>>,
    lines: Vec<String>,
    line: String,
    width: usize,
}

impl<'t> Layout<'t> {
    pub(super) fn new(
        tokens: &'t [Token],
        words: &'t [String],
        starts: &'t [Start],
        gaps: &'t [Gap<'t>],
    ) -> Layout<'t> {
        let mut closing = vec![None; tokens.len()];
        let mut open = Vec::new();
        for (at, token) in tokens.iter().enumerate() {
            match token.kind {
                TokenKind::OpenBrace => open.push(at),
                TokenKind::CloseBrace => {
                    if let Some(slot) = open.pop().and_then(|open: usize| closing.get_mut(open)) {
                        *slot = Some(at);
                    }
                }
                _ => {}
            }
        }
        Layout { tokens, words, starts, gaps, closing, lines: Vec::new(), line: String::new(), width: 0 }
    }

    /// The lines, without their ends.
    pub(super) fn lines(mut self) -> Vec<String> {
        let end = self.tokens.len();
        self.rows(0, end, 0);
        self.comments(end, 0, 0, self.lines.is_empty() && self.line.is_empty());
        self.finish_line();
        self.lines
    }

    /// The rows from token `from` up to `to`, each at `depth`.
    fn rows(&mut self, from: usize, to: usize, depth: usize) {
        let mut at = from;
        while at < to {
            let end = self.row_end(at, to);
            self.new_line(at, depth, depth, at == from);
            self.row(at, end, depth);
            at = end;
        }
    }

    /// Where the row that begins with `from` ends.
    fn row_end(&self, from: usize, to: usize) -> usize {
        let mut at = self.past(from);
        while at < to && !self.start(at).begins_line() {
            at = self.past(at);
        }
        at.min(to)
    }

    /// The token after `at`, or after the block that `at` opens.
    fn past(&self, at: usize) -> usize {
        self.closed_by(at).unwrap_or(at) + 1
    }

    fn closed_by(&self, at: usize) -> Option<usize> {
        self.closing.get(at).copied().flatten()
    }

    fn start(&self, at: usize) -> Start {
        self.starts.get(at).copied().unwrap_or_default()
    }

    fn kind(&self, at: usize) -> Option<TokenKind> {
        self.tokens.get(at).map(|token| token.kind)
    }

    fn word(&self, at: usize) -> &'t str {
        self.words.get(at).map_or("", String::as_str)
    }

    fn gap(&self, at: usize) -> Option<&'t Gap<'t>> {
        self.gaps.get(at)
    }

    /// One row, whose first line has been begun.
    fn row(&mut self, from: usize, to: usize, depth: usize) {
        let mut at = from;
        while at < to {
            let open = (at..to).find(|at| self.closed_by(*at).is_some());
            self.clauses(from, at, open.unwrap_or(to), to, depth);
            let Some(open) = open else { return };
            self.block(open, depth);
            at = self.past(open);
        }
    }

    /// The tokens from `from` up to `to` of the row that begins with `row` and ends before `end`.
    fn clauses(&mut self, row: usize, from: usize, to: usize, end: usize, depth: usize) {
        let mut at = from;
        while at < to {
            if at > row {
                if self.must_break(at) {
                    self.new_line(at, depth + 1, depth + 1, false);
                } else {
                    self.push(self.space(at));
                }
            }
            let stop = (at + 1..to).find(|at| self.must_break(*at)).unwrap_or(to);
            let brace = if stop == to && to < end { 2 } else { 0 };
            if self.width + self.flat_width(at, stop) + brace <= WIDTH {
                self.flat(at, stop);
            } else {
                self.broken(row, at, stop, brace, depth);
            }
            at = stop;
        }
    }

    /// Tokens that do not fit in one line: each clause goes to the line it fits in. `brace` is what still follows.
    fn broken(&mut self, row: usize, from: usize, to: usize, brace: usize, depth: usize) {
        let mut at = from;
        while at < to {
            let clause = |at: &usize| begins_clause(self.tokens, self.words, row, *at);
            let stop = (at + 1..to).find(clause).unwrap_or(to);
            let brace = if stop == to { brace } else { 0 };
            self.fit(at, stop, brace, depth, at > from);
            at = stop;
        }
    }

    /// One clause: on this line, on the next, or, where it fits on neither, broken after its commas.
    fn fit(&mut self, from: usize, to: usize, brace: usize, depth: usize, follows: bool) {
        let needed = self.flat_width(from, to) + brace;
        let space = if follows { self.space(from) } else { "" };
        if self.width + space.len() + needed <= WIDTH {
            self.push(space);
            return self.flat(from, to);
        }
        if follows {
            self.new_line(from, depth + 1, depth + 1, false);
        }
        let mut at = from;
        while at < to {
            let stop = (at + 1..to).find(|at| after_comma(self.tokens, *at)).unwrap_or(to);
            let needed = self.flat_width(at, stop) + if stop == to { brace } else { 0 };
            if at > from {
                let space = self.space(at);
                if self.width + space.len() + needed <= WIDTH {
                    self.push(space);
                } else {
                    self.new_line(at, depth + 1, depth + 1, false);
                }
            }
            self.flat(at, stop);
            at = stop;
        }
    }

    /// Whether token `at` cannot stand on the line of the one before: a comment ends that line, or a word would be taken
    /// for the unit of the number before.
    fn must_break(&self, at: usize) -> bool {
        let commented = self.gap(at).is_some_and(Gap::commented);
        let parted = self.gap(at).is_some_and(|gap| gap.line_end)
            && matches!(self.kind(at), Some(TokenKind::Word | TokenKind::LineWord))
            && matches!(
                at.checked_sub(1).and_then(|at| self.kind(at)),
                Some(TokenKind::Number | TokenKind::CloseParen)
            );
        commented || parted
    }

    /// The block that `open` opens, at the end of a row that stands at `depth`.
    fn block(&mut self, open: usize, depth: usize) {
        let Some(close) = self.closed_by(open) else { return };
        if self.gap(open).is_some_and(Gap::commented) {
            self.new_line(open, depth, depth + 1, false);
        } else {
            self.push(self.space(open));
        }
        let one_line = (open + 1..=close).all(|at| self.gap(at).is_none_or(|gap| !gap.line_end));
        let empty = close == open + 1 && self.gap(close).is_none_or(|gap| !gap.commented());
        if empty || (one_line && self.width + self.flat_width(open, close + 1) <= WIDTH) {
            return self.flat(open, close + 1);
        }
        self.flat(open, open + 1);
        self.rows(open + 1, close, depth + 1);
        self.new_line(close, depth, depth + 1, close == open + 1);
        self.flat(close, close + 1);
    }

    /// Writes tokens into the line as it is.
    fn flat(&mut self, from: usize, to: usize) {
        for at in from..to {
            if at > from {
                self.push(self.space(at));
            }
            self.push(self.word(at));
        }
    }

    /// How many characters [`flat`](Layout::flat) would write.
    fn flat_width(&self, from: usize, to: usize) -> usize {
        let width =
            |at: usize| self.word(at).chars().count() + if at > from { self.space(at).len() } else { 0 };
        let mut sum = 0;
        for at in from..to {
            sum += width(at);
            if sum > WIDTH {
                break;
            }
        }
        sum
    }

    /// What stands between token `at` and the one before on one line.
    fn space(&self, at: usize) -> &'static str {
        let before = at.checked_sub(1).and_then(|before| self.kind(before));
        match (before, self.kind(at)) {
            (Some(TokenKind::OpenParen), _)
            | (_, Some(TokenKind::Colon | TokenKind::Comma | TokenKind::CloseParen)) => "",
            (Some(TokenKind::OpenBrace), _) => " ",
            _ if self.start(at) == Start::Row => "  ",
            _ => " ",
        }
    }

    fn push(&mut self, text: &str) {
        self.line.push_str(text);
        self.width += text.chars().count();
    }

    /// Ends the line and begins the one of token `at`, with the comments that stand between; `depth` is the token's,
    /// `above` the comments'. No blank line stands `first` in a block.
    fn new_line(&mut self, at: usize, depth: usize, above: usize, first: bool) {
        let free = self.comments(at, above, depth, first);
        let closes = self.kind(at) == Some(TokenKind::CloseBrace);
        if free && !closes && self.start(at).begins_line() && self.gap(at).is_some_and(|gap| gap.blank) {
            self.lines.push(String::new());
        }
        self.indent(depth);
    }

    /// Ends the line and writes the comments before token `at`. Says whether a blank line may follow.
    fn comments(&mut self, at: usize, depth: usize, token_depth: usize, first: bool) -> bool {
        let Some(gap) = self.gap(at) else { return false };
        if let Some(trailing) = gap.trailing {
            self.push("  ");
            self.push(trailing);
        }
        self.finish_line();
        let row = self.start(at).begins_line() || depth > token_depth || at >= self.tokens.len();
        let mut free = row && !first;
        for comment in &gap.own {
            if free && comment.blank {
                self.lines.push(String::new());
            }
            self.indent(depth);
            self.push(comment.text);
            self.finish_line();
            free = row;
        }
        free
    }

    fn indent(&mut self, depth: usize) {
        self.line = " ".repeat(depth * INDENT);
        self.width = self.line.len();
    }

    fn finish_line(&mut self) {
        if !self.line.is_empty() {
            self.lines.push(std::mem::take(&mut self.line));
        }
        self.width = 0;
    }
}
