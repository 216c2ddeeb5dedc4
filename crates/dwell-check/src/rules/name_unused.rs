//! A name that is declared and used nowhere.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "name-unused", level: Level::Hint, waivable: true, page: include_str!("name_unused.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NameUnused { place, name, what } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("`{name}` is {what} that nothing uses"))
                .label("used nowhere in these files")
                .why("Whoever changes a value here believes that something changes at the vehicle.")
                .help("take it out, or use it where another name or a number stands in its place"),
        );
    }
}
