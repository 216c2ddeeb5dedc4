//! One limit stated twice with different values.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "limit-stated-twice",
    level: Level::Error,
    waivable: false,
    page: include_str!("limit_stated_twice.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::LimitStatedTwice { place, first, spec, band, other } = trouble else { continue };
        let message = if band == other {
            format!("`{spec}` says two different things for the same vehicle")
        } else {
            format!("`{spec}` is {band} here and {other} above, for the same vehicle")
        };
        findings.push(
            RULE.at(*place, message)
                .label("stated a second time")
                .related(*first, "stated first here")
                .why("Whoever reads the one line passes what the reader of the other rejects.")
                .help("keep the line that its source confirms; where both are right, say with `when` for which vehicles"),
        );
    }
}
