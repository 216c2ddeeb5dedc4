//! A single number for what has a limit on one side only.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "side-missing",
    level: Level::Error,
    waivable: false,
    page: include_str!("side_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::SideMissing { place, shown, quantity, at_least, declared } = trouble else { continue };
        let (usual, danger) = if *at_least {
            ("at least", "what is far too small would pass as near enough")
        } else {
            ("at most", "what is far too large would pass as near enough")
        };
        let finding = RULE
            .at(*place, format!("{shown}: {quantity} at most, or at least?"))
            .label("which side?")
            .why(format!(
                "Read as a value to meet, a perfect part is rejected; read on the wrong side, {danger}."
            ))
            .help(format!("write `{usual} {shown}`"))
            .fix(*place, format!("{usual} {shown}"));
        findings.push(match declared {
            Some(there) => {
                finding.related(*there, format!("limits of {quantity} are `{usual}`, it says here"))
            }
            None => finding,
        });
    }
}
