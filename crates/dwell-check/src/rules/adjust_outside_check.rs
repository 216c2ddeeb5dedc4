//! A band to set to that is not inside the band to check against.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "adjust-outside-check",
    level: Level::Error,
    waivable: false,
    page: include_str!("adjust_outside_check.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AdjustOutsideCheck { place, check, adjust_written, check_written, by } = trouble else {
            continue;
        };
        findings.push(
            RULE.at(*place, format!("set to {adjust_written}, but checked against {check_written}"))
                .label(by.clone())
                .related(*check, "the band to check against")
                .why("A value that has just been set well would be out of band at the next check.")
                .help(format!("let the band to set to lie inside {check_written}")),
        );
    }
}
