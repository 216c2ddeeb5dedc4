//! Bands to set to that reach to the very edge of the band to check against.

use crate::model::{Model, QuantityRef, Spec};
use crate::resolve::together;
use crate::trouble::Trouble;
use dwell_quantity::{Bound, shown};

/// Tells of every band to set to that shares an end with the band to check against.
pub(super) fn on_the_edge(model: &Model, spec: &Spec, troubles: &mut Vec<Trouble>) {
    for adjust in &spec.adjust {
        for check in spec.check.iter().filter(|check| together(&check.when, &adjust.when)) {
            let (inner, outer) = (&adjust.limit.band, &check.limit.band);
            if !inner.inside(outer) {
                continue;
            }
            let ends = [shared(&inner.low, &outer.low), shared(&inner.high, &outer.high)];
            let mut ends = ends.into_iter().flatten().filter(|end| !is_the_end_of_all(model, spec, end));
            if let Some(end) = ends.next() {
                troubles.push(Trouble::AdjustEqualsCheck {
                    place: adjust.limit.place,
                    check: check.limit.place,
                    end: shown(&end.value, adjust.limit.unit, spec.kind, adjust.limit.decimals),
                    whole: inner == outer,
                });
                break;
            }
        }
    }
}

/// The end that two bands have in common.
fn shared<'a>(inner: &'a Option<Bound>, outer: &Option<Bound>) -> Option<&'a Bound> {
    inner.as_ref().filter(|inner| outer.as_ref() == Some(*inner))
}

/// Whether nothing can lie beyond: a drop of 0 cannot get smaller.
fn is_the_end_of_all(model: &Model, spec: &Spec, end: &Bound) -> bool {
    let declared = match spec.quantity {
        QuantityRef::Declared(place) => model.quantities.get(place).map(|quantity| &quantity.span),
        QuantityRef::Kind(_) => None,
    };
    let natural = spec.kind.possible();
    declared.into_iter().chain([&natural]).any(|span| {
        let ends = [&span.low, &span.high];
        ends.into_iter().flatten().any(|last| last.value == end.value)
    })
}
