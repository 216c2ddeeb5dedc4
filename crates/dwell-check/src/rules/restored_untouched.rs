//! A line of `restore` that never has anything to put back.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "restored-untouched",
    level: Level::Information,
    waivable: true,
    page: include_str!("restored_untouched.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::RestoredUntouched { place, item } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("on no way through is there anything to put back here: the {item} is as it was"))
                .label("never done")
                .why("Either the step that it belongs to is missing, or the line is left over; whoever reads it looks for what was disturbed.")
                .help("take the line out, or write the step that it was meant for"),
        );
    }
}
