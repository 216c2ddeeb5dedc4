//! A lower signal word than that of the hazard.

use super::Rule;
use crate::facts::Facts;
use crate::finding::Place;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;
use dwell_syntax::tree::Span;

pub(super) const RULE: Rule = Rule {
    name: "caution-too-weak",
    level: Level::Error,
    waivable: true,
    page: include_str!("caution_too_weak.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::CautionTooWeak { place, hazard, hazard_place, has, should } = trouble else { continue };
        let (has, should) = (has.to_lowercase(), should.to_lowercase());
        let mut finding = RULE
            .at(*place, format!("{hazard} needs the signal word {should}, not {has}"))
            .label("too weak")
            .related(*hazard_place, "the hazard has its signal word here")
            .why("The signal word tells how badly it can end; people dare more where it sounds harmless.")
            .help(format!("write `{should}`"));
        if facts.text(*place).starts_with(&has) {
            let word = Span::new(place.span.start, place.span.start + has.len());
            finding = finding.fix(Place { file: place.file, span: word }, should);
        }
        findings.push(finding);
    }
}
