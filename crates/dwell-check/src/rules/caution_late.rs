//! A caution that stands after the step it belongs to.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "caution-late", level: Level::Error, waivable: true, page: include_str!("caution_late.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Exposed { place, hazard, text, from, source, late: Some(late), witness, .. } = trouble
        else {
            continue;
        };
        let mut finding = RULE
            .at(*late, format!("this caution for {hazard} comes too late"))
            .label("too late")
            .related(*place, format!("the hazard begins here: {from}"))
            .why(text.clone())
            .help("move it in front of the step that it warns of")
            .witness(witness);
        if let Some(source) = source {
            finding = finding.related(*source, "the hazard comes from here");
        }
        findings.push(finding);
    }
}
