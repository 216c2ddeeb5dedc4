//! Which samples of a measurement count: those in its window, each as it is or as the mean of the last seconds; and what
//! makes all of them useless.

use super::taken;
use crate::graph::{Measure, Sampling};
use crate::limit::Fold;
use crate::meaning::Value;
use dwell_quantity::Exact;
use std::fmt;

/// Why there is no reading although there are samples. Times are seconds since the measurement began.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Flaw {
    /// Two samples, or the beginning of the window and the first, lie farther apart than twice `every`.
    Gap {
        /// How far.
        long: Exact,
        /// The time of the sample before it, or the beginning of the window.
        at: Exact,
    },
    /// The samples end before the window does.
    Stall {
        /// The time of the last one.
        last: Exact,
        /// The end of the window.
        end: Exact,
    },
    /// At one moment nothing could be read.
    Nothing {
        /// Its time, where it has one.
        at: Option<Exact>,
        /// Which sample it is, from 1.
        sample: usize,
    },
    /// Fewer samples count than must.
    Few {
        /// How many count.
        counted: usize,
        /// How many must.
        needed: u32,
    },
}

impl fmt::Display for Flaw {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Flaw::Gap { long, at } => write!(out, "gap of {} s at {} s", seconds(long), seconds(at)),
            Flaw::Stall { last, end } => {
                write!(out, "the samples end at {} s, before {} s", seconds(last), seconds(end))
            }
            Flaw::Nothing { at: Some(at), .. } => write!(out, "no reading at {} s", seconds(at)),
            Flaw::Nothing { at: None, sample } => write!(out, "no reading in sample {sample}"),
            Flaw::Few { counted, needed } => {
                write!(out, "{counted} of the samples count, and {needed} must")
            }
        }
    }
}

/// Seconds with at most three decimals.
fn seconds(time: &Exact) -> String {
    time.fixed(time.decimals_needed().unwrap_or(3).min(3))
}

/// What counts of the samples of one reading.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Counted {
    /// For each sample the value that counts for its moment; nothing where none does.
    pub values: Vec<Option<Value>>,
    /// The time of each sample, as given or counted from `every`.
    pub times: Vec<Option<Exact>>,
    /// From which sample on there is no reading, and why.
    pub flaw: Option<(usize, Flaw)>,
}

/// What counts of the samples of one reading: `times` in rising order and `values` as they were taken, one for the other.
pub fn counted(measure: &Measure, times: &[Option<Exact>], values: &[Value]) -> Counted {
    let plain = Sampling::default();
    let sampling = measure.sampling.as_ref().unwrap_or(&plain);
    let times = spaced(sampling, times);
    let inside: Vec<bool> = times.iter().map(|time| is_inside(measure, sampling, time.as_ref())).collect();
    let mut all = Counted { values: Vec::new(), times, flaw: None };
    let start = sampling.after.as_ref().map_or_else(Exact::zero, |after| after.0.clone());
    let most = sampling.every.as_ref().map(|every| &every.0 * &Exact::whole(2));
    let mut first: Option<Exact> = None;
    let mut before = start;
    for (place, value) in values.iter().enumerate() {
        if inside.get(place) != Some(&true) {
            all.values.push(None);
            continue;
        }
        let time = all.times.get(place).cloned().flatten();
        if all.flaw.is_none() {
            let long = time.as_ref().map(|time| time - &before);
            if let (Some(long), Some(most)) = (long, &most)
                && long > *most
            {
                all.flaw = Some((place, Flaw::Gap { long, at: before.clone() }));
            } else if *value == Value::Missing {
                all.flaw = Some((place, Flaw::Nothing { at: time.clone(), sample: place.saturating_add(1) }));
            }
        }
        if let Some(time) = &time {
            before = time.clone();
            first = first.or_else(|| Some(time.clone()));
        }
        let counts = match &sampling.averaging {
            None => Some(value.clone()),
            Some(width) => match (&time, &first) {
                (Some(time), Some(first)) if (time - first) >= width.0 => {
                    Some(mean_of(&(time - &width.0), place, &inside, &all.times, values))
                }
                _ => None,
            },
        };
        if all.flaw.is_none() && counts == Some(Value::Missing) {
            all.flaw = Some((place, Flaw::Nothing { at: time, sample: place.saturating_add(1) }));
        }
        all.values.push(counts);
    }
    all
}

/// The times as given; where there are none and `every` is known, counted from `after`.
fn spaced(sampling: &Sampling, times: &[Option<Exact>]) -> Vec<Option<Exact>> {
    let Some(every) = sampling.every.as_ref().filter(|_| times.iter().all(Option::is_none)) else {
        return times.to_vec();
    };
    let mut now = sampling.after.as_ref().map_or_else(Exact::zero, |after| after.0.clone());
    let mut all = Vec::new();
    for _ in times {
        all.push(Some(now.clone()));
        now = &now + &every.0;
    }
    all
}

/// Whether a sample of this time lies in the window; one without a time was taken when it had to be.
fn is_inside(measure: &Measure, sampling: &Sampling, time: Option<&Exact>) -> bool {
    let Some(time) = time else { return true };
    sampling.after.as_ref().is_none_or(|after| *time >= after.0)
        && measure.over.as_ref().is_none_or(|over| *time <= over.0)
}

/// The mean of the samples later than `from`, up to this one.
fn mean_of(from: &Exact, to: usize, inside: &[bool], times: &[Option<Exact>], values: &[Value]) -> Value {
    let known = values.iter().zip(times).zip(inside).take(to.saturating_add(1));
    let later: Vec<Value> = known
        .rev()
        .take_while(|((_, time), _)| time.as_ref().is_some_and(|time| time > from))
        .filter(|(_, inside)| **inside)
        .map(|((value, _), _)| value.clone())
        .collect();
    taken(Fold::Mean, &later)
}
