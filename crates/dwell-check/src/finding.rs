//! A finding: one remark of a good colleague about the writer's text.

use dwell_card::graph::Way;
use dwell_syntax::tree::Span;

/// A place in one of the files of a [`Program`](crate::program::Program).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Place {
    /// The file, by its place in the program.
    pub file: usize,
    /// The bytes.
    pub span: Span,
}

/// How grave it is; the levels of the Language Server Protocol, gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Level {
    /// The procedure is not sound: no card.
    Error,
    /// Very likely wrong.
    Warning,
    /// Worth knowing.
    Information,
    /// A small hint.
    Hint,
}

impl Level {
    /// Its word, lower case.
    pub fn word(self) -> &'static str {
        match self {
            Level::Error => "error",
            Level::Warning => "warning",
            Level::Information => "information",
            Level::Hint => "hint",
        }
    }
}

/// One remark.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Finding {
    /// The rule, its name.
    pub rule: &'static str,
    /// How grave.
    pub level: Level,
    /// Where.
    pub place: Place,
    /// What is wrong, one line, without a final point.
    pub message: String,
    /// A few words at the marked text.
    pub label: String,
    /// Why it matters at the vehicle: one sentence; empty where the message says it all.
    pub why: String,
    /// How to mend it.
    pub help: Option<String>,
    /// The other places that belong to it.
    pub related: Vec<(Place, String)>,
    /// The way that leads there.
    pub witness: Option<Witness>,
    /// The one right repair, where there is one.
    pub fix: Option<Fix>,
}

/// A repair that a program can make: all of its edits, or none.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fix {
    /// What it does, a few words that begin with a verb: "write `N·m`".
    pub title: String,
    /// The edits, in the order of their places; none touches another.
    pub edits: Vec<Edit>,
}

/// One edit of a repair.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Edit {
    /// What to replace; with nothing in it, where to put something in.
    pub place: Place,
    /// By what.
    pub replacement: String,
}

impl Fix {
    /// A repair of one place.
    pub fn one(place: Place, replacement: impl Into<String>) -> Fix {
        let replacement = replacement.into();
        Fix { title: written(&replacement), edits: vec![Edit { place, replacement }] }
    }
}

/// What it is to put this in the place of something, in a few words that begin with a verb.
pub(crate) fn written(replacement: &str) -> String {
    match replacement.trim() {
        "" if replacement.contains('\n') => "begin a new line here".to_owned(),
        "" if !replacement.is_empty() => "write a plain blank".to_owned(),
        "" => "take it out".to_owned(),
        words => format!("write `{words}`"),
    }
}

/// A way through a procedure that leads to a finding, and what to read and answer to take it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Witness {
    /// The procedure.
    pub procedure: String,
    /// The variants, each axis with its value.
    pub variants: Vec<(String, String)>,
    /// The nodes of the card in order, each with the way taken from it.
    pub nodes: Vec<(usize, Way)>,
    /// The answers that make the runner take it, in the order asked.
    pub answers: Vec<Reply>,
    /// The way in words: "This happens when tension is 62 Hz (in band), with engine-family k9."
    pub says: String,
}

/// One answer of a witness.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reply {
    /// A signature: the name of a person.
    Signature(String),
    /// What is held is lost: the name of the item or quantity.
    Lost(String),
    /// A need: does it hold already?
    Need {
        /// The node of the card that asks.
        node: usize,
        /// The answer.
        holds: bool,
    },
    /// A value for a reading, number and unit as text.
    Value {
        /// The reading's name.
        name: String,
        /// The number.
        number: String,
        /// The unit.
        unit: String,
    },
    /// A reading that could not be taken.
    NoReading(String),
    /// An answer to a question.
    Choice(String, String),
}
