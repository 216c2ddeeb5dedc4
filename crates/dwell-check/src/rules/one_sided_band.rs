//! A one-sided band on a quantity that can be negative.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "one-sided-band",
    level: Level::Error,
    waivable: false,
    page: include_str!("one_sided_band.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::OneSided { place, quantity, suggestion } = trouble else { continue };
        let band = suggestion.trim_start_matches("within ");
        findings.push(
            RULE.at(*place, format!("this band has one side only, but {quantity} can be negative"))
                .label("open on the other side")
                .why(
                    "What is far out on the other side would pass: -380 V is below 12 V as well, and deadly.",
                )
                .help(format!("write both sides, such as `{band}` (after a reading: `within {band}`)")),
        );
    }
}
