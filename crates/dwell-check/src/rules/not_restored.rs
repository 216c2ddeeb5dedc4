//! Something that was disturbed is still so on some way out.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair;
use crate::trouble::Trouble;
use dwell_syntax::tree::StatementKind;

pub(super) const RULE: Rule =
    Rule { name: "not-restored", level: Level::Error, waivable: true, page: include_str!("not_restored.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotRestored { place, item, state, should, end, outcome, verb, witness } = trouble else {
            continue;
        };
        let mut finding = RULE
            .at(*place, format!("the {item} may still be {state} at the end"))
            .label(format!("{state} from here on"))
            .related(*end, format!("one way out: {outcome}"))
            .why(format!("The vehicle leaves the bay with the {item} {state} instead of {should}."))
            .witness(witness);
        finding = match verb {
            Some(verb) => finding
                .help(format!("write it into `restore` (`{verb}`), so that every way out does it"))
                .mended(format!("write `{verb}` into `restore`"), repair(facts, *place, verb)),
            None => finding
                .help(format!("bring it back to {should} in `restore`, or say under `leaves` that it stays")),
        };
        findings.push(finding);
    }
}

/// The verb put into `restore`, at the places at which it was undone. None where the item is not named there, or where
/// `restore` does it already, under a condition or too early.
fn repair(facts: &Facts, place: Place, back: &str) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let StatementKind::Handle(handle) = &held.statement.kind else { return None };
    let mut words = back.split(' ');
    let verb = words.next()?;
    if words.next() != Some(handle.item.text.as_str())
        || repair::restores(held.procedure, verb, &handle.item.text)
    {
        return None;
    }
    let at = match (&handle.at_each, &handle.at) {
        (Some(positions), _) => format!(" at each {}", positions.text),
        (None, Some(place)) => format!(" at {}", place.text),
        (None, None) => String::new(),
    };
    let item = &handle.item.text;
    Some(vec![repair::into_restore(facts, place, &format!("{verb} {item}{at}"))?])
}
