//! A part that is used up goes back.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "single-use-refitted",
    level: Level::Error,
    waivable: false,
    page: include_str!("single_use_refitted.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::SingleUseRefitted { place, verb, item, off, witness } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("`{verb}` puts back what is used up: the {item}"))
            .label("the old one")
            .why("A part that is used up seals, locks or holds no more: it comes loose on the road.")
            .help("write `renew`, which asks for a new one")
            .witness(witness);
        if let Some(off) = off {
            finding = finding.related(*off, "used up here");
        }
        findings.push(finding);
    }
}
