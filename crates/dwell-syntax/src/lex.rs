//! Text to tokens: words, texts, numbers with their units, signs; what is no token becomes a slip, never silence.
//!
//! The line rule lives here: a word that is the first on its line or stands right after a brace is a
//! [`LineWord`](TokenKind::LineWord), and a text that is the first on its line is a [`LineStr`](TokenKind::LineStr), so
//! that the grammar needs no line ends. Every token of unbounded length is scanned by hand from its first character, so
//! no input costs more than a constant per byte and none can exhaust the stack.

mod compound;
mod date;
mod disguise;
mod letters;
mod number;
mod outside;
mod quoted;
mod raw;
mod refused;
mod scan;
mod sign;
mod spellings;
mod unit;
mod unopened;

#[cfg(test)]
mod tests;

pub(crate) use letters::brief;
pub(crate) use unit::{nearly_unit, only_suggestion, unit_help};

use crate::slip::Slip;
use crate::tree::{Span, Trivia};

/// The largest file that is read, in bytes: 16 MB.
pub const LARGEST_FILE: usize = 16 * 1024 * 1024;
/// The longest name, in characters.
pub const LONGEST_NAME: usize = 128;
/// The longest text or comment, in characters.
pub const LONGEST_TEXT: usize = 10_000;
/// The longest number, in characters.
pub const LONGEST_NUMBER: usize = 60;

/// One token: what it is and where it stands. Its text is the span's slice of the source.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Token {
    /// What it is.
    pub kind: TokenKind,
    /// The bytes it stands at, never empty.
    pub span: Span,
}

/// The kinds of token. Blanks, line ends and comments are no tokens.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum TokenKind {
    /// A name or a keyword: letters, digits and `-` inside.
    Word,
    /// A word that is the first on its line or stands right after `{` or `}`: only such a word can be a user's verb.
    LineWord,
    /// A text in quotes.
    Str,
    /// A text that stands first on its line: it never belongs to the line above.
    LineStr,
    /// A number with its sign: `62`, `-0.5`, `1/32`, `2 1/4`.
    Number,
    /// Degrees, minutes and seconds, or hours, minutes and seconds, in one: `-0° 30′`, `1 h 30 min`.
    Compound,
    /// A unit; only ever right after a number, on the same line.
    Unit,
    /// `2031-02-11`.
    Date,
    /// `±`, `+-` or `+/-`.
    PlusMinus,
    /// `..`.
    DotDot,
    /// `->`.
    Arrow,
    /// `:`.
    Colon,
    /// `,`.
    Comma,
    /// `=`.
    Equals,
    /// `{`.
    OpenBrace,
    /// `}`.
    CloseBrace,
    /// `(`.
    OpenParen,
    /// `)`.
    CloseParen,
    /// `+` between blanks.
    Plus,
    /// `-` between blanks.
    Minus,
    /// `*` or `·` between blanks.
    Times,
    /// `/` between blanks.
    Over,
    /// What is no token; a slip stands at the same bytes.
    Error,
}

/// What a text is made of.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Lexed {
    /// The tokens, in order, none overlapping another.
    pub tokens: Vec<Token>,
    /// The comments.
    pub trivia: Trivia,
    /// What could not be read, in order of place.
    pub slips: Vec<Slip>,
    /// For tokens that mean something else than their bytes (a unit with a twin character, a number with a slip):
    /// the index of the token and the text that it stands for, in order.
    pub mended: Vec<(usize, String)>,
}

/// Reads `text` to its end. Never fails: what is no token is an [`Error`](TokenKind::Error) token with a slip beside it.
pub fn lex(text: &str) -> Lexed {
    if text.len() > LARGEST_FILE {
        return scan::too_large(text);
    }
    let mut scan = scan::Scan::new(text);
    while let Some(step) = scan.step() {
        step.read(&mut scan);
    }
    scan.finish()
}
