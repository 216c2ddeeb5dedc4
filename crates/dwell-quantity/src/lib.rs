//! Exact numbers, units, kinds of quantity, bands and decisions.
//!
//! Nothing here is a binary float until a picture or a probability is wanted: every number is an exact rational, so a
//! reading on the limit is in, in every unit. Two amounts may only meet when they are of the same *kind* of quantity;
//! the same dimension is not enough (torque is not energy, gauge pressure is not absolute pressure).

mod amount;
mod band;
mod bridge;
mod decimal;
mod decision;
mod kind;
mod lookalike;
mod number;
mod number_error;
mod others;
mod pair;
mod reach;
mod root;
mod shown;
mod trig;
mod unit;

#[cfg(test)]
mod tests;

pub use amount::{Amount, KindMismatch, from_base, from_base_difference};
pub use band::{Band, Bound, Place};
pub use bridge::{
    absolute_to_gauge, camshaft_to_crank, consumption_to_economy, crank_to_camshaft,
    economy_band_to_consumption, economy_to_consumption, gauge_to_absolute, rotation_to_frequency,
    vacuum_to_absolute,
};
pub use decimal::Decimal;
pub use decision::{Rule, Verdict, conformance, decide, guarded, nonconformance, verdict};
pub use kind::Kind;
pub use lookalike::{LookAlike, fold_twin, look_alike};
pub use number::{Exact, Rounding};
pub use number_error::NumberError;
pub use others::{in_other_units, other_units};
pub use pair::{Factor, Pair, PairSlip, Printed, pair, second_unit, second_value};
pub use reach::{Adjuster, MOST_STEPS};
pub use root::root;
pub use shown::{amount_off, band_fully_shown, band_shown, reading_shown, shown};
pub use trig::{cosine, sine};
pub use unit::{Lookup, System, Unit, lookup, partner, spellings, units_for};
