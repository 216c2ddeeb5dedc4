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
        let message = format!("`{spec}` has no value when {missing}");
        let before = findings.iter_mut().find(|finding| {
            finding.rule == RULE.name && finding.message == message && finding.place.file == place.file
        });
        if let Some(before) = before {
            if before.place != *place {
                before.related.push((*place, "needed here as well".to_owned()));
            }
            continue;
        }
        let finding = RULE
            .at(*place, message)
            .label(format!("nothing when {missing}"))
            .why("At that vehicle there would be no value, and a neighbour's would be taken.")
            .help(format!("add a line `check … when {missing}`, or narrow the procedure with `applies to`"));
        findings.push(match used {
            Some(used) => finding.related(*used, "it is needed here"),
            None => finding,
        });
    }
}
