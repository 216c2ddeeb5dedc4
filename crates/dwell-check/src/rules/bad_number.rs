//! A number that is written in a way that could be read as two.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

/// Why it matters.
const WHY: &str =
    "A limit that is read as another number is worse than none: the work is done to the wrong value.";

pub(super) const RULE: Rule =
    Rule { name: "bad-number", level: Level::Error, waivable: false, page: include_str!("bad_number.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        let help = "write the number that is meant: mostly a key stuck";
        findings.push(RULE.of_slip(file, slip, help).label("no number").why(WHY));
    }
    for trouble in facts.troubles {
        let Trouble::BadNumber { place, why } = trouble else { continue };
        let help = "write it as it is meant, such as `0.35`, `2 1/4` or `0° 30′`";
        findings.push(RULE.at(*place, why.clone()).label("no number").help(help).why(WHY));
    }
}
