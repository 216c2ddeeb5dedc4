//! Check and adjust bands of one spec against each other: what is set must also pass the check.

use dwell_quantity::{Bound, Kind, amount_off, shown};

use crate::model::{ResolvedBand, Spec, StateRef, When};
use crate::trouble::Trouble;

/// Tells of every adjust band that is not inside a check band that can hold at the same time.
pub(super) fn adjust_inside_check(spec: &Spec, troubles: &mut Vec<Trouble>) {
    for adjust in &spec.adjust {
        for check in spec.check.iter().filter(|check| together(&check.when, &adjust.when)) {
            if let Some(by) = outside(&adjust.limit, &check.limit, spec.kind) {
                troubles.push(Trouble::AdjustOutsideCheck {
                    place: adjust.limit.place,
                    check: check.limit.place,
                    adjust_written: adjust.limit.written.clone(),
                    check_written: check.limit.written.clone(),
                    by,
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
