//! A value that a variant has not got.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "variant-unknown",
    level: Level::Error,
    waivable: false,
    page: include_str!("variant_unknown.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::VariantUnknown { place, value, variant, values, near, declared } = trouble else {
            continue;
        };
        let finding = RULE
            .at(*place, format!("`{variant}` is never `{value}`"))
            .label("no such value")
            .related(*declared, format!("`{variant}` is {}", alternatives(values)))
            .why("What holds for a vehicle that does not exist holds for none: the one that was meant has no value.");
        findings.push(match near.as_slice() {
            [] => finding.help(format!("write one of its values, or add `{value}` to them")),
            [only] => finding.help(format!("did you mean `{only}`?")).fix(*place, only.clone()),
            _ => finding.help(format!("did you mean {}?", alternatives(near))),
        });
    }
}
