//! A waiver that lets nothing pass.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::repair;
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "waiver-unused",
    level: Level::Warning,
    waivable: true,
    page: include_str!("waiver_unused.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::WaiverUnused { place, rule } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("nothing is found here that `{rule}` would tell"))
                .label("lets nothing pass")
                .why("What is waived in advance will not be seen when somebody breaks it, and the reason is of another day.")
                .help("take the waiver out")
                .mended("take the waiver out", Some(vec![repair::without(facts, place.file, place.span)])),
        );
    }
}
