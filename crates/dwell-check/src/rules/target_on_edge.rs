//! A value to aim at that lies outside its band, or on its very edge.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::model::{QuantityRef, ResolvedBand, Spec};
use dwell_quantity::{Exact, shown};

pub(super) const RULE: Rule = Rule {
    name: "target-on-edge",
    level: Level::Warning,
    waivable: true,
    page: include_str!("target_on_edge.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for spec in &facts.model.specs {
        for limit in spec.check.iter().chain(&spec.adjust).map(|band| &band.limit) {
            let Some(target) = &limit.target else { continue };
            let inside = limit.band.contains(target);
            if inside && !on_an_edge(facts, spec, limit, target) {
                continue;
            }
            let aimed = shown(target, limit.unit, spec.kind, limit.decimals);
            let (how, label) =
                if inside { ("on the edge of", "on the edge") } else { ("outside", "outside") };
            findings.push(
                RULE.at(limit.place, format!("the target {aimed} lies {how} its own band {}", limit.written))
                    .label(format!("the target is {label}"))
                    .why("Whoever hits the target well is out of band half of the time, and begins again.")
                    .help(
                        "aim at the middle of the band, or further in by the accuracy of the tool at least",
                    ),
            );
        }
    }
}

/// Whether a target is an end of its band that readings can lie beyond.
fn on_an_edge(facts: &Facts, spec: &Spec, limit: &ResolvedBand, target: &Exact) -> bool {
    let ends = [&limit.band.low, &limit.band.high];
    if !ends.into_iter().flatten().any(|end| end.value == *target)
        || limit.band.width() == Some(Exact::zero())
    {
        return false;
    }
    let declared = match spec.quantity {
        QuantityRef::Declared(place) => facts.model.quantities.get(place).map(|quantity| &quantity.span),
        QuantityRef::Kind(_) => None,
    };
    let natural = spec.kind.possible();
    let last = declared
        .into_iter()
        .chain([&natural])
        .any(|span| [&span.low, &span.high].into_iter().flatten().any(|end| end.value == *target));
    !last
}
