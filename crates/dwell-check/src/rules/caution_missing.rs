//! An exposure to a hazard that no caution covers.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::model::Thing;
use crate::repair;
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "caution-missing",
    level: Level::Error,
    waivable: true,
    page: include_str!("caution_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Exposed { place, hazard, text, level, from, source, late: None, witness } = trouble
        else {
            continue;
        };
        let word = facts.options.house.signal_words.mildest(*level).word().to_lowercase();
        let mut finding = RULE
            .at(*place, format!("no caution for {hazard} stands before this"))
            .label(from.clone())
            .why(text.clone())
            .help(format!("write `{word} {hazard}` on a line before it"))
            .witness(witness)
            .mended(format!("write `{word} {hazard}` before it"), repair(facts, *place, hazard, &word));
        if let Some(source) = source {
            finding = finding.related(*source, "the hazard comes from here");
        }
        findings.push(finding);
    }
}

/// The caution put in before the statement, where its file knows the hazard.
fn repair(facts: &Facts, place: Place, hazard: &str, word: &str) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let known = facts.model.scopes.get(place.file)?.names.get(hazard)?;
    matches!(known, Thing::Hazard(_))
        .then(|| vec![repair::before(facts, place.file, held.statement.span, &format!("{word} {hazard}"))])
}
