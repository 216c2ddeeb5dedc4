//! A loop without a bound, or one that reads nothing on its way round.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "endless", level: Level::Error, waivable: false, page: include_str!("endless.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Endless { place, why } = trouble else { continue };
        findings.push(
            RULE.at(*place, why.clone())
                .label("can go round for ever")
                .why("Somebody stands at the vehicle and repeats it until they give up, or write down a value that was never read.")
                .help("say how often (`up to 5 times`), measure on the way round, and say what to do when that was not enough"),
        );
    }
}
