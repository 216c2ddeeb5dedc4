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
            RULE.at(*place, format!("this waiver lets nothing pass: `{rule}` finds nothing here"))
                .label("no longer needed")
                .why(
                    "The next fault of this kind would pass with it, although nobody has looked at that one.",
                )
                .help("take the waiver out")
                .mended("take the waiver out", Some(vec![repair::without(facts, place.file, place.span)])),
        );
    }
}
