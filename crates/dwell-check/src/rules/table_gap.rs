//! A table that has no row, or two, for a value that can come.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "table-gap", level: Level::Error, waivable: true, page: include_str!("table_gap.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::TableGap { place, other, table, what } = trouble else { continue };
        let finding = RULE
            .at(*place, format!("the table `{table}` {what}"))
            .label("at this seam")
            .why("For such a vehicle nobody can tell which limit it is judged by: the table gives none, or two.")
            .help("let each class begin where the one before it ends, and the rows reach as far as the readings do");
        findings.push(match other {
            Some(other) => finding.related(*other, "the other side of it"),
            None => finding,
        });
    }
}
