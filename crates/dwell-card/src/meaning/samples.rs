//! Samples: the many values of one measurement, which of them count, and what they say together.
//!
//! The definitions stand in words in `grammar/reference/what-the-words-mean.md`, and only here in code.

mod asked;
mod ending;
mod window;

#[cfg(test)]
mod tests;

pub(super) use asked::{at_moments, of_samples, sampling_limit};
pub use ending::{Ended, SampledReading, Series, sampled};
pub use window::{Counted, Flaw, counted};

use super::Value;
use super::value::folded;
use crate::graph::Measure;
use crate::limit::Fold;
use dwell_quantity::Exact;

/// The most samples of one reading in one measurement; more are refused, because each is kept in the record.
pub const MOST_SAMPLES: usize = 5_000;

/// The samples that counted in a measurement.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Samples {
    /// It is not known which: on paper.
    Unknown,
    /// These, in order. None of them is missing.
    Counted(Vec<Value>),
}

/// Whether as many values are taken as come; otherwise exactly `times` are.
pub fn is_sampled(measure: &Measure) -> bool {
    measure.sampling.is_some() || measure.times <= 1 && measure.take == Fold::Spread
}

/// The least number of values that a measurement takes for each of its readings. A spread needs two: of one value it would be
/// zero whatever was measured.
pub fn least(measure: &Measure) -> u32 {
    let asked = measure.sampling.as_ref().map_or(measure.times, |sampling| sampling.least);
    asked.max(needed(measure))
}

/// The least number of samples that must count for there to be a reading.
pub(in crate::meaning) fn needed(measure: &Measure) -> u32 {
    let asked = measure.sampling.as_ref().map_or(1, |sampling| sampling.needed);
    asked.max(if measure.take == Fold::Spread { 2 } else { 1 })
}

/// Several values made one. A single one, and the last of several, may be an interval ("above 1000 MΩ"); nothing else is made
/// of intervals. There is no spread of a single value.
pub fn taken(fold: Fold, values: &[Value]) -> Value {
    match (fold, values) {
        (_, []) | (Fold::Spread, [_]) => Value::Missing,
        (Fold::Last, [.., last]) => last.clone(),
        (Fold::Spread | Fold::Sum, _) | (_, [_, _, ..]) => folded(fold, values),
        (_, [one]) => one.clone(),
    }
}

/// Highest minus lowest; nothing for fewer than two values, or where one of them is no single number.
pub fn spread(values: &[Value]) -> Option<Exact> {
    taken(Fold::Spread, values).exact().cloned()
}

/// Whether the values lie no farther apart than `limit`. Nothing for fewer than two.
pub fn steady(values: &[Value], limit: &Exact) -> Option<bool> {
    spread(values).map(|spread| spread <= *limit)
}

/// Whether the values go up by more than `limit` and down by more than `limit`, in whichever order and in however many steps.
/// What only rises or only falls drifts: it is neither steady nor fluctuating. Nothing for fewer than three.
pub fn fluctuating(values: &[Value], limit: &Exact) -> Option<bool> {
    if values.len() < 3 {
        return None;
    }
    let (mut up, mut down) = (Exact::zero(), Exact::zero());
    let mut ends: Option<(&Exact, &Exact)> = None;
    for value in values {
        let now = value.exact()?;
        let (lowest, highest) = ends.unwrap_or((now, now));
        up = up.max(now - lowest);
        down = down.max(highest - now);
        ends = Some((lowest.min(now), highest.max(now)));
    }
    Some(up > *limit && down > *limit)
}
