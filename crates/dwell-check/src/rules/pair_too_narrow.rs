//! A second unit that was rounded so hard that little of the band is left.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "pair-too-narrow",
    level: Level::Information,
    waivable: true,
    page: include_str!("pair_too_narrow.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::PairTooNarrow { place, first, second, lost, better } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("{second} leaves out {lost} % of {first}"))
                .label("one digit more")
                .why("Whoever reads this unit rejects or sets anew what is good in the other.")
                .help(format!("write `({better})`"))
                .fix(*place, better.clone()),
        );
    }
}
