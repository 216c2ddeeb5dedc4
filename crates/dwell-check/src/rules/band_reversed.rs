//! A band whose low end is above its high end.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "band-reversed",
    level: Level::Error,
    waivable: false,
    page: include_str!("band_reversed.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::BandReversed { place, low, high } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("the low end {low} is above the high end {high}"))
                .label("nothing lies in it")
                .why("No reading can be in such a band, so every vehicle would fail.")
                .help("look the values up again; if both are right, swap them"),
        );
    }
}
