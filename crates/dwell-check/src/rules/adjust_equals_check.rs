//! A band to set to that reaches to the edge of the band to check against.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "adjust-equals-check",
    level: Level::Information,
    waivable: true,
    page: include_str!("adjust_equals_check.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AdjustEqualsCheck { place, check, end, whole } = trouble else { continue };
        let message = if *whole {
            "what is set and what is checked have the same band".to_owned()
        } else {
            format!("set to {end} is allowed, and {end} is the very edge of the check")
        };
        findings.push(
            RULE.at(*place, message)
                .label(format!("reaches {end}"))
                .related(*check, "the band to check against")
                .why("What was just set to the edge is out at the next check after the least drift.")
                .help("let the band to set to end a little inside the other, by the accuracy of the tool or more"),
        );
    }
}
