//! The bare pass that everything is compared with: a generated automaton that cuts the same text into whole tokens,
//! keeps nothing and judges nothing.

use logos::Logos;

/// A token as a lexer generator sees it.
#[derive(Logos, Clone, Copy, Debug, PartialEq, Eq)]
#[logos(skip r"[ \t\r\n]+")]
enum Bare {
    /// A comment.
    #[regex(r"#[^\n]*", allow_greedy = true)]
    Comment,
    /// A text in quotes.
    #[regex(r#""([^"\\\n]|\\.)*""#)]
    Text,
    /// A word.
    #[regex(r"[A-Za-z][A-Za-z0-9-]*")]
    Word,
    /// A number or a date.
    #[regex(r"[0-9]+(-[0-9]+)*(\.[0-9]+)?")]
    Number,
    /// Two points.
    #[token("..")]
    Dots,
    /// A sign of one character.
    #[regex(r"[{}():,=+*/·±°%-]")]
    Sign,
}

/// Counts the tokens of `text`.
pub(crate) fn count(text: &str) -> usize {
    Bare::lexer(text).count()
}
