//! Two things with one name.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "declared-twice",
    level: Level::Error,
    waivable: false,
    page: include_str!("declared_twice.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::DeclaredTwice { place, name, first } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("the name `{name}` is taken already"))
            .label("the second one")
            .why("One name must mean one thing, or two people read two things on one card.")
            .help("give one of the two another name");
        finding = if first.file == 0 || first == place {
            finding.help("this name comes with the language: choose another one")
        } else {
            finding.related(*first, "the first one")
        };
        findings.push(finding);
    }
}
