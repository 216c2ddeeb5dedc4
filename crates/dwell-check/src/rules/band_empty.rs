//! A band in which nothing passes.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "band-empty", level: Level::Error, waivable: false, page: include_str!("band_empty.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::BandEmpty { place, band, why, guarded } = trouble else { continue };
        let finding = RULE.at(*place, format!("nothing passes {band}: {why}")).label("no room").why(
            "Good work would be rejected every time, or the reading would be written down as it should be.",
        );
        findings.push(match guarded {
            Some(measured) => finding
                .related(*measured, "it is measured here")
                .help("measure with a more accurate tool, or widen the band where its source allows it"),
            None => finding.help("write how far it may be off: `… ± …`"),
        });
    }
}
