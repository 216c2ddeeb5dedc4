//! A unit that is in no table.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

/// Why it matters.
const WHY: &str =
    "A reading can be compared with a limit only where both have a unit that everybody reads in one way.";

/// What to do where no unit is near.
const HELP: &str = "write the unit as it stands in the table of units";

pub(super) const RULE: Rule = Rule {
    name: "unit-unknown",
    level: Level::Error,
    waivable: false,
    page: include_str!("unit_unknown.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        findings.push(RULE.of_slip(file, slip, HELP).label("no unit").why(WHY));
    }
    for trouble in facts.troubles {
        let Trouble::UnitUnknown { place, unit, near } = trouble else { continue };
        let mut finding =
            RULE.at(*place, format!("`{unit}` is no unit that is known here")).label("no unit").why(WHY);
        finding = match near.as_slice() {
            [] => finding.help(HELP),
            _ => finding.help(format!("did you mean {}?", alternatives(near))),
        };
        if let ([only], true) = (near.as_slice(), facts.text(*place) == unit) {
            finding = finding.fix(*place, only.clone());
        }
        findings.push(finding);
    }
}
