//! Check and adjust bands of one spec against each other: what is set must also pass the check.

use dwell_quantity::{Band, Bound, Exact, Kind, amount_off, band_shown, shown};

use crate::model::{Model, QuantityRef, ResolvedBand, Spec, SpecBand, StateRef, When};
use crate::trouble::Trouble;

/// Tells of every adjust band that is not inside a check band that can hold at the same time.
pub(super) fn adjust_inside_check(model: &Model, spec: &Spec, troubles: &mut Vec<Trouble>) {
    for adjust in &spec.adjust {
        for check in spec.check.iter().filter(|check| together(&check.when, &adjust.when)) {
            if let Some(by) = outside(&adjust.limit, &check.limit, spec.kind) {
                troubles.push(Trouble::AdjustOutsideCheck {
                    place: adjust.limit.place,
                    check: check.limit.place,
                    adjust_written: adjust.limit.written.clone(),
                    check_written: check.limit.written.clone(),
                    by,
                    cut: cut(model, spec, adjust),
                });
            }
        }
    }
}

/// By how much a band reaches out of another, in the unit that it is written in: "1 Hz above 68 Hz".
fn outside(adjust: &ResolvedBand, check: &ResolvedBand, kind: Kind) -> Option<String> {
    let (inner, outer) = (&adjust.band, &check.band);
    if inner.inside(outer) {
        return None;
    }
    let side = |inner: &Option<Bound>, outer: &Option<Bound>, low: bool| {
        let limit = outer.as_ref()?;
        let word = if low != check.unit.descending() { "below" } else { "above" };
        let limit_shown = shown(&limit.value, check.unit, kind, check.decimals);
        let Some(end) = inner else { return Some(format!("any amount {word} {limit_shown}")) };
        let off = if low { &limit.value - &end.value } else { &end.value - &limit.value };
        if off.is_negative() || (off.is_zero() && (limit.closed || !end.closed)) {
            return None;
        }
        if off.is_zero() {
            return Some(format!("{limit_shown} itself"));
        }
        Some(format!("{} {word} {limit_shown}", amount_off(&off, adjust.unit, kind, adjust.decimals)))
    };
    let below = side(&inner.low, &outer.low, true);
    let above = side(&inner.high, &outer.high, false);
    match (below, above) {
        (Some(below), Some(above)) => Some(format!("{below} and {above}")),
        (one, other) => one.or(other),
    }
}

/// What of a band to set to passes every check that can hold with it, as it is written, and whether it is all of one; none where nothing is left, where
/// its target would lie outside or on the edge, and where the check itself has an end that the quantity is never at.
fn cut(model: &Model, spec: &Spec, adjust: &SpecBand) -> Option<(String, Band, bool)> {
    let limit = &adjust.limit;
    let checks: Vec<&ResolvedBand> = spec
        .check
        .iter()
        .filter(|check| together(&check.when, &adjust.when))
        .map(|check| &check.limit)
        .collect();
    let cut = checks.iter().fold(limit.band.clone(), |band, check| band.intersect(&check.band));
    let well_within = |target: &Exact| {
        cut.low.as_ref().is_none_or(|low| low.value < *target)
            && cut.high.as_ref().is_none_or(|high| *target < high.value)
    };
    let declared = match spec.quantity {
        QuantityRef::Declared(place) => model.quantities.get(place).map(|quantity| &quantity.span),
        QuantityRef::Kind(_) => None,
    };
    let natural = spec.kind.possible();
    let is_possible =
        |end: &Bound| natural.contains(&end.value) && declared.is_none_or(|span| span.contains(&end.value));
    if ![&cut.low, &cut.high].into_iter().flatten().all(is_possible) {
        return None;
    }
    if cut.is_empty() || !limit.target.as_ref().is_none_or(well_within) {
        return None;
    }
    // As the check has it, where the two are the same; else rounded inwards.
    let same = checks.iter().find(|check| check.band == cut && check.unit == limit.unit);
    if let Some(same) = same {
        return Some((same.written.clone(), cut, true));
    }
    let decimals = checks.iter().filter(|check| check.unit == limit.unit).map(|check| check.decimals);
    let written = band_shown(&cut, limit.unit, spec.kind, decimals.max().unwrap_or(0).max(limit.decimals));
    let whole = checks.iter().any(|check| check.band == cut);
    (!written.starts_with("exactly") && !written.contains(" and ")).then_some((written, cut, whole))
}

/// Whether two lists of conditions can hold at the same time.
pub(crate) fn together(one: &[When], other: &[When]) -> bool {
    one.iter().all(|first| other.iter().all(|second| compatible(first, second)))
}

/// Whether two conditions can hold at the same time.
fn compatible(one: &When, other: &When) -> bool {
    match (one, other) {
        (When::Variant(a, values), When::Variant(b, others))
        | (When::Position(a, values), When::Position(b, others)) => {
            a != b || values.iter().any(|value| others.contains(value))
        }
        (When::State(states), When::State(others)) => {
            let same = |a: &StateRef, b: &StateRef| {
                a.item == b.item
                    && a.handling == b.handling
                    && (a.at == b.at || a.at.is_none() || b.at.is_none())
            };
            let speak_of_one = states.iter().any(|a| others.iter().any(|b| same(a, b)));
            !speak_of_one || states.iter().any(|a| others.iter().any(|b| same(a, b) && a.state == b.state))
        }
        _ => true,
    }
}
