//! What an instrument sends while a reading is asked for: shown as it comes, taken only when the technician takes it.
//!
//! A line is `VALUE UNIT`, or `@SECONDS VALUE UNIT` where the instrument has a clock of its own; without one the time of arrival
//! counts. Readings that are taken together stand on one line, `hc=150 ppm; co=0.4 %vol`. Whatever is not there is no reading: after a stall a value is not taken, and a series ends with one that is missing,
//! so that the card's own definition of settled and steady decides on it.

use super::{Inside, Job};
use crate::bay::held;
use dwell_card::graph::Act;
use dwell_card::meaning::{MOST_SAMPLES, Value};
use dwell_quantity::{Band, Exact, Place, from_base, reading_shown};
use dwell_record::Side;
use dwell_run::shown::{Spot, in_unit, spot};
use dwell_run::{Answer, GivenSample, Prompt, ReadingPrompt, Session, typed_value};
use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};

/// After so long without a value the instrument is taken to be silent, where the card names no shorter time.
const SILENT: Duration = Duration::from_secs(2);

/// A value as it is shown while it comes.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Live {
    /// What gives it: `DMM-9`; nothing where a program sends it.
    pub(crate) name: Option<String>,
    /// The value in the unit that is asked for, `14.2 V`; `no reading`.
    pub(crate) shown: String,
    /// Where it stands on the scale.
    pub(crate) spot: Option<Spot>,
    /// Whether that scale has a low and a high end.
    pub(crate) ends: (bool, bool),
    /// How it stands: `3 values so far`, `4 s of 20 s, 3 values`, or why no newer value comes.
    pub(crate) stands: String,
    /// Whether a measurement by an instrument is being taken.
    pub(crate) measuring: bool,
    /// What the button for it says; nothing where there is nothing to take or to begin.
    pub(crate) take: Option<&'static str>,
}

/// What became of a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Line {
    /// It is shown.
    Shown,
    /// No reading is asked for just now, or an instrument of the register gives it: it was dropped.
    NotAsked,
    /// It cannot be used, and why.
    Wrong(String),
}

/// What has come for the measurement that is asked for. Readings that are taken at the same moments have their values from the
/// same lines, although they are asked for one after the other.
#[derive(Default)]
pub(super) struct Samples {
    /// The measurement.
    node: Option<usize>,
    /// When the first came.
    began: Option<Instant>,
    /// When the last came.
    last: Option<Instant>,
    /// The first time by the instrument's own clock, where it has one.
    from: Option<Exact>,
    /// How many came for the reading that is asked for.
    count: usize,
    /// More came than one measurement can have.
    over: bool,
    /// For each reading, by its name, what came.
    series: BTreeMap<String, Vec<GivenSample>>,
    /// The readings that have their value.
    taken: BTreeSet<String>,
}

/// A line, taken apart.
struct Parts<'l> {
    /// By the instrument's own clock.
    time: Option<Exact>,
    /// The name of a reading, where it is said, and its value.
    values: Vec<(Option<&'l str>, &'l str)>,
}

fn parts(line: &str) -> Result<Parts<'_>, String> {
    let (time, values) = match line.strip_prefix('@') {
        Some(rest) => {
            let wrong = || format!("`{line}`: write `@SECONDS VALUE UNIT`");
            let (time, values) = rest.split_once(' ').ok_or_else(wrong)?;
            let time: Exact = time.parse().map_err(|_| wrong())?;
            (Some(time), values)
        }
        None => (None, line),
    };
    let named = |piece| match str::split_once(piece, '=') {
        Some((name, value)) => (Some(name.trim()), value.trim()),
        None => (None, piece),
    };
    let values = values.split(';').map(str::trim).filter(|piece| !piece.is_empty()).map(named).collect();
    Ok(Parts { time, values })
}

/// A value with its unit; `asked` is the reading that is asked for, where it is for that one.
fn sample(value: &str, asked: Option<&ReadingPrompt>) -> Result<GivenSample, String> {
    let bare = asked.is_some_and(|asked| asked.unit.symbol().is_empty());
    let (text, unit) = match value.split_once(' ') {
        _ if value == "no reading" => (value.to_owned(), None),
        Some((number, unit)) => (number.to_owned(), Some(unit.trim().to_owned())),
        None if bare => (value.to_owned(), None),
        None => return Err(format!("`{value}` has no unit: write it behind the value")),
    };
    Ok(GivenSample { time: None, text, unit, kept: false })
}

impl Samples {
    pub(super) fn clear(&mut self) {
        *self = Samples::default();
    }

    /// A reading has its value. What came for others of the same measurement stays.
    pub(super) fn was_taken(&mut self, asked: &Prompt, next: &Prompt) {
        let same = match (asked, next) {
            (Prompt::Reading(asked), Prompt::Reading(next)) => {
                self.taken.insert(asked.name.clone());
                asked.sampled.is_some() && asked.node == next.node && !self.taken.contains(&next.name)
            }
            _ => false,
        };
        if !same {
            self.clear();
        }
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
        let all = self.series.get(&reading.name).map(Vec::as_slice).unwrap_or_default();
        let Some(last) = all.last() else {
            return Err(
                "nothing has come from the instrument: type the value, or say that it is not readable".into(),
            );
        };
        let silent = self.is_silent(reading);
        if reading.sampled.is_none() {
            return match silent {
                true => Err("the instrument has fallen silent: there is no reading to take".to_owned()),
                false if last.text == "no reading" => Ok(Answer::NoReading),
                false => Ok(Answer::Value { text: last.text.clone(), unit: last.unit.clone() }),
            };
        }
        if self.over {
            return Err(format!("more than {MOST_SAMPLES} values have come: begin the measurement anew"));
        }
        let mut all = all.to_vec();
        // Another reading of the same measurement has its values of the same moments already.
        if silent && self.from.is_none() && self.taken.is_empty() {
            let time = self.began.map(|began| seconds(began.elapsed()));
            all.push(GivenSample { time, text: "no reading".to_owned(), unit: None, kept: false });
        }
        Ok(Answer::Samples(all))
    }

    /// One line; what is shown of it, where it has a value of the reading that is asked for.
    fn take(
        &mut self,
        line: &str,
        reading: &ReadingPrompt,
        names: &[String],
    ) -> Result<Option<Live>, String> {
        if self.node != Some(reading.node) || self.taken.contains(&reading.name) {
            self.clear();
            self.node = Some(reading.node);
        }
        let now = Instant::now();
        let Parts { time, values } = parts(line)?;
        if self.began.is_some() && self.from.is_some() != time.is_some() {
            return Err(format!("`{line}`: either all values have a time, or none"));
        }
        let mut given = Vec::new();
        let mut shown = None;
        for (name, value) in values {
            let name = name.unwrap_or(&reading.name);
            if !names.iter().any(|known| known == name) {
                return Err(format!("`{name}` is not measured here: it is {}", names.join(" or ")));
            }
            let own = (name == reading.name).then_some(reading);
            let sample = sample(value, own)?;
            if own.is_some() {
                let read =
                    typed_value(&sample.text, sample.unit.as_deref().unwrap_or_default(), reading.kind);
                let read =
                    read.ok_or_else(|| format!("`{line}` is no value of this reading, in {}", reading.unit))?;
                shown = Some(live(&read, reading));
            }
            given.push((name.to_owned(), sample));
        }
        let stamp = match &time {
            Some(time) => {
                let from = self.from.get_or_insert_with(|| time.clone());
                (time - &*from).to_string()
            }
            None => seconds(self.began.map_or(Duration::ZERO, |began| now - began)),
        };
        self.began.get_or_insert(now);
        self.last = Some(now);
        for (name, sample) in given.into_iter().filter(|(name, _)| !self.taken.contains(name)) {
            self.count += usize::from(name == reading.name);
            let all = self.series.entry(name).or_default();
            if reading.sampled.is_none() {
                // Only the value of the moment can be taken.
                all.clear();
            }
            if all.len() >= MOST_SAMPLES {
                self.over = true;
            } else if all.last().and_then(|last| last.time.as_ref()) != Some(&stamp) {
                all.push(GivenSample { time: Some(stamp.clone()), ..sample });
            }
        }
        Ok(shown.map(|shown| Live { stands: many(self.count), ..shown }))
    }
}

fn seconds(time: Duration) -> String {
    format!("{}.{:06}", time.as_secs(), time.subsec_micros())
}

impl Job {
    /// One line of an instrument.
    pub(crate) fn sent(&self, line: &str) -> Line {
        let mut inside = held(&self.inside);
        let Inside { session, writer, samples, source, .. } = &mut *inside;
        let Prompt::Reading(reading) = session.ask() else { return Line::NotAsked };
        // Where an instrument of the register gives the reading, nothing else does.
        if writer.is_none() || source.gives() {
            return Line::NotAsked;
        }
        match samples.take(line, &reading, &names(session, &reading)) {
            Ok(live) => {
                if live.is_some() {
                    self.live.send_replace(live);
                }
                Line::Shown
            }
            Err(why) => Line::Wrong(why),
        }
    }
}

/// The readings that are taken together with this one.
fn names(session: &Session, reading: &ReadingPrompt) -> Vec<String> {
    let card = session.card();
    let all = match card.nodes.get(reading.node).map(|node| &node.act) {
        Some(Act::Measure(measure)) => measure.readings.as_slice(),
        _ => &[],
    };
    all.iter().filter_map(|reading| card.readings.get(*reading)).map(|known| known.name.clone()).collect()
}

/// `1 value so far`.
fn many(count: usize) -> String {
    format!("{count} value{} so far", if count == 1 { "" } else { "s" })
}

/// A value as it is shown, on the scale of the first band.
pub(super) fn live(read: &Value, reading: &ReadingPrompt) -> Live {
    let none = || Live {
        name: None,
        shown: "no reading".to_owned(),
        spot: None,
        ends: (false, false),
        stands: String::new(),
        measuring: false,
        take: Some("Take what it shows"),
    };
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
    Live { shown, spot: spot(&drawn, &value, side), ends, ..none() }
}
