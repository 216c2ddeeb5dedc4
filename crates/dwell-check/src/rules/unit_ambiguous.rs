//! A unit that could be two.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

/// Why it matters.
const WHY: &str = "Each reader makes another unit of it, is sure of it, and does other work.";

pub(super) const RULE: Rule = Rule {
    name: "unit-ambiguous",
    level: Level::Error,
    waivable: false,
    page: include_str!("unit_ambiguous.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        findings.push(RULE.of_slip(file, slip, "write which of them is meant").label("which one?").why(WHY));
    }
    for trouble in facts.troubles {
        let Trouble::UnitAmbiguous { place, unit, why, choices } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("`{unit}` can mean more than one unit: {why}"))
                .label("which one?")
                .why(WHY)
                .help(format!("write {}", alternatives(choices))),
        );
    }
}
