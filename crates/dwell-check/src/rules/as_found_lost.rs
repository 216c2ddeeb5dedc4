//! Adjusting starts before the reading is recorded: how the vehicle came in is lost.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "as-found-lost",
    level: Level::Error,
    waivable: true,
    page: include_str!("as_found_lost.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AsFoundLost { place, reading, measured, adjusted, witness } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("this can move {reading}, which has not been measured yet"))
                .label(format!("can move {reading}"))
                .related(*measured, "measured for the first time here")
                .related(*adjusted, "adjusted here")
                .why("How the vehicle came in can never be known again: no cause can be found from it, and no warranty claimed.")
                .help(format!("measure {reading} before this"))
                .witness(witness),
        );
    }
}
