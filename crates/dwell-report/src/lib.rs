//! What a check found, written for other programs: JSON, SARIF 2.1.0, JUnit XML, and one line for each finding.
//!
//! Each form is a function from a [`Report`] to a text; nothing here touches a disk or a terminal. `grammar/JSON.md`
//! describes the JSON, and `grammar/reference/reviewing.md` says what each form is for.

pub mod fingerprint;
pub mod json;
mod junit;
mod lines;
mod owner;
mod sarif;
#[cfg(test)]
mod tests;
mod uri;

use dwell_check::check::Checked;
use dwell_check::finding::Level;

pub use json::json;
pub use junit::{junit, junit_text};
pub use lines::lines;
pub use owner::owner;
pub use sarif::{MOST_RESULTS, sarif};
pub use uri::{Base, Link};

/// A path that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unreadable {
    /// The path as it is shown.
    pub path: String,
    /// Why, and what to do.
    pub why: String,
}

/// All that there is to write.
#[derive(Clone, Copy, Debug)]
pub struct Report<'a> {
    /// What was found.
    pub checked: &'a Checked,
    /// What could not be read; the rest was checked without it.
    pub unreadable: &'a [Unreadable],
    /// The mildest level that lets the check fail.
    pub failing: Level,
    /// The program's version, such as 0.1.0.
    pub version: &'a str,
    /// Where the paths stand in the repository.
    pub base: &'a Base,
}

/// Characters that would break a line or move a cursor, written as `\u{…}`.
pub(crate) fn one_line(text: &str) -> String {
    let mut line = String::with_capacity(text.len());
    for letter in text.chars() {
        if letter.is_control() || matches!(letter, '\u{2028}' | '\u{2029}') {
            line.extend(letter.escape_unicode());
        } else {
            line.push(letter);
        }
    }
    line
}
