//! A limit below zero of an angle or a length, and nobody says which side minus is.

use super::Rule;
use crate::check::{conditions, quantities, reading};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::model::{Model, QuantityRef, ResolvedBand, Spec};
use dwell_quantity::{Exact, Kind};
use dwell_syntax::tree::{BandForm, TestKind};

pub(super) const RULE: Rule =
    Rule { name: "sign-unsaid", level: Level::Warning, waivable: true, page: include_str!("sign_unsaid.md") };

/// The kinds whose plus and minus are two sides of a thing, named by nothing but agreement. A voltage has its red lead, a
/// temperature its freezing point, and a pressure the air around it.
const TWO_SIDED: [Kind; 9] = [
    Kind::LENGTH,
    Kind::TOTAL_LENGTH,
    Kind::ANGLE,
    Kind::ANGLE_DIFFERENCE,
    Kind::TOTAL_ANGLE,
    Kind::WHEEL_ANGLE,
    Kind::CRANK_ANGLE,
    Kind::CAMSHAFT_ANGLE,
    Kind::SLOPE,
];

/// The units that say the side themselves.
const SAID_BY_UNIT: [&str; 2] = ["°BTDC", "°ATDC"];

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let mut told: Vec<QuantityRef> = Vec::new();
    let mut tell = |quantity: QuantityRef, limit: &ResolvedBand, findings: &mut Vec<Finding>| {
        if !told.contains(&quantity) {
            findings.push(finding(facts, quantity, limit));
        }
        if matches!(quantity, QuantityRef::Declared(_)) {
            told.push(quantity);
        }
    };
    let unsaid = |quantity: QuantityRef| is_two_sided(facts.model, quantity);
    for spec in facts.model.specs.iter().filter(|spec| unsaid(spec.quantity)) {
        if let Some(limit) = below_zero(spec) {
            tell(spec.quantity, limit, findings);
        }
    }
    for (file, procedure, whole) in facts.procedures() {
        let known = quantities(facts, file, procedure, whole);
        crate::check::statements(procedure, whole, &mut |statement, _| {
            for test in conditions(statement).into_iter().flat_map(|condition| &condition.tests) {
                let TestKind::Band { what, band } = &test.kind else { continue };
                let typed = matches!(band.form, BandForm::Range(..) | BandForm::PlusMinus(..));
                let quantity = reading(what).and_then(|name| known.get(name.text.as_str()).copied());
                let Some(quantity) = quantity.filter(|quantity| typed && unsaid(*quantity)) else { continue };
                let limit = crate::resolve::band(facts.model, file, band, quantity, &mut Vec::new());
                if let Some(limit) = limit.filter(|limit| reaches_below(limit) && !is_even(limit)) {
                    tell(quantity, &limit, findings);
                }
            }
        });
    }
}

/// Whether plus and minus are two sides of it that have no words yet, and it can be below zero.
fn is_two_sided(model: &Model, quantity: QuantityRef) -> bool {
    let sided = model.kind(quantity).is_some_and(|kind| TWO_SIDED.contains(&kind));
    let open = match quantity {
        QuantityRef::Kind(_) => true,
        QuantityRef::Declared(place) => model.quantities.get(place).is_some_and(|known| {
            let never = known.span.low.as_ref().is_some_and(|low| low.value >= Exact::zero());
            known.signs == (None, None) && !never
        }),
    };
    sided && open
}

/// The first limit of a spec that reaches below zero. One that goes as far to both sides needs no words unless something is
/// adjusted to it: out is out.
fn below_zero(spec: &Spec) -> Option<&ResolvedBand> {
    let rows = spec.rows.iter().flat_map(|rows| &rows.groups).flat_map(|(_, rows)| rows);
    let bands = spec.check.iter().chain(&spec.adjust).map(|band| &band.limit);
    let set = !spec.adjust.is_empty();
    bands.chain(rows.map(|(_, band)| band)).find(|limit| reaches_below(limit) && (set || !is_even(limit)))
}

fn reaches_below(limit: &ResolvedBand) -> bool {
    let low = limit.band.low.as_ref().map(|low| &low.value);
    let below = low.into_iter().chain(&limit.target).any(|value| *value < Exact::zero());
    below && !SAID_BY_UNIT.contains(&limit.unit.symbol())
}

/// Whether it goes as far below zero as above.
fn is_even(limit: &ResolvedBand) -> bool {
    match (&limit.band.low, &limit.band.high) {
        (Some(low), Some(high)) => {
            &low.value + &high.value == Exact::zero()
                && limit.target.as_ref().is_none_or(|target| *target == Exact::zero())
        }
        _ => false,
    }
}

fn finding(facts: &Facts, quantity: QuantityRef, limit: &ResolvedBand) -> Finding {
    let name = facts.model.quantity_name(quantity);
    let declared = match quantity {
        QuantityRef::Kind(_) => None,
        QuantityRef::Declared(place) => facts.model.quantities.get(place),
    };
    let kind = facts.model.kind(quantity);
    let (plus, minus) = usual(&format!("{name} {}", facts.text(limit.place)), kind);
    let words = format!("positive \"{plus}\" negative \"{minus}\"");
    let why = "A minus is read as one side by one reader and as the other by the next: it is set the wrong way, and the error is doubled.";
    match declared {
        Some(quantity) => RULE
            .at(quantity.place, format!("limits of `{name}` reach below zero, and nothing says which side minus is"))
            .label("which side is minus?")
            .related(limit.place, format!("{} reaches below zero", limit.written))
            .why(why)
            .help(format!("say it in the braces of the quantity, such as `{words}`; it is then shown wherever the value is asked for")),
        None => RULE
            .at(limit.place, format!("{} reaches below zero, and nothing says which side minus is", limit.written))
            .label("which side is minus?")
            .why(why)
            .help(format!(
                "declare what is measured as a quantity that says it, such as `quantity my-{name}: {name} {{ {words} }}`, and use its name here"
            )),
    }
}

/// The words that the trade has for the two sides.
fn usual(name: &str, kind: Option<Kind>) -> (&'static str, &'static str) {
    let has = |part: &str| name.to_lowercase().contains(part);
    let is = |one: Kind| kind == Some(one);
    match () {
        () if is(Kind::CRANK_ANGLE) || is(Kind::CAMSHAFT_ANGLE) => {
            ("before top dead centre", "after top dead centre")
        }
        () if is(Kind::WHEEL_ANGLE) => ("to the right", "to the left"),
        () if has("camber") => ("top of the wheel outwards", "top of the wheel inwards"),
        () if has("caster") => ("pivot leans back at the top", "pivot leans forward at the top"),
        () if has("height") => ("higher", "lower"),
        () if is(Kind::SLOPE) => ("falls", "rises"),
        () => ("toe-in", "toe-out"),
    }
}
