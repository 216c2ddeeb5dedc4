//! A spec that has no value for a variant.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "variant-uncovered",
    level: Level::Error,
    waivable: false,
    page: include_str!("variant_uncovered.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::VariantUncovered { place, spec, used, variants } = trouble else { continue };
        let missing: Vec<String> =
            variants.iter().map(|(axis, value)| format!("{axis} is {value}")).collect();
        let missing = missing.join(" and ");
        let mut finding = RULE
            .at(*place, format!("`{spec}` has no value when {missing}"))
            .label(format!("nothing when {missing}"))
            .why("At that vehicle there would be no value, and a neighbour's would be taken.")
            .help(format!("add a line `check … when {missing}`, or say with `applies to` that the procedure is not for it"));
        if let Some(used) = used {
            finding = finding.related(*used, "it is needed here");
        }
        findings.push(finding);
    }
}
