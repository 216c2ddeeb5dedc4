//! What could not be read in a text: where, what, and how to mend it.

use crate::tree::Span;

/// One place in a text that does not say what the language allows. A tree with a slip never becomes a card.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slip {
    /// The rule that it breaks: `syntax`, `look-alike-character`, `bad-number`, `unit-unknown`, `unit-missing` or `unit-ambiguous`.
    pub rule: &'static str,
    /// The bytes that it is about, never empty where there is text.
    pub span: Span,
    /// What is wrong, one line, no final point.
    pub message: String,
    /// How to mend it, one line.
    pub help: Option<String>,
    /// The one right repair, where there is one.
    pub fix: Option<Fix>,
}

/// A repair that a program can make.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// The bytes to replace.
    pub span: Span,
    /// What to put there.
    pub replacement: String,
}
