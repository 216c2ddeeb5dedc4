//! An adjustment that cannot be brought in has no other end.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "no-way-out", level: Level::Error, waivable: false, page: include_str!("no_way_out.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NoWayOut { place, what } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("nothing says what to do when the last try has failed: {what}"))
                .label("and after the last try?")
                .why("Some vehicles are worn beyond what the screw can reach; there the text leaves the technician alone.")
                .help("add `otherwise { end failed \"…\" }` behind the adjustment, or refer to another procedure"),
        );
    }
}
