//! Slips that nobody finds: nearly all of them leave a text that is as valid as before, and it is said here in which way.

use std::collections::BTreeMap;

use dwell_syntax::lex::{TokenKind, lex};

use super::damage::{Damage, Kind, Sound};
use super::outcome::Outcome;

/// In which way a slip is silent.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Silent {
    /// A text that may stand there and need not: what to do, a title, a name for people.
    Text,
    /// A unit that is said beside it, as in `62 ± 3 Hz target 62`, or that nothing asks for.
    Unit,
    /// The parser's example is read by the parser alone; in the library the checker would have the last word.
    Unchecked,
    /// Anything else: the text is valid and says something different.
    Different,
}

impl Silent {
    /// As the table names it.
    fn shown(self) -> &'static str {
        match self {
            Silent::Text => "a text that need not stand there",
            Silent::Unit => "a unit that need not stand there",
            Silent::Unchecked => "in the parser's example, which the checker does not read",
            Silent::Different => "valid too, and says something different",
        }
    }

    /// In which way this slip is silent, `None` where it is found.
    pub(super) fn of(slip: &Damage, file: &Sound, outcome: &Outcome) -> Option<Silent> {
        if outcome.distance().is_some() {
            return None;
        }
        let lost = (slip.kind == Kind::Token).then(|| {
            let tokens = lex(&file.text).tokens;
            tokens.iter().find(|token| token.span.start == slip.start).map(|token| token.kind)
        });
        Some(match lost.flatten() {
            Some(TokenKind::Str | TokenKind::LineStr) => Silent::Text,
            _ if !file.checks => Silent::Unchecked,
            Some(TokenKind::Unit) => Silent::Unit,
            _ => Silent::Different,
        })
    }
}

/// How many of each kind.
#[derive(Default)]
pub(super) struct Silence(BTreeMap<Silent, usize>);

impl Silence {
    pub(super) fn count(&mut self, silent: Silent) {
        *self.0.entry(silent).or_default() += 1;
    }

    /// How many say something different.
    pub(super) fn different(&self) -> usize {
        self.0.get(&Silent::Different).copied().unwrap_or_default()
    }

    /// Their table.
    pub(super) fn shown(&self) -> String {
        let rows = self.0.iter().map(|(silent, count)| format!("| {} | {count} |", silent.shown()));
        let head = ["| silent | how many |".to_owned(), "| --- | --- |".to_owned()];
        head.into_iter().chain(rows).collect::<Vec<_>>().join("\n")
    }
}
