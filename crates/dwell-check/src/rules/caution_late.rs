//! A caution that stands after the step it belongs to.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair;
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "caution-late", level: Level::Error, waivable: true, page: include_str!("caution_late.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::Exposed { place, hazard, text, from, source, late: Some(late), witness, .. } = trouble
        else {
            continue;
        };
        let mut finding = RULE
            .at(*late, format!("this caution for {hazard} comes too late"))
            .label("too late")
            .related(*place, format!("the hazard begins here: {from}"))
            .why(text.clone())
            .help("move it in front of the step that it warns of")
            .witness(witness)
            .mended("move it in front of what it warns of", repair(facts, *place, *late));
        if let Some(source) = source {
            finding = finding.related(*source, "the hazard comes from here");
        }
        findings.push(finding);
    }
}

/// The caution moved, where both stand in one block: only then is it plain that it still reaches all that it reached.
fn repair(facts: &Facts, place: Place, late: Place) -> Option<Vec<Edit>> {
    let exposed = repair::statement_at(facts, place)?;
    let caution = repair::statement_at(facts, late)?;
    if place.file != late.file || exposed.block != caution.block {
        return None;
    }
    let text = facts.text(Place { file: late.file, span: caution.statement.span });
    Some(vec![
        repair::before(facts, place.file, exposed.statement.span, text),
        repair::without(facts, late.file, caution.statement.span),
    ])
}
