//! A limit without its unit.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

/// Why it matters.
const WHY: &str = "Without a unit each reader supplies the one they are used to; on one nut they may differ by a factor of twelve.";

pub(super) const RULE: Rule = Rule {
    name: "unit-missing",
    level: Level::Error,
    waivable: false,
    page: include_str!("unit_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        findings.push(RULE.of_slip(file, slip, "write the unit").label("of what?").why(WHY));
    }
    for trouble in facts.troubles {
        let Trouble::UnitMissing { place, number, units } = trouble else { continue };
        let shown = shown_by_a_tool(facts, units);
        let rest = |first: &str| units.iter().filter(|unit| *unit != first).cloned().collect::<Vec<_>>();
        let help = match units.as_slice() {
            _ if let Some((unit, tool)) = &shown => {
                let as_shown =
                    format!("write the unit that is meant: `{number} {unit}`, as the {tool} shows it");
                match rest(unit).as_slice() {
                    [] => as_shown,
                    others => format!("{as_shown}, or with {}", alternatives(others)),
                }
            }
            [] => "write the unit".to_owned(),
            [unit] => format!("write the unit: `{number} {unit}`"),
            [unit, others @ ..] => {
                format!("write the unit that is meant: `{number} {unit}`, or with {}", alternatives(others))
            }
        };
        let finding = RULE.at(*place, format!("`{number}` has no unit"));
        findings.push(finding.label(format!("{number} what?")).why(WHY).help(help));
    }
}

/// The unit of these that a tool measures or sets in, with what the tool is called; the first tool that is declared.
fn shown_by_a_tool<'a>(facts: &'a Facts, units: &[String]) -> Option<(&'a str, &'a str)> {
    let mut abilities = facts
        .model
        .items
        .iter()
        .filter_map(|item| Some((item, item.tool.as_ref()?)))
        .flat_map(|(item, tool)| {
            tool.measures.iter().chain(&tool.sets).map(|ability| (ability.unit.symbol(), item.label.as_str()))
        });
    abilities.find(|(unit, _)| units.iter().any(|known| known == unit))
}
