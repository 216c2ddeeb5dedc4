//! Two kinds of quantity meet that have nothing to do with each other.

use super::{Rule, sentence};
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::repair;
use crate::trouble::Trouble;
use dwell_quantity::{Kind, Lookup, lookup, units_for};
use dwell_syntax::tree::Name;

pub(super) const RULE: Rule = Rule {
    name: "kind-mismatch",
    level: Level::Error,
    waivable: false,
    page: include_str!("kind_mismatch.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::KindMismatch { place, other, first, second, why } = trouble else { continue };
        let why = why
            .clone()
            .unwrap_or_else(|| "The two numbers may look alike, but they count different things.".into());
        let mut finding = RULE
            .at(*place, format!("{first} does not go with {second}"))
            .label(first.clone())
            .why(sentence(&why))
            .help("use the quantity that is really read, or state the limit for that one");
        if let Some(other) = other {
            finding = finding.related(*other, second.clone());
        }
        let meant = repair::declared_kind(facts, *place).and_then(|kind| meant(facts, *place, kind));
        let (title, edits) = meant.unzip();
        findings.push(finding.mended(title.unwrap_or_default(), edits));
    }
}

/// The unit that was meant, where the number is the same in both: newton metres of a torque are typed as the joules that
/// they would be of an energy, and the other way. No other pair of kinds has one right conversion.
fn meant(facts: &Facts, place: Place, kind: Kind) -> Option<(String, Vec<Edit>)> {
    let twins = [(Kind::TORQUE, Kind::ENERGY), (Kind::ENERGY, Kind::TORQUE)];
    let (_, other) = twins.into_iter().find(|(wanted, _)| *wanted == kind)?;
    let band = repair::declared_band(facts, place)?;
    let twin = |typed: &Name| match lookup(&typed.text) {
        Lookup::Unit(unit) if unit.measures(other) && !unit.measures(kind) => {
            units_for(kind).into_iter().find(|known| known.factor() == unit.factor())
        }
        _ => None,
    };
    let units = band.form.amounts().into_iter().filter_map(|amount| amount.unit.as_ref());
    let edits = units.map(|typed| {
        let place = Place { file: place.file, span: typed.span };
        Some(Edit { place, replacement: twin(typed)?.symbol().to_owned() })
    });
    let edits: Vec<Edit> = edits.collect::<Option<_>>()?;
    let symbol = repair::only(edits.iter().map(|edit| edit.replacement.clone()))?;
    Some((format!("write `{symbol}`, the number is the same"), edits))
}
