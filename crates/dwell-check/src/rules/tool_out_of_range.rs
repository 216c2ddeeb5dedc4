//! A band that the tool cannot show.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "tool-out-of-range",
    level: Level::Error,
    waivable: true,
    page: include_str!("tool_out_of_range.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolOutOfRange { place, tool, tool_place, range, band, band_place } = trouble else {
            continue;
        };
        findings.push(
            RULE.at(*place, format!("{band} is not inside the range of the {tool}, {range}"))
                .label(format!("reads {range}"))
                .related(*tool_place, "the range of the tool")
                .related(*band_place, "the band")
                .why("Part of the band cannot be read or set with it: the pointer stands at its stop, or the wrench breaks.")
                .help("take a tool whose range holds the whole band"),
        );
    }
}
