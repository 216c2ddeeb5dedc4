//! A unit that could be two.

use super::{Rule, alternatives};
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair::{declared_kind, only};
use crate::trouble::Trouble;
use dwell_quantity::{Lookup, lookup};

/// Why it matters.
const WHY: &str = "Each reader makes another unit of it, is sure of it, and does other work.";

pub(super) const RULE: Rule = Rule {
    name: "unit-ambiguous",
    level: Level::Error,
    waivable: false,
    page: include_str!("unit_ambiguous.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, slip) in facts.slips(|rule| rule == RULE.name) {
        let place = Place { file, span: slip.span };
        let mut finding =
            RULE.of_slip(file, slip, "write which of them is meant").label("which one?").why(WHY);
        if finding.fix.is_none()
            && let Some(unit) = meant(facts, place)
        {
            let edits = vec![Edit { place, replacement: unit.to_owned() }];
            finding = finding.mended(format!("write `{unit}`"), Some(edits));
        }
        findings.push(finding);
    }
    for trouble in facts.troubles {
        let Trouble::UnitAmbiguous { place, unit, why, choices } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("`{unit}` can mean more than one unit: {why}"))
                .label("which one?")
                .why(WHY)
                .help(format!("write {}", alternatives(choices))),
        );
    }
}

/// The only one of its meanings that measures what the declaration is about.
fn meant(facts: &Facts, place: Place) -> Option<&'static str> {
    let kind = declared_kind(facts, place)?;
    let Lookup::Ambiguous { choices, .. } = lookup(facts.text(place)) else { return None };
    let fits = |choice: &&str| matches!(lookup(choice), Lookup::Unit(unit) if unit.measures(kind));
    only(choices.into_iter().filter(fits))
}
