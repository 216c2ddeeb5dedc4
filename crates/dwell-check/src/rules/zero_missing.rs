//! A tool is read or connected that may not be set to zero.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;
use dwell_card::vehicle::Readiness;

pub(super) const RULE: Rule = Rule {
    name: "zero-missing",
    level: Level::Warning,
    waivable: true,
    page: include_str!("zero_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolUnready { place, tool, what: Readiness::Zeroed, since, witness } = trouble else {
            continue;
        };
        let Some(tool) = facts.model.items.get(*tool) else { continue };
        let mut finding = RULE
            .at(*place, format!("the {} may not be set to zero here", tool.label))
            .label("not set to zero since")
            .related(tool.place, "it is to be set to zero, as declared here");
        if let Some(since) = since {
            finding = finding.related(*since, "this put its zero in doubt");
        }
        findings.push(
            finding
                .why("Every reading of it is off by the same amount, and none of them shows it.")
                .help(format!("set it to zero first: `do \"…\" zeroes {}`", tool.name))
                .witness(witness),
        );
    }
}
