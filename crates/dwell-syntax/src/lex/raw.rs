//! The first look at each token: its first one to three characters, told apart by a generated automaton.

use logos::Logos;

/// What begins here. No form has more than three characters; the rest is scanned by hand.
#[derive(Logos, Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Raw {
    /// A blank; the two no-break spaces count as one.
    #[regex(r"[ \t\u{A0}\u{202F}]")]
    Blank,
    /// The end of a line.
    #[token("\n")]
    #[token("\r\n")]
    #[token("\r")]
    LineEnd,
    /// The start of a comment.
    #[token("#")]
    Hash,
    /// The start of a comment in other languages.
    #[token("//")]
    Slashes,
    /// The start of a text.
    #[token("\"")]
    Quote,
    /// The first letter of a word.
    #[regex("[A-Za-z]")]
    Letter,
    /// The first digit of a number.
    #[regex("[0-9]")]
    Digit,
    /// A point that is not one of two.
    #[token(".")]
    Point,
    /// Two points.
    #[token("..")]
    DotDot,
    /// A plus-minus sign.
    #[token("±")]
    #[token("+-")]
    #[token("+/-")]
    PlusMinus,
    /// An arrow.
    #[token("->")]
    Arrow,
    /// A plus sign.
    #[token("+")]
    Plus,
    /// A minus sign.
    #[token("-")]
    Minus,
    /// A sign of multiplication.
    #[token("*")]
    #[token("·")]
    Times,
    /// A sign of division.
    #[token("/")]
    Over,
    /// A colon.
    #[token(":")]
    Colon,
    /// A comma.
    #[token(",")]
    Comma,
    /// An equals sign.
    #[token("=")]
    Equals,
    /// An opening brace.
    #[token("{")]
    OpenBrace,
    /// A closing brace.
    #[token("}")]
    CloseBrace,
    /// An opening parenthesis.
    #[token("(")]
    OpenParen,
    /// A closing parenthesis.
    #[token(")")]
    CloseParen,
    /// Any other character.
    #[regex(r"[^\x00-\x7F]", priority = 1)]
    Wide,
}
