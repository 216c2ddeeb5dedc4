//! A second unit that lets more pass than the first.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "pair-rounds-outward",
    level: Level::Warning,
    waivable: true,
    page: include_str!("pair_rounds_outward.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::PairRoundsOutward { place, first, second, wider, inwards } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("{second} is wider than {first}: {wider}"))
                .label("rounded outwards")
                .why("Whoever reads this unit passes what a reader of the other must reject.")
                .help(format!("round lower limits up and upper limits down: `({inwards})`"))
                .fix(*place, inwards.clone()),
        );
    }
}
