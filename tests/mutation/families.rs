//! The mutators, one for each rule, by family.

use super::broken::Broken;
use super::ground::Ground;

mod cases;
mod cautions;
mod copies;
mod limits;
mod naming;
mod pairs;
mod promises;
mod readings;
mod sides;
mod spelling;
mod states;
mod tables;
mod tools;
mod values;
mod ways;
mod words;

/// Finds every place of the library that it can break in the manner of one rule.
pub(super) type Mutator = fn(&Ground) -> Vec<Broken>;

/// The rules and their mutators.
pub(super) fn all() -> Vec<(&'static str, Mutator)> {
    [
        spelling::ALL,
        naming::ALL,
        limits::ALL,
        pairs::ALL,
        tables::ALL,
        tools::ALL,
        ways::ALL,
        readings::ALL,
        states::ALL,
        cautions::ALL,
        cases::ALL,
        words::ALL,
        values::ALL,
        copies::ALL,
        sides::ALL,
        promises::ALL,
    ]
    .concat()
}
