//! An exposure to a hazard that no caution covers.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "caution-missing",
    level: Level::Error,
    waivable: true,
    page: include_str!("caution_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Exposed { place, hazard, text, level, from, source, late: None, witness } = trouble
        else {
            continue;
        };
        let word = level.to_lowercase();
        let mut finding = RULE
            .at(*place, format!("no caution for {hazard} stands before this"))
            .label(from.clone())
            .why(text.clone())
            .help(format!("write `{word} {hazard}` on a line before it"))
            .witness(witness);
        if let Some(source) = source {
            finding = finding.related(*source, "the hazard comes from here");
        }
        findings.push(finding);
    }
}
