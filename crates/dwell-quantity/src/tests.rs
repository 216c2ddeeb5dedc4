//! Tests of the crate: one file for each of its ideas.

mod amounts;
mod bands;
mod bridges;
mod decisions;
mod kinds;
mod lookalikes;
mod numbers;
mod reach;
mod shown;
mod trig;
mod typed;
mod units;

use crate::{Exact, Lookup, Unit, lookup};

/// The number of that text form.
fn exact(text: &str) -> Exact {
    text.parse().expect("a number in its text form")
}

/// The unit of that spelling.
fn unit(spelling: &str) -> Unit {
    match lookup(spelling) {
        Lookup::Unit(unit) => unit,
        other => panic!("{spelling} is no unit: {other:?}"),
    }
}
