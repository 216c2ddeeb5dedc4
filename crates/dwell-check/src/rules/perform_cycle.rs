//! Procedures, or steps, that perform each other in a circle.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "perform-cycle",
    level: Level::Error,
    waivable: false,
    page: include_str!("perform_cycle.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::PerformCycle { place, names } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("what is performed leads back to itself: {}", names.join(" → ")))
                .label("this closes the circle")
                .why("Nobody who works by it would ever come to the end.")
                .help("let one of the circle do its own work; what is tried again is a loop: `back to … up to … times`"),
        );
    }
}
