//! Declarations to their meaning, in small texts of the Merle; all values are invented.

mod bands;
mod items;
mod specs;
mod tools;

use dwell_quantity::Band;

use crate::model::{Model, Spec};

/// The spec of that name.
fn spec<'a>(model: &'a Model, name: &str) -> &'a Spec {
    model.specs.iter().find(|spec| spec.name == name).unwrap()
}

/// A band in base units as text: `[1.5, 2)`.
fn shown(band: &Band) -> String {
    let low = band
        .low
        .as_ref()
        .map_or("(".to_owned(), |end| format!("{}{}", if end.closed { "[" } else { "(" }, end.value));
    let high = band
        .high
        .as_ref()
        .map_or(")".to_owned(), |end| format!("{}{}", end.value, if end.closed { "]" } else { ")" }));
    format!("{low}, {high}")
}
