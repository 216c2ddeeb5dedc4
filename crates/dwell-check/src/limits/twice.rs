//! Two different bands that one spec has for the same vehicle: stated twice, or for variants that overlap.

use crate::finding::Place;
use crate::model::{Model, Spec, When};
use crate::resolve::together;
use crate::trouble::Trouble;
use dwell_quantity::{Band, Exact};

/// One line with its condition and what it says.
struct Line<'a> {
    when: &'a [When],
    says: Vec<&'a Band>,
    target: Option<&'a Exact>,
    written: String,
    place: Place,
}

/// Tells of lines of a spec or groups of rows of a table that can hold at the same time and say different things.
pub(super) fn twice(model: &Model, spec: &Spec, troubles: &mut Vec<Trouble>) {
    for bands in [&spec.check, &spec.adjust] {
        let lines = bands.iter().map(|band| Line {
            when: &band.when,
            says: vec![&band.limit.band],
            target: band.limit.target.as_ref(),
            written: band.limit.written.clone(),
            place: band.limit.place,
        });
        among(model, spec, &lines.collect::<Vec<_>>(), troubles);
    }
    let groups = spec.rows.iter().flat_map(|rows| &rows.groups);
    let lines = groups.filter_map(|(when, rows)| {
        let (first, _) = rows.first()?;
        let says = rows.iter().flat_map(|(key, band)| [&key.band, &band.band]).collect();
        Some(Line { when, says, target: None, written: "these rows".to_owned(), place: first.place })
    });
    among(model, spec, &lines.collect::<Vec<_>>(), troubles);
}

/// Each line against those before it; of several that it collides with, the first.
fn among(model: &Model, spec: &Spec, lines: &[Line<'_>], troubles: &mut Vec<Trouble>) {
    for (at, line) in lines.iter().enumerate() {
        let collides = |earlier: &&Line<'_>| {
            together(earlier.when, line.when)
                && (earlier.says != line.says || earlier.target != line.target)
                && !falls_back(earlier.when, line.when)
        };
        let Some(earlier) = lines.iter().take(at).find(collides) else { continue };
        let (place, first) = (line.place, earlier.place);
        let (band, other) = (line.written.clone(), earlier.written.clone());
        let spec = spec.name.clone();
        troubles.push(if same(earlier.when, line.when) {
            Trouble::LimitStatedTwice { place, first, spec, band, other }
        } else {
            let both = both_in_words(model, earlier.when, line.when);
            Trouble::VariantOverlap { place, first, spec, band, other, both }
        });
    }
}

/// Whether two lists say the same, in whatever order.
fn same(one: &[When], other: &[When]) -> bool {
    one.len() == other.len() && one.iter().all(|first| other.iter().any(|second| alike(first, second)))
}

fn alike(one: &When, other: &When) -> bool {
    fn set<T: PartialEq>(one: &[T], other: &[T]) -> bool {
        one.iter().all(|value| other.contains(value)) && other.iter().all(|value| one.contains(value))
    }
    match (one, other) {
        (When::Variant(a, values), When::Variant(b, others))
        | (When::Position(a, values), When::Position(b, others)) => a == b && set(values, others),
        (When::State(states), When::State(others)) => set(states, others),
        _ => false,
    }
}

/// Whether the later line is what holds in all other states: the first line that holds counts, so one without the
/// state of the line before it is its fallback.
fn falls_back(earlier: &[When], later: &[When]) -> bool {
    let states = |when: &[When]| when.iter().any(|one| matches!(one, When::State(_)));
    states(earlier) && !states(later)
}

/// The variants for which both lists hold: "engine-family is k9"; empty where no variant tells them apart.
fn both_in_words(model: &Model, one: &[When], other: &[When]) -> String {
    let mut said: Vec<String> = Vec::new();
    for when in one.iter().chain(other) {
        let (choice, values, place, of_variants) = match when {
            When::Variant(place, values) => (model.variants.get(*place), values, place, true),
            When::Position(place, values) => (model.positions.get(*place), values, place, false),
            When::State(_) => continue,
        };
        let Some(choice) = choice else { continue };
        let all_allow = |value: &usize| {
            one.iter().chain(other).all(|when| match when {
                When::Variant(same, values) if of_variants && same == place => values.contains(value),
                When::Position(same, values) if !of_variants && same == place => values.contains(value),
                _ => true,
            })
        };
        let both =
            values.iter().filter(|value| all_allow(value)).filter_map(|value| choice.values.get(*value));
        let both: Vec<&str> = both.map(String::as_str).collect();
        let words = format!("{} is {}", choice.name, both.join(" or "));
        if !said.contains(&words) {
            said.push(words);
        }
    }
    said.join(" and ")
}
