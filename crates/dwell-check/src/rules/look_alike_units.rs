//! Two units in one procedure that look alike and are a factor apart: pound-feet and pound-inches.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::Thing;
use dwell_quantity::{Lookup, lookup};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;

pub(super) const RULE: Rule = Rule {
    name: "look-alike-units",
    level: Level::Information,
    waivable: true,
    page: include_str!("look_alike_units.md"),
};

/// Units that are read for each other, and the factor between them.
const ALIKE: &[(&str, &str, &str)] = &[("lbf·ft", "lbf·in", "12"), ("ozf·in", "lbf·in", "16")];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, _, whole) in facts.procedures() {
        let units = units(facts, file, whole);
        for (one, other, factor) in ALIKE {
            let find = |symbol: &str| units.iter().find(|(unit, _)| *unit == symbol).map(|(_, place)| *place);
            let (Some(first), Some(second)) = (find(one), find(other)) else { continue };
            let (first, second) = if first < second { (first, second) } else { (second, first) };
            // Where both stand in other files the finding stands there, once.
            findings.push(
                RULE.at(second, format!("{one} and {other} are both used in one procedure"))
                    .label("easily read for the other")
                    .related(first, "the other one")
                    .why(format!("They look alike and are a factor of {factor} apart: with the wrong one a bolt breaks, or works loose on the road."))
                    .help("write both in one unit, best in N·m: the card shows the value in the unit of the wrench as well"),
            );
        }
    }
}

/// The units that a procedure and the specs that it names are written in, each with where.
fn units(facts: &Facts, file: usize, whole: Span) -> Vec<(&'static str, Place)> {
    let text = facts.text(Place { file, span: whole });
    let mut units = Vec::new();
    for token in lex(text).tokens {
        let word = text.get(token.span.start..token.span.end).unwrap_or_default();
        match token.kind {
            TokenKind::Unit => {
                if let Lookup::Unit(unit) = lookup(word) {
                    let span = Span::new(whole.start + token.span.start, whole.start + token.span.end);
                    units.push((unit.symbol(), Place { file, span }));
                }
            }
            TokenKind::Word | TokenKind::LineWord => units.extend(of_spec(facts, file, word)),
            _ => {}
        }
    }
    units
}

/// The units of a spec, or of the spec that an item is tightened to.
fn of_spec(facts: &Facts, file: usize, name: &str) -> Vec<(&'static str, Place)> {
    let spec = match facts.thing(file, name) {
        Some(Thing::Spec(spec)) => Some(spec),
        Some(Thing::Item(item)) => facts.model.items.get(item).and_then(|item| item.torque),
        _ => None,
    };
    let Some(spec) = spec.and_then(|spec| facts.model.specs.get(spec)) else { return Vec::new() };
    spec.check.iter().chain(&spec.adjust).map(|band| (band.limit.unit.symbol(), band.limit.place)).collect()
}
