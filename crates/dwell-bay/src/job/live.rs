//! What an instrument sends while a reading is asked for: shown as it comes, taken only when the technician takes it.
//!
//! A line is `VALUE UNIT`, or `@SECONDS VALUE UNIT` where the instrument has a clock of its own; without one the time of arrival
//! counts. Whatever is not there is no reading: after a stall a value is not taken, and a series ends with one that is missing,
//! so that the card's own definition of settled and steady decides on it.

use super::Job;
use crate::bay::held;
use dwell_card::meaning::{MOST_SAMPLES, Value};
use dwell_quantity::{Band, Place, from_base, reading_shown};
use dwell_record::Side;
use dwell_run::shown::{Spot, in_unit, spot};
use dwell_run::{Answer, GivenSample, Prompt, ReadingPrompt, typed_value};
use std::time::{Duration, Instant};

/// After so long without a value the instrument is taken to be silent, where the card names no shorter time.
const SILENT: Duration = Duration::from_secs(2);

/// A value as it is shown while it comes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Live {
    /// The value in the unit that is asked for, `14.2 V`; `no reading`.
    pub(crate) shown: String,
    /// Where it stands on the scale.
    pub(crate) spot: Option<Spot>,
    /// Whether that scale has a low and a high end.
    pub(crate) ends: (bool, bool),
    /// How many values have come for this reading.
    pub(crate) count: usize,
}

/// What became of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    /// It is shown.
    Shown,
    /// No reading is asked for just now: it was dropped.
    NotAsked,
    /// It cannot be used, and why.
    Wrong(String),
}

/// What has come for the reading that is asked for.
#[derive(Default)]
pub(super) struct Samples {
    /// When the first came.
    began: Option<Instant>,
    /// When the last came.
    last: Option<Instant>,
    /// Whether the instrument gives times.
    timed: bool,
    all: Vec<GivenSample>,
    /// More came than one measurement can have.
    over: bool,
}

impl Samples {
    pub(super) fn clear(&mut self) {
        *self = Samples::default();
    }

    fn is_silent(&self, reading: &ReadingPrompt) -> bool {
        let every = reading.sampled.as_ref().and_then(|sampled| sampled.every.as_ref());
        let patience = every.map_or(SILENT, |every| {
            SILENT.max(Duration::from_secs_f64((every.0.to_f64() * 2.5).clamp(0.0, 3600.0)))
        });
        self.last.is_none_or(|last| last.elapsed() > patience)
    }

    /// What was sent, as an answer.
    pub(super) fn answer(&self, reading: &ReadingPrompt) -> Result<Answer, String> {
        let Some(last) = self.all.last() else {
            return Err(
                "nothing has come from the instrument: type the value, or say that it is not readable".into(),
            );
        };
        if self.over {
            return Err(format!("more than {MOST_SAMPLES} values have come: begin the measurement anew"));
        }
        let silent = self.is_silent(reading);
        if reading.sampled.is_none() {
            return match silent {
                true => Err("the instrument has fallen silent: there is no reading to take".to_owned()),
                false if last.text == "no reading" => Ok(Answer::NoReading),
                false => Ok(Answer::Value { text: last.text.clone(), unit: last.unit.clone() }),
            };
        }
        let mut all = self.all.clone();
        if silent && !self.timed {
            let time = self.began.map(|began| seconds(began.elapsed()));
            all.push(GivenSample { time, text: "no reading".to_owned(), unit: None, kept: false });
        }
        Ok(Answer::Samples(all))
    }
}

fn seconds(time: Duration) -> String {
    format!("{}.{:06}", time.as_secs(), time.subsec_micros())
}

impl Job {
    /// One line of an instrument.
    pub(crate) fn sent(&self, line: &str) -> Line {
        let mut inside = held(&self.inside);
        let Prompt::Reading(reading) = inside.session.ask() else { return Line::NotAsked };
        if inside.writer.is_none() {
            return Line::NotAsked;
        }
        match inside.samples.take(line, &reading) {
            Ok(live) => {
                self.live.send_replace(Some(live));
                Line::Shown
            }
            Err(why) => Line::Wrong(why),
        }
    }
}

impl Samples {
    fn take(&mut self, line: &str, reading: &ReadingPrompt) -> Result<Live, String> {
        let now = Instant::now();
        let (time, value) = match line.strip_prefix('@') {
            Some(rest) => {
                let (time, value) =
                    rest.split_once(' ').ok_or_else(|| format!("`{line}`: write `@SECONDS VALUE UNIT`"))?;
                (Some(time.to_owned()), value.trim())
            }
            None => (None, line),
        };
        if !self.all.is_empty() && self.timed != time.is_some() {
            return Err(format!("`{line}`: either all values have a time, or none"));
        }
        let (text, unit) = match value.split_once(' ') {
            _ if value == "no reading" => (value.to_owned(), None),
            Some((number, unit)) => (number.to_owned(), Some(unit.trim().to_owned())),
            None if reading.unit.symbol().is_empty() => (value.to_owned(), None),
            None => return Err(format!("`{line}` has no unit: write it behind the value")),
        };
        let read = typed_value(&text, unit.as_deref().unwrap_or_default(), reading.kind)
            .ok_or_else(|| format!("`{line}` is no value of this reading, in {}", reading.unit))?;
        let arrived = seconds(self.began.map_or(Duration::ZERO, |began| now - began));
        let stamp = time.clone().unwrap_or(arrived);
        if self.all.len() >= MOST_SAMPLES {
            self.over = true;
        } else if self.all.last().and_then(|last| last.time.as_ref()) != Some(&stamp) {
            self.all.push(GivenSample { time: Some(stamp), text, unit, kept: false });
        }
        self.timed = time.is_some();
        self.began.get_or_insert(now);
        self.last = Some(now);
        Ok(Live { count: self.all.len(), ..live(&read, reading) })
    }
}

/// A value as it is shown, on the scale of the first band.
fn live(read: &Value, reading: &ReadingPrompt) -> Live {
    let none = || Live { shown: "no reading".to_owned(), spot: None, ends: (false, false), count: 0 };
    let Value::Read(band) = read else { return none() };
    let (Some(low), Some(high)) = (&band.low, &band.high) else { return none() };
    if low.value != high.value {
        return none();
    }
    let first = reading.held.first().map_or_else(Band::all, |held| held.band.clone());
    // As everywhere: never rounded across a limit.
    let shown = reading_shown(&low.value, &first, reading.unit, reading.kind, reading.decimals);
    let value = from_base(&low.value, reading.unit, reading.kind);
    let drawn = in_unit(&first, reading.unit, reading.kind);
    let side = match drawn.place(&Band::exactly(value.clone())) {
        Place::In => Side::In,
        Place::Low(_) => Side::Low,
        Place::High(_) => Side::High,
        Place::Undecided => Side::Other,
    };
    let ends = (drawn.low.is_some(), drawn.high.is_some());
    Live { shown, spot: spot(&drawn, &value, side), ends, count: 0 }
}
