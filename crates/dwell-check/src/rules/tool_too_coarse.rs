//! A tool that is too coarse for the band it decides about.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "tool-too-coarse",
    level: Level::Warning,
    waivable: true,
    page: include_str!("tool_too_coarse.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolTooCoarse { place, tool, tool_place, band, band_place, is, wanted, by_steps } =
            trouble
        else {
            continue;
        };
        let (label, why, help) = if *by_steps {
            (
                format!("reads in steps of {is}"),
                "A band needs ten steps of the display or more (common practice): with fewer, in and out look the same.",
                format!(
                    "take one that reads in steps of {wanted} or less, or read it several times in another way"
                ),
            )
        } else {
            (
                format!("accurate to ± {is}"),
                "The tool must be four times as good as the limit is tight (DOE-STD-1054-93, 3.4.4.3): near the end of the band, good and bad change places by chance.",
                format!(
                    "take one that is accurate to ± {wanted} or better, or widen the band where its source allows it"
                ),
            )
        };
        findings.push(
            RULE.at(*place, format!("the {tool} is too coarse for {band}"))
                .label(label)
                .related(*tool_place, "what the tool can do")
                .related(*band_place, "the band")
                .why(why)
                .help(help),
        );
    }
}
