//! What the readings of many jobs say together: the share in band on arrival, where the values lie, and whether they look written
//! rather than read. Each figure has its definition, with its source, in `grammar/reference/many-jobs.md`.
//!
//! Counts, values and quartiles are exact. Only the ends of an interval for a share and the probability of a count are not.

mod digits;
mod limits;
mod order;
mod share;

#[cfg(test)]
mod tests;

pub use digits::Digits;
pub use limits::{Limits, Near};
pub use order::{Five, percentile};
pub use share::{Share, wilson};

use crate::Report;
use crate::event::{Event, Measured, ReadingName, Sample, What};
use crate::number::Value;
use crate::report::{Found, ReadingLine};
use crate::word::Side;
use dwell_quantity::Exact;
use std::collections::BTreeMap;

/// What is looked at together: one reading of one procedure, for one sort of vehicle, held against one band.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key {
    /// The procedure that takes the reading.
    pub procedure: String,
    /// The reading; of several places, all together.
    pub reading: String,
    /// The quantity.
    pub quantity: String,
    /// The unit of the values.
    pub unit: String,
    /// The variants of the vehicle, `engine-family=k9`.
    pub variants: Vec<String>,
    /// The band that was checked against; none where nothing was decided by it.
    pub band: Option<String>,
}

/// The readings of one key.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Group {
    /// In how many jobs.
    pub jobs: u32,
    /// As found.
    pub found: Values,
    /// As left.
    pub left: Values,
    /// In how many of them the value as left was set to a band.
    pub adjusted: u32,
    /// The last digits of all that was typed.
    pub digits: Digits,
    /// The ends of the band, where its unit is that of the values.
    pub limits: Limits,
}

/// Values with how they came out.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Values {
    /// The values that are one number, the smallest first.
    pub values: Vec<Exact>,
    /// How many are in band, by the record.
    pub inside: u32,
    /// How many are LOW.
    pub low: u32,
    /// How many are HIGH.
    pub high: u32,
    /// How many are no reading.
    pub nothing: u32,
    /// How many came out otherwise, or were not judged.
    pub other: u32,
}

impl Values {
    /// All of them.
    pub fn count(&self) -> u32 {
        self.inside + self.low + self.high + self.nothing + self.other
    }

    /// The share that is in band, of those that are in or out.
    pub fn share(&self) -> Share {
        Share { part: self.inside, of: self.inside + self.low + self.high }
    }

    /// Smallest, quartiles and largest; none of fewer than five values.
    pub fn five(&self) -> Option<Five> {
        Five::of(&self.values)
    }

    fn add(&mut self, found: &Found, taken: Option<&Taken<'_>>) {
        let measured = taken.map(|(_, measured, _)| *measured);
        let side = taken.and_then(|(.., right)| *right).or(found.side);
        if let Some(Value::Number(number)) = measured.map(|measured| &measured.value) {
            let place = self.values.partition_point(|known| *known <= number.0);
            self.values.insert(place, number.0.clone());
        }
        let no_reading = matches!(measured.map(|measured| &measured.value), Some(Value::NoReading));
        match side {
            Some(Side::In) => self.inside += 1,
            Some(Side::Low) => self.low += 1,
            Some(Side::High) => self.high += 1,
            Some(Side::NoReading) => self.nothing += 1,
            None if no_reading => self.nothing += 1,
            Some(Side::Other) | None => self.other += 1,
        }
    }
}

/// The readings of many jobs.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Statistics {
    /// By what is looked at together.
    pub groups: BTreeMap<Key, Group>,
    /// How many jobs were taken in.
    pub jobs: u32,
    /// How many were left out because they are not over.
    pub not_over: u32,
}

impl Statistics {
    /// One more job, by its events. One that is not over is only counted: nobody knows yet how it is left.
    pub fn add(&mut self, events: &[Event]) {
        let report = Report::of(events);
        let Some(begun) = report.begun.as_ref() else { return };
        if report.result.is_none() {
            self.not_over += 1;
            return;
        }
        self.jobs += 1;
        let variants: Vec<String> =
            begun.variants.iter().map(|(axis, value)| format!("{axis}={value}")).collect();
        let mut seen: Vec<Key> = Vec::new();
        for line in report.readings.iter().filter(|line| line.measured > 0) {
            let taken = taken(events, &line.reading);
            let Some((_, first, _)) = taken.first().copied() else { continue };
            let key = Key {
                procedure: line.reading.procedure.clone(),
                reading: line.reading.name.clone(),
                quantity: first.quantity.clone(),
                unit: first.unit.clone(),
                variants: variants.clone(),
                band: line.as_found.band.clone(),
            };
            let group = self.groups.entry(key.clone()).or_default();
            group.limits = Limits::read(key.band.as_deref(), &key.unit);
            group.line(line, &taken);
            if !seen.contains(&key) {
                group.jobs += 1;
                seen.push(key);
            }
        }
    }
}

impl Group {
    fn line(&mut self, line: &ReadingLine, taken: &[Taken<'_>]) {
        self.found.add(&line.as_found, taken.first());
        self.left.add(&line.as_left, taken.last());
        if line.as_left.adjusting {
            self.adjusted += 1;
        }
        for sample in taken.iter().flat_map(|(_, measured, _)| &measured.samples) {
            if let Sample::Typed { text, .. } = sample {
                self.digits.add(text);
            }
        }
    }
}

/// A value: the number of its event, the value, and how it came out where it was put right when the job was over.
type Taken<'e> = (u64, &'e Measured, Option<Side>);

/// The times that a reading was taken, without those that were noted wrong.
fn taken<'e>(events: &'e [Event], reading: &ReadingName) -> Vec<Taken<'e>> {
    let mut all: Vec<Taken<'_>> = Vec::new();
    for event in events {
        match &event.what {
            What::Measured(measured) if measured.reading == *reading => {
                all.push((event.seq, measured.as_ref(), None));
            }
            What::Corrected(wrong) if wrong.reading == *reading => all.retain(|(seq, ..)| *seq < wrong.to),
            What::PutRight(right) => {
                let own = right.decides.iter().find(|test| test.reading.as_ref() == Some(reading));
                for known in all.iter_mut().filter(|(seq, ..)| *seq == right.event) {
                    *known = (known.0, &right.now, own.map(|test| test.side));
                }
            }
            _ => {}
        }
    }
    all
}
