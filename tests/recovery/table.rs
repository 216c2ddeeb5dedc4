//! The figures of all slips of one kind, as a row of a table.

use super::damage::{Damage, Sound};
use super::outcome::Outcome;

/// What is counted of many slips.
#[derive(Clone, Copy, Default)]
pub(super) struct Row {
    /// How many slips were tried.
    pub(super) tried: usize,
    /// How many were found, by the parser or by the checker.
    pub(super) found: usize,
    /// How many of these on their own line or the next.
    pub(super) near: usize,
    /// How many on the line before.
    before: usize,
    /// How many the parser alone found.
    parser: usize,
    /// How many findings came, in all.
    pub(super) findings: usize,
    /// How often the checker was asked too where the parser spoke, and how many findings came then from both.
    asked: usize,
    in_all: usize,
    /// Pieces of trees on other lines, and how many of them were lost.
    pub(super) others: usize,
    pub(super) lost: usize,
}

impl Row {
    pub(super) fn count(&mut self, outcome: &Outcome) {
        self.tried += 1;
        self.found += usize::from(outcome.distance().is_some());
        self.near += usize::from(matches!(outcome.distance(), Some(0 | 1)));
        self.before += usize::from(outcome.distance() == Some(-1));
        self.parser += usize::from(outcome.parser.is_some());
        self.findings += outcome.said.len();
        self.asked += usize::from(outcome.in_all.is_some());
        self.in_all += outcome.in_all.unwrap_or(0);
        self.others += outcome.others;
        self.lost += outcome.lost;
    }

    pub(super) fn add(&mut self, other: Row) {
        self.tried += other.tried;
        self.found += other.found;
        self.near += other.near;
        self.before += other.before;
        self.parser += other.parser;
        self.findings += other.findings;
        self.asked += other.asked;
        self.in_all += other.in_all;
        self.others += other.others;
        self.lost += other.lost;
    }

    /// The findings for one slip that is found.
    pub(super) fn findings_each(&self) -> f64 {
        self.findings as f64 / self.found.max(1) as f64
    }

    /// The findings for one slip that the parser finds, with what the checker adds.
    pub(super) fn findings_in_all(&self) -> f64 {
        self.in_all as f64 / self.asked.max(1) as f64
    }

    /// Its line of the table.
    pub(super) fn shown(&self, name: &str) -> String {
        format!(
            "| {name} | {} | {} | {} | {:.1} % | {} | {} | {:.2} | {:.2} | {:.2} % |",
            self.tried,
            self.parser,
            self.found - self.parser,
            percent(self.near, self.found),
            self.before,
            self.tried - self.found,
            self.findings_each(),
            self.findings_in_all(),
            100.0 - percent(self.lost, self.others),
        )
    }
}

/// The head of the table.
pub(super) const HEAD: &str = "| slip | tried | found by the parser | by the checker | same or next line | line before | silent | findings each | with the checker's | of the rest still read |\n| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |";

pub(super) fn percent(part: usize, whole: usize) -> f64 {
    100.0 * part as f64 / whole.max(1) as f64
}

/// One slip and what came of it, on one line.
pub(super) fn told(files: &[Sound], damage: &Damage, outcome: &Outcome) -> String {
    let sound = &files[damage.file];
    let number = sound.text[..damage.start].matches('\n').count();
    let line = sound.text.lines().nth(number).unwrap_or_default().trim();
    let what = &sound.text[damage.start..damage.end];
    format!(
        "{}:{} `{what}` -> `{}` | lost {} | {line} | {}",
        sound.path,
        number + 1,
        damage.by,
        outcome.lost,
        outcome.said.join(" & ")
    )
}
