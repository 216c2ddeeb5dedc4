//! What keeps a register from being read: the line, what is wrong and what to write instead.

use std::fmt;

/// One place in a register that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The line, from 1.
    pub line: usize,
    /// What is wrong, without a final point.
    pub what: String,
    /// What to do about it, without a final point.
    pub help: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "line {}: {}\n  help: {}", self.line, self.what, self.help)
    }
}

impl std::error::Error for Fault {}
