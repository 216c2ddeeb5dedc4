//! A tool is read or connected that may not be set to zero.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair;
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
            .related(tool.place, "it is to be set to zero, it says here");
        if let Some(since) = since {
            finding = finding.related(*since, "this put its zero in doubt");
        }
        findings.push(
            finding
                .why("Every reading of it is off by the same amount, and none of them shows it.")
                .help(format!("set it to zero first: `do \"…\" zeroes {}`", tool.name))
                .witness(witness)
                .mended(
                    format!("set the {} to zero before it", tool.label),
                    repair(facts, *place, &tool.label, &tool.name),
                ),
        );
    }
}

/// The tool set to zero before the statement that reads or connects it.
fn repair(facts: &Facts, place: Place, label: &str, tool: &str) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    facts.model.scopes.get(place.file)?.names.get(tool)?;
    if label.contains(['"', '{', '\\']) {
        return None;
    }
    let line = format!("do \"Set the {label} to zero.\" zeroes {tool}");
    Some(vec![repair::before(facts, place.file, held.statement.span, &line)])
}
