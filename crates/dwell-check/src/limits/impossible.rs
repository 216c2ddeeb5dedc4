//! A limit or a target that the quantity can never be at: below nothing, above all, outside its declared span.

use crate::finding::Place;
use crate::model::{Model, QuantityRef, ResolvedBand};
use crate::trouble::Trouble;
use dwell_quantity::{Band, Exact, Kind, band_shown, shown};

/// Tells of the first end, or the target, of a band that lies outside what the quantity can be.
pub(crate) fn impossible(
    model: &Model,
    quantity: QuantityRef,
    limit: &ResolvedBand,
    troubles: &mut Vec<Trouble>,
) {
    let Some(kind) = model.kind(quantity) else { return };
    let ends = [&limit.band.low, &limit.band.high];
    let values: Vec<&Exact> = ends.into_iter().flatten().map(|end| &end.value).chain(&limit.target).collect();
    let declared = declared_span(model, quantity);
    let natural = if about_zero(&limit.band, kind) { Band::all() } else { kind.possible() };
    let spans = declared.map(|(span, place)| (span, Some(place))).into_iter().chain([(natural, None)]);
    for (span, place) in spans {
        let Some(outside) = values.iter().find(|value| !reachable(&span, value)) else { continue };
        troubles.push(Trouble::ImpossibleValue {
            place: limit.place,
            value: shown(outside, limit.unit, kind, limit.decimals),
            quantity: model.quantity_name(quantity).to_owned(),
            can: band_shown(&span, limit.unit, kind, limit.decimals),
            declared: place,
        });
        return;
    }
}

/// The band that a declared quantity never leaves, and where the quantity is declared.
fn declared_span(model: &Model, quantity: QuantityRef) -> Option<(Band, Place)> {
    let QuantityRef::Declared(place) = quantity else { return None };
    let declared = model.quantities.get(place)?;
    Some((declared.span.clone(), declared.place))
}

/// Whether a value lies in the span, its ends included: "never below 0" and "above 0" go together.
fn reachable(span: &Band, value: &Exact) -> bool {
    span.low.as_ref().is_none_or(|low| *value >= low.value)
        && span.high.as_ref().is_none_or(|high| *value <= high.value)
}

/// A band around zero of a kind whose differences have no kind of their own is one of a difference: two frequencies that
/// are to be alike.
fn about_zero(band: &Band, kind: Kind) -> bool {
    kind.difference() == kind && band.middle().is_some_and(|middle| middle.is_zero())
}
