//! A tool that does not measure what it is to measure.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "tool-cannot-measure",
    level: Level::Error,
    waivable: false,
    page: include_str!("tool_cannot_measure.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolCannotMeasure { place, tool, tool_place, quantity, can } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("no {quantity} can be read or set with the {tool}"))
            .label(format!("not for {quantity}"))
            .related(*tool_place, "what the tool can do stands here")
            .why("The technician would stand at the vehicle with a tool that cannot give the reading.");
        let instead = format!("name a tool for {quantity}");
        finding = match can.as_slice() {
            [] => finding.help(instead),
            _ => finding.help(format!("it is for {}; {instead}", can.join(", "))),
        };
        findings.push(finding);
    }
}
