//! A part that is used up goes back.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::model::Thing;
use crate::repair;
use crate::trouble::Trouble;
use dwell_syntax::tree::StatementKind;

pub(super) const RULE: Rule = Rule {
    name: "single-use-refitted",
    level: Level::Error,
    waivable: false,
    page: include_str!("single_use_refitted.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::SingleUseRefitted { place, verb, item, off, witness } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("`{verb}` puts back what is used up: the {item}"))
            .label("the old one")
            .why("A part that is used up seals, locks or holds no more: it comes loose on the road.")
            .help("write `renew`, which asks for a new one")
            .witness(witness)
            .mended("write `renew`", repair(facts, *place));
        if let Some(off) = off {
            finding = finding.related(*off, "used up here");
        }
        findings.push(finding);
    }
}

/// `renew` in the place of the verb, where the part can be renewed.
fn repair(facts: &Facts, place: Place) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let StatementKind::Handle(handle) = &held.statement.kind else { return None };
    let Thing::Item(item) = facts.model.scopes.get(place.file)?.names.get(&handle.item.text)? else {
        return None;
    };
    let handlings = &facts.model.items.get(*item)?.handlings;
    let renewed = handlings
        .iter()
        .filter_map(|handling| facts.model.handlings.get(*handling))
        .any(|handling| handling.has_verb("renew"));
    let verb = Place { file: place.file, span: handle.verb.span };
    renewed.then(|| vec![Edit { place: verb, replacement: "renew".to_owned() }])
}
