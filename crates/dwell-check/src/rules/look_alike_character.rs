//! A character that looks like another one and is read as neither.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};

pub(super) const RULE: Rule = Rule {
    name: "look-alike-character",
    level: Level::Error,
    waivable: false,
    page: include_str!("look_alike_character.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        findings.push(
            RULE.of_slip(file, slip, "type the character that is meant on a plain keyboard")
                .label("not the character that it looks like")
                .why("The writer sees one value and the card would say another: so it is refused before anyone works to it."),
        );
    }
}
