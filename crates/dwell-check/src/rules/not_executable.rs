//! Something that nobody could do as it stands: a way to do it is missing, or it stands at the wrong place.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "not-executable",
    level: Level::Error,
    waivable: false,
    page: include_str!("not_executable.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotExecutable { place, what, help } = trouble else { continue };
        findings.push(
            RULE.at(*place, what.clone())
                .label("nobody can do this as it stands")
                .why("The technician would guess what is meant, or leave it out: so no card is made until it is clear.")
                .help(help.clone()),
        );
    }
}
