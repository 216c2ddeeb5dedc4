//! A step or a branch that no reading and no variant leads to.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "unreachable", level: Level::Warning, waivable: true, page: include_str!("unreachable.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Unreachable { place, what } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("nothing leads to {what}"))
                .label("never done")
                .why("It looks like a safeguard, and nobody will ever do it.")
                .help(
                    "take it out, or look at the condition before it: one of the two is not meant like this",
                ),
        );
    }
}
