//! The walk over a text: where it is, what it has found, and what the next thing is.

use logos::{Lexer, Logos};

use super::raw::Raw;
use super::{LARGEST_FILE, Lexed, Token, TokenKind};
use crate::slip::{Fix, Slip};
use crate::tree::{Comment, Span};

/// A walk over one text.
pub(super) struct Scan<'s> {
    pub(super) text: &'s str,
    lexer: Lexer<'s, Raw>,
    found: Lexed,
    /// Nothing but blanks stands before on this line.
    pub(super) line_first: bool,
    /// Where this line begins, in bytes.
    pub(super) line_start: usize,
    /// The token before is a brace.
    after_brace: bool,
    /// Only numbers and commas stand since the last `(`.
    pub(super) series: bool,
}

/// What begins at a place.
pub(super) struct Step {
    raw: Option<Raw>,
    start: usize,
}

impl<'s> Scan<'s> {
    pub(super) fn new(text: &'s str) -> Scan<'s> {
        let mut lexer = Raw::lexer(text);
        if text.starts_with('\u{FEFF}') {
            lexer.bump('\u{FEFF}'.len_utf8());
        }
        Scan {
            text,
            lexer,
            found: Lexed::default(),
            line_first: true,
            line_start: 0,
            after_brace: false,
            series: false,
        }
    }

    /// The next thing, or `None` at the end.
    pub(super) fn step(&mut self) -> Option<Step> {
        let raw = self.lexer.next()?;
        Some(Step { raw: raw.ok(), start: self.lexer.span().start })
    }

    /// Where the walk is, in bytes.
    pub(super) fn at(&self) -> usize {
        self.lexer.span().end
    }

    /// What has not been read yet.
    pub(super) fn rest(&self) -> &'s str {
        self.lexer.remainder()
    }

    /// The text from byte `start` on.
    pub(super) fn from(&self, start: usize) -> &'s str {
        self.text.get(start..).unwrap_or("")
    }

    /// The text from `start` up to `end`.
    pub(super) fn between(&self, start: usize, end: usize) -> &'s str {
        self.text.get(start..end).unwrap_or("")
    }

    /// The character right before byte `start`.
    pub(super) fn before(&self, start: usize) -> Option<char> {
        self.text.get(..start).and_then(|text| text.chars().next_back())
    }

    /// Moves on by `bytes`, which must end between two characters; a longer way ends at the end of the text.
    pub(super) fn skip(&mut self, bytes: usize) {
        let rest = self.rest();
        let bytes = if rest.is_char_boundary(bytes) { bytes } else { rest.len() };
        self.lexer.bump(bytes.min(rest.len()));
    }

    /// Moves on to byte `end` of the text.
    pub(super) fn skip_to(&mut self, end: usize) {
        self.skip(end.saturating_sub(self.at()));
    }

    /// Notes a token; a word or a text gets its form by what stands before it.
    pub(super) fn token(&mut self, kind: TokenKind, start: usize, end: usize) {
        let kind = match kind {
            TokenKind::Word if self.line_first || self.after_brace => TokenKind::LineWord,
            TokenKind::Str if self.line_first => TokenKind::LineStr,
            other => other,
        };
        self.found.tokens.push(Token { kind, span: Span::new(start, end) });
        self.line_first = false;
        self.after_brace = matches!(kind, TokenKind::OpenBrace | TokenKind::CloseBrace);
        match kind {
            TokenKind::OpenParen => self.series = true,
            TokenKind::Number | TokenKind::Comma | TokenKind::CloseParen => {}
            _ => self.series = false,
        }
    }

    /// Says what the token just noted stands for.
    pub(super) fn mend(&mut self, text: String) {
        if let Some(last) = self.found.tokens.len().checked_sub(1) {
            self.found.mended.push((last, text));
        }
    }

    /// The last token noted.
    pub(super) fn last(&self) -> Option<Token> {
        self.found.tokens.last().copied()
    }

    /// The tokens noted since byte `start`.
    pub(super) fn since(&self, start: usize) -> &[Token] {
        let at = self.found.tokens.partition_point(|token| token.span.start < start);
        self.found.tokens.get(at..).unwrap_or(&[])
    }

    /// Takes back the tokens from byte `start` on, and what was said of them.
    pub(super) fn take_back(&mut self, start: usize, line_first: bool) {
        let kept = self.found.tokens.partition_point(|token| token.span.start < start);
        self.found.tokens.truncate(kept);
        self.found.mended.retain(|(at, _)| *at < kept);
        self.found.slips.retain(|slip| slip.span.end <= start);
        self.line_first = line_first;
    }

    /// Turns the last token into an error token that ends at `end`.
    pub(super) fn spoil_last(&mut self, end: usize) {
        if let Some(last) = self.found.tokens.last_mut() {
            last.kind = TokenKind::Error;
            last.span = Span::new(last.span.start, end);
        }
    }

    /// Notes an error token; runs of them become one.
    pub(super) fn error(&mut self, start: usize, end: usize) {
        if let Some(last) = self.found.tokens.last_mut()
            && last.kind == TokenKind::Error
            && last.span.end == start
        {
            last.span.end = end;
            return;
        }
        self.token(TokenKind::Error, start, end);
    }

    /// A line has ended.
    pub(super) fn line_end(&mut self) {
        self.line_first = true;
        self.line_start = self.at();
    }

    /// Notes a comment.
    pub(super) fn comment(&mut self, text: &str, start: usize, end: usize) {
        let own_line = self.line_first;
        let span = Span::new(start, end);
        self.found.trivia.comments.push(Comment { text: text.trim().to_owned(), span, own_line });
    }

    /// Notes a slip of the rule `syntax`.
    pub(super) fn slip(&mut self, start: usize, end: usize, message: impl Into<String>) -> &mut Slip {
        self.slip_of("syntax", start, end, message)
    }

    /// Notes a slip; the caller adds help and repair.
    pub(super) fn slip_of(
        &mut self,
        rule: &'static str,
        start: usize,
        end: usize,
        message: impl Into<String>,
    ) -> &mut Slip {
        let slip = Slip { rule, span: Span::new(start, end), message: message.into(), help: None, fix: None };
        self.found.slips.push_mut(slip)
    }

    /// Whether the last slip ends where something at `start` begins, so that it is the same place.
    pub(super) fn slipped_right_before(&self, start: usize) -> bool {
        self.found.slips.last().is_some_and(|slip| slip.span.end == start)
    }

    /// Draws the last slip out to `end`.
    pub(super) fn widen_slip(&mut self, end: usize) {
        if let Some(slip) = self.found.slips.last_mut() {
            slip.span.end = end;
            slip.fix = None;
        }
    }

    /// What was found.
    pub(super) fn finish(mut self) -> Lexed {
        self.found.slips.sort_by_key(|slip| slip.span);
        self.found
    }
}

impl Step {
    /// Reads what begins here to its end.
    pub(super) fn read(self, scan: &mut Scan<'_>) {
        let (start, end) = (self.start, scan.at());
        let kind = match self.raw {
            Some(Raw::Blank) => return,
            Some(Raw::LineEnd) => return scan.line_end(),
            Some(Raw::Hash | Raw::Slashes) => return scan.read_comment(start),
            Some(Raw::Quote) if scan.closes_nothing(start) => return scan.read_unopened_text(start),
            Some(Raw::Quote) => return scan.read_text(start),
            Some(Raw::Letter) => return scan.read_word(start),
            Some(Raw::Digit) => return scan.read_number(start, start),
            Some(Raw::Point) => return scan.read_point(start),
            Some(Raw::Plus | Raw::Minus | Raw::Times | Raw::Over) => return scan.read_sign(start),
            Some(Raw::Wide) => return scan.read_wide(start),
            None => return scan.read_stray(start),
            Some(Raw::CloseParen) => return scan.read_close_paren(start),
            Some(Raw::DotDot) => return scan.read_dots(start),
            Some(Raw::PlusMinus) => TokenKind::PlusMinus,
            Some(Raw::Arrow) => TokenKind::Arrow,
            Some(Raw::Colon) => TokenKind::Colon,
            Some(Raw::Comma) => TokenKind::Comma,
            Some(Raw::Equals) => TokenKind::Equals,
            Some(Raw::OpenBrace) => TokenKind::OpenBrace,
            Some(Raw::CloseBrace) => TokenKind::CloseBrace,
            Some(Raw::OpenParen) => TokenKind::OpenParen,
        };
        scan.token(kind, start, end);
    }
}

impl Slip {
    /// Adds how to mend it.
    pub(crate) fn help(&mut self, help: impl Into<String>) -> &mut Slip {
        self.help = Some(help.into());
        self
    }

    /// Adds the one right repair.
    pub(crate) fn fix(&mut self, span: Span, replacement: impl Into<String>) -> &mut Slip {
        self.fix = Some(Fix { span, replacement: replacement.into() });
        self
    }
}

/// What is said of a file that is not read at all.
pub(super) fn too_large(text: &str) -> Lexed {
    let mut slip = Slip {
        rule: "syntax",
        span: Span::new(0, text.chars().next().map_or(0, char::len_utf8)),
        message: format!("the file has {} bytes, more than the limit of {LARGEST_FILE}", text.len()),
        help: None,
        fix: None,
    };
    slip.help("cut it into several files and name them with `use`");
    Lexed { slips: vec![slip], ..Lexed::default() }
}
