//! A table with a row that does not fit the others.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "table-shape", level: Level::Error, waivable: true, page: include_str!("table_shape.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::TableShape { place, first, table, what } = trouble else { continue };
        let finding = RULE
            .at(*place, format!("the table `{table}` {what}"))
            .label("this row")
            .why("One mistyped row condemns a good part or passes a bad one, and only at that one temperature, load or size.")
            .help("compare the row with the source, figure by figure; its sign too");
        findings.push(match first {
            Some(first) => finding.related(*first, "the row before it that it goes against"),
            None => finding,
        });
    }
}
