//! A place that does not say what the language allows.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};

pub(super) const RULE: Rule =
    Rule { name: "syntax", level: Level::Error, waivable: false, page: include_str!("syntax.md") };

/// The rules that what could not be read may belong to as well; all the rest is told here, so that nothing is lost.
const OTHERS: [&str; 6] = [
    "look-alike-character",
    "bad-number",
    "unit-missing",
    "unit-unknown",
    "unit-ambiguous",
    super::settings::RULE.name,
];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| !OTHERS.contains(&rule)) {
        let help = "complete or mend this place; the rest of the file is read all the same";
        findings.push(RULE.of_slip(file, slip, help).label("this is not understood").why(
            "A guess would go into the vehicle, so none is made: no card comes from a text with a hole.",
        ));
    }
}
