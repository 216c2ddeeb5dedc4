//! What keeps a readings file from being read: the row, the column, what is wrong and what to write instead.

use std::fmt;

/// The most faults that are collected from one file; a file with more is most likely no readings file.
pub const MOST_FAULTS: usize = 100;

/// One place in a readings file that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The line of the file, from 1; none where the whole file is meant.
    pub row: Option<usize>,
    /// The column by its heading; none where the whole row is meant.
    pub column: Option<String>,
    /// What is wrong, without a final point.
    pub what: String,
    /// What to do about it, without a final point.
    pub help: String,
}

impl Fault {
    /// A fault of one cell.
    pub(crate) fn cell(row: usize, column: &str, what: String, help: impl Into<String>) -> Fault {
        Fault { row: Some(row), column: Some(column.to_owned()), what, help: help.into() }
    }

    /// A fault of a whole row.
    pub(crate) fn row(row: usize, what: impl Into<String>, help: impl Into<String>) -> Fault {
        Fault { row: Some(row), column: None, what: what.into(), help: help.into() }
    }

    /// A fault of the whole file.
    pub(crate) fn file(what: impl Into<String>, help: impl Into<String>) -> Fault {
        Fault { row: None, column: None, what: what.into(), help: help.into() }
    }

    /// Where it is: "row 4, column `value`", or "the file".
    pub fn place(&self) -> String {
        match (self.row, &self.column) {
            (Some(row), Some(column)) => format!("row {row}, column `{column}`"),
            (Some(row), None) => format!("row {row}"),
            (None, _) => "the file".to_owned(),
        }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}: {}\n  help: {}", self.place(), self.what, self.help)
    }
}

impl std::error::Error for Fault {}
