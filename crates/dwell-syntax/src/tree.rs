//! The tree of a Dwell file: typed, with the bytes each part stands at. Comments are kept beside it (see [`Trivia`]).

mod declaration;
mod expression;
mod inside;
mod statement;

pub use declaration::*;
pub use expression::*;
pub use statement::*;

/// A range of bytes in one file; `start <= end`.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The first byte.
    pub start: usize,
    /// The byte after the last.
    pub end: usize,
}

impl Span {
    /// The bytes from `start` up to `end`; a reversed pair is put right.
    pub fn new(start: usize, end: usize) -> Span {
        Span { start: start.min(end), end: end.max(start) }
    }

    /// The smallest span that holds both.
    pub fn to(self, other: Span) -> Span {
        Span { start: self.start.min(other.start), end: self.end.max(other.end) }
    }

    /// Whether `other` lies within this span.
    pub fn holds(self, other: Span) -> bool {
        self.start <= other.start && other.end <= self.end
    }
}

/// A name as it was typed: kebab-case.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Name {
    /// Its letters.
    pub text: String,
    /// Where it stands.
    pub span: Span,
}

/// A text in quotes, one line.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Text {
    /// What stands between the quotes, with `\"` and `\\` resolved.
    pub text: String,
    /// Where it stands, with its quotes.
    pub span: Span,
}

/// A whole file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct File {
    /// Its declarations, in order.
    pub declarations: Vec<Declaration>,
}

/// What the tree does not hold but the formatter must keep.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Trivia {
    /// The comments in order, each from `#` to the end of its line.
    pub comments: Vec<Comment>,
}

/// A comment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Comment {
    /// Its text after the `#`, without blanks at the ends.
    pub text: String,
    /// Where it stands, from the `#` on.
    pub span: Span,
    /// Whether nothing but blanks stands before it on its line.
    pub own_line: bool,
}
