//! A place in the settings that says nothing they know.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};

pub(super) const RULE: Rule =
    Rule { name: "settings", level: Level::Error, waivable: false, page: include_str!("settings.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        let help = "mend this place; until then nothing of the settings is taken";
        findings.push(
            RULE.of_slip(file, slip, help)
                .label("this is not known here")
                .why("A setting that is not understood would be left out in silence: the check would be milder than agreed."),
        );
    }
}
