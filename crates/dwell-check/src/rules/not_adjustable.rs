//! Something that cannot be adjusted is adjusted.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "not-adjustable",
    level: Level::Error,
    waivable: false,
    page: include_str!("not_adjustable.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotAdjustable { place, spec, declared } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("`{spec}` is adjusted here, but it is not adjustable"))
                .label("adjusted here")
                .related(*declared, "it says here that it is not adjustable")
                .why("Out of band means that something is worn or broken; turning a screw would only hide it.")
                .help("judge it with `expect` and say in `otherwise` what is to be renewed or where to look further"),
        );
    }
}
