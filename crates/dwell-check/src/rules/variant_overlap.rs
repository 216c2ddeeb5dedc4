//! Two bands that both hold for one variant.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "variant-overlap",
    level: Level::Error,
    waivable: false,
    page: include_str!("variant_overlap.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::VariantOverlap { place, first, spec, band, other, both } = trouble else { continue };
        let whom = if both.is_empty() { "at the same time".to_owned() } else { format!("when {both}") };
        let message = if band == other {
            format!("`{spec}` says two different things {whom}")
        } else {
            format!("`{spec}` is both {other} and {band} {whom}")
        };
        findings.push(
            RULE.at(*place, message)
                .label("holds as well")
                .related(*first, "holds already")
                .why("That vehicle has two limits, and nobody can tell which of them it is judged by.")
                .help("narrow the `when` of one line, so that each vehicle has one value; a line without `when` holds for all"),
        );
    }
}
