//! Something that the language has but that cannot be executed, or not here.

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
                .label("cannot be executed")
                .why("What cannot be executed is refused; it is never left out silently.")
                .help(help.clone()),
        );
    }
}
