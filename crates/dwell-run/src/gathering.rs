//! A sampled measurement whose values come by themselves, from an instrument or from a file that grows: which values are wanted,
//! and when it is over.
//!
//! It begins with its first sample. Nothing is decided here: the session does that with all samples once it is over.

use crate::answer::{Answer, GivenSample};
use crate::prompt::{Prompt, ReadingPrompt};
use crate::refusal::Refusal;
use crate::session::Session;
use dwell_card::graph::{Act, Measure};
use dwell_card::meaning::MOST_SAMPLES;
use dwell_quantity::{Exact, Unit};
use dwell_record::What;

/// A reading whose samples are wanted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wanted {
    /// The reading, by its number on the card.
    pub reading: usize,
    /// Its name.
    pub name: String,
    /// Its place, for one of a row.
    pub place: Option<String>,
    /// The name of its kind of quantity.
    pub kind: String,
    /// The unit that it is asked for in.
    pub unit: Unit,
}

/// One value of one reading, as its source gives it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Given {
    /// The value, or `no reading`.
    pub text: String,
    /// Its unit.
    pub unit: Option<String>,
}

impl Given {
    /// That nothing could be read.
    pub fn nothing() -> Given {
        Given { text: "no reading".to_owned(), unit: None }
    }
}

/// The samples of one measurement as they come.
#[derive(Clone, Debug)]
pub struct Gathering {
    node: usize,
    wanted: Vec<Wanted>,
    samples: Vec<Vec<GivenSample>>,
    /// The time of the last sample, in milliseconds since the first.
    last: Option<u64>,
    every: Option<u64>,
    over: Option<u64>,
    least: u32,
    until: bool,
    held: bool,
}

/// Milliseconds of a number of seconds; those of a card are never so many that it matters where they end.
fn milliseconds(seconds: &Exact) -> u64 {
    (seconds.to_f64() * 1000.0).round().clamp(0.0, 9.0e15) as u64
}

impl Gathering {
    /// The measurement that is asked for now; none where nothing is asked for, where single values are, or where some of its
    /// readings have theirs already.
    pub fn of(session: &Session) -> Option<Gathering> {
        let Prompt::Reading(prompt) = session.ask() else { return None };
        let sampled = prompt.sampled.as_ref()?;
        let measure = measure(session, &prompt)?;
        if sampled.given.is_some() || measure.readings.first() != Some(&prompt.reading) {
            return None;
        }
        let card = session.card();
        let wanted = |reading: &usize| {
            let known = card.readings.get(*reading)?;
            let unit = Unit::all().find(|unit| unit.symbol() == known.unit)?;
            Some(Wanted {
                reading: *reading,
                name: known.name.clone(),
                place: known.at.clone(),
                kind: known.kind.clone(),
                unit,
            })
        };
        let wanted: Vec<Wanted> = measure.readings.iter().map(wanted).collect::<Option<_>>()?;
        let sampling = measure.sampling.as_ref();
        Some(Gathering {
            node: prompt.node,
            samples: vec![Vec::new(); wanted.len()],
            wanted,
            last: None,
            every: sampled.every.as_ref().map(|every| milliseconds(&every.0)),
            over: measure.over.as_ref().map(|over| milliseconds(&over.0)),
            least: sampled.least,
            until: sampling.is_some_and(|sampling| sampling.until.is_some()),
            held: false,
        })
    }

    /// The readings whose samples are wanted, in their order.
    pub fn wanted(&self) -> &[Wanted] {
        &self.wanted
    }

    /// The milliseconds between two samples: those that the card says; otherwise about two thousand samples in all, and at most ten
    /// in a second.
    pub fn period(&self) -> u64 {
        self.every.unwrap_or_else(|| (self.over.unwrap_or(0) / 2000).max(100)).max(1)
    }

    /// How long it takes, in milliseconds; none where somebody has to say when it is over, as after one turn.
    pub fn long(&self) -> Option<u64> {
        self.over
    }

    /// The time of the last sample, in milliseconds since the first.
    pub fn reached(&self) -> u64 {
        self.last.unwrap_or_default()
    }

    /// How many samples of each reading there are.
    pub fn count(&self) -> usize {
        self.samples.first().map_or(0, Vec::len)
    }

    /// The last value of each reading.
    pub fn latest(&self) -> Vec<&GivenSample> {
        self.samples.iter().filter_map(|samples| samples.last()).collect()
    }

    /// One more sample of each reading, all of the same moment: `at` is in milliseconds since the first one. What is not later
    /// than the one before, and what is beyond the most samples of a measurement, is left out.
    pub fn add(&mut self, session: &Session, at: u64, came: Vec<Given>) {
        let later = self.last.is_none_or(|last| at > last);
        if !later || came.len() != self.wanted.len() || self.count() >= MOST_SAMPLES || self.held {
            return;
        }
        self.last = Some(at);
        let time = format!("{}.{:03}", at / 1000, at % 1000);
        for (samples, Given { text, unit }) in self.samples.iter_mut().zip(came) {
            samples.push(GivenSample { time: Some(time.clone()), text, unit, kept: false });
        }
        self.held = self.until && self.holds(session);
    }

    /// Whether it is over, so many milliseconds after its first sample. Of a source that is late no more is waited for than one
    /// period and a second.
    pub fn is_over(&self, now: u64) -> bool {
        let Some(over) = self.over else { return false };
        let reached = self.last.is_some_and(|last| last >= over);
        let late = now >= over.saturating_add(self.every.unwrap_or(over / 10)).saturating_add(1000);
        self.held || reached || late || self.count() >= MOST_SAMPLES
    }

    /// Whether there are as many samples as must be, so that somebody can say that it is over.
    pub fn is_enough(&self) -> bool {
        u32::try_from(self.count()).unwrap_or(u32::MAX) >= self.least
    }

    /// The answers, one for each reading, to be given in this order. Where nothing came there are none.
    pub fn answers(&self) -> Vec<Answer> {
        let some = self.samples.iter().filter(|samples| !samples.is_empty());
        some.map(|samples| Answer::Samples(samples.clone())).collect()
    }

    /// Whether what it waits for holds with the samples so far: the session decides that, on a copy of itself.
    fn holds(&self, session: &Session) -> bool {
        let mut trial = session.clone();
        let known = trial.events().len();
        let at = trial.events().last().map(|event| event.at.clone()).unwrap_or_default();
        let given: Result<Vec<_>, Refusal> = self
            .answers()
            .into_iter()
            .map(|answer| trial.answer(Answer::Kept(Box::new(answer)), &at))
            .collect();
        let events = trial.events().get(known..).unwrap_or_default();
        given.is_ok()
            && events.iter().any(|event| match &event.what {
                What::Measured(measured) => {
                    event.node == Some(self.node) && measured.sampled.as_ref().is_some_and(|how| how.until)
                }
                _ => false,
            })
    }
}

/// What is measured where a value is asked for.
fn measure<'s>(session: &'s Session, prompt: &ReadingPrompt) -> Option<&'s Measure> {
    match &session.card().nodes.get(prompt.node)?.act {
        Act::Measure(measure) => Some(measure),
        _ => None,
    }
}
