//! A number that is written in a way that could be read as two.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "bad-number", level: Level::Error, waivable: false, page: include_str!("bad_number.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::BadNumber { place, why } = trouble else { continue };
        findings.push(RULE.at(*place, why.clone()).label("no number").help("write it as it is meant, such as `0.35`, `2 1/4` or `0° 30′`").why(
            "A limit that is read as another number is worse than none: the work is done to the wrong value.",
        ));
    }
}
