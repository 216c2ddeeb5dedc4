//! The report of a job: what its events come to, with every reading as found and as left.

mod decided;
mod text;

pub use decided::Decided;
pub use text::wrapped;

use crate::event::{
    Begun, By, Cannot, Cause, Caution, Corrected, Event, Judged, Lost, Measured, PhotoTaken, PutRight,
    ReadingName, Sample, Signed, Tested, ToolTaken, Uncertain, What,
};
use crate::word::{Outcome, Side};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What the events of a job come to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Report {
    /// The job; none where the first event is missing.
    pub begun: Option<Begun>,
    /// When it began.
    pub from: Option<String>,
    /// The time of the last event.
    pub until: Option<String>,
    /// How it came out; none while it goes on.
    pub result: Option<Outcome>,
    /// Every reading, in the order in which they were first taken.
    pub readings: Vec<ReadingLine>,
    /// What else was decided than a reading against its band, in the order of the first decisions.
    pub decided: Vec<Decided>,
    /// Probable causes.
    pub causes: Vec<Cause>,
    /// What was to be held and was lost, in order.
    pub lost: Vec<Lost>,
    /// What could not be done or read, and why.
    pub cannot: Vec<Cannot>,
    /// Who signed for what, in order.
    pub signed: Vec<Signed>,
    /// The cautions that were shown, each once.
    pub cautions: Vec<Caution>,
    /// What the technician was told at the end.
    pub told: Vec<String>,
    /// The procedure that has to go on.
    pub refer: Option<String>,
    /// Why it was stopped, where it was.
    pub stopped: Option<String>,
    /// What did not fit.
    pub doubts: Vec<String>,
    /// What stayed otherwise than it was found.
    pub open: Vec<String>,
    /// Numbers of the events before which the clock was set back.
    pub clock_back: Vec<u64>,
    /// Who had it in hand, what was put right and why, in order: "14: Handed over: from A. Weber to B. Roth".
    pub history: Vec<String>,
    /// The tools of the workshop that were taken, in order.
    pub tools: Vec<ToolTaken>,
    /// Who typed it in from paper, with the first and the last moment at which that was done.
    pub typed: Vec<Typed>,
    /// What was put right when it was over, in order.
    pub put_right: Vec<PutRight>,
    /// The photos, in order.
    pub photos: Vec<PhotoTaken>,
    /// For each reading the number of the event with its first value.
    first_at: Vec<(ReadingName, u64)>,
    /// For each signature the number of its event.
    signed_at: Vec<u64>,
}

/// Somebody who typed in what was noted on paper.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// Who, and on which device.
    pub by: By,
    /// The first moment, as RFC 3339 writes it.
    pub from: String,
    /// The last one.
    pub until: String,
}

/// One reading, as found and as left.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ReadingLine {
    /// The reading.
    pub reading: ReadingName,
    /// Before anything was adjusted.
    pub as_found: Found,
    /// After the last measurement.
    pub as_left: Found,
    /// How often it was measured; 0 for one that is computed from others.
    pub measured: u32,
}

/// A value with what was decided by it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Found {
    /// The value as shown; `no reading` where there is none.
    pub value: String,
    /// The band it was held against.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<String>,
    /// Whether that was a band to set to.
    #[serde(default)]
    pub adjusting: bool,
    /// How it came out; none where nothing was decided by it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// How far it was off.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off: Option<String>,
    /// The decision with the tool's uncertainty.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertain: Option<Uncertain>,
    /// How a sampled reading came to its value: `mean of 10, 10 s to 20 s`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub how: Option<String>,
}

impl Found {
    fn new(measured: &Measured) -> Found {
        let value = measured.shown.clone();
        let how = if measured.sampled.is_some() || measured.samples.iter().any(Sample::is_kept) {
            measured.how()
        } else {
            None
        };
        Found { value, band: None, adjusting: false, side: None, off: None, uncertain: None, how }
    }

    /// How it came out in words; nothing where nothing was decided by it.
    pub fn words(&self) -> Option<String> {
        self.side.map(|side| side.words(self.off.as_deref()))
    }

    fn judged(&mut self, tested: &Tested, adjusting: bool) {
        self.value = tested.value.clone().unwrap_or_else(|| self.value.clone());
        self.band = tested.band.clone();
        self.adjusting = adjusting;
        self.side = Some(tested.side);
        self.off = tested.off.clone();
        self.uncertain = tested.uncertain.clone();
    }
}

impl Report {
    /// The report of these events, in their order.
    pub fn of(events: &[Event]) -> Report {
        let mut report = Report::default();
        for event in events {
            report.add(event);
        }
        report
    }

    /// One more event.
    pub fn add(&mut self, event: &Event) {
        if let Some(before) = &self.until
            && crate::goes_back(before, &event.at)
        {
            self.clock_back.push(event.seq);
        }
        if !matches!(event.what, What::PutRight(_)) {
            self.until = Some(event.at.clone());
        }
        match &event.what {
            What::Begun(begun) => {
                self.begun = Some(begun.clone());
                self.from = Some(event.at.clone());
            }
            What::CautionShown(caution) if !self.cautions.contains(caution) => {
                self.cautions.push(caution.clone())
            }
            What::Measured(measured) => {
                self.first_at.push((measured.reading.clone(), event.seq));
                self.measured(measured);
            }
            What::Judged(judged) => self.judged(judged),
            What::Lost(lost) => self.lost.push(lost.clone()),
            What::Signed(signed) => {
                self.signed.push(signed.clone());
                self.signed_at.push(event.seq);
            }
            What::TakenUp(taken) => {
                let expired = taken.expired.iter().map(|what| format!(". {what}")).collect::<String>();
                self.history.push(format!("event {}: {}{expired}", event.seq, taken.words()));
            }
            What::WentBack(back) => {
                self.unsign(back.to);
                let words = format!(
                    "event {}: {} went back to event {}: {}",
                    event.seq,
                    back.by.who(),
                    back.to,
                    back.why
                );
                self.history.push(words);
            }
            What::Corrected(wrong) => {
                self.unsign(wrong.to);
                self.corrected(event.seq, wrong);
            }
            What::Cannot(cannot) => self.cannot.push(cannot.clone()),
            What::ToolTaken(taken) => self.tools.push(ToolTaken::clone(taken)),
            What::PutRight(right) => self.put_right.push(PutRight::clone(right)),
            What::FromPaper(paper) => match self.typed.iter_mut().find(|typed| typed.by == paper.by) {
                Some(typed) => typed.until.clone_from(&paper.at),
                None => {
                    let (from, until) = (paper.at.clone(), paper.at.clone());
                    self.typed.push(Typed { by: paper.by.clone(), from, until });
                }
            },
            What::PhotoTaken(photo) => self.photos.push(photo.clone()),
            What::Cause(cause) => self.causes.push(cause.clone()),
            What::Doubt(words) => self.doubts.push(words.text.clone()),
            What::Ended(ended) => {
                self.told.extend(ended.text.clone());
                self.refer = ended.refer.clone().or_else(|| self.refer.take());
            }
            What::Stopped(why) => self.stopped = Some(why.text.clone()),
            What::Finished(finished) => {
                self.result = Some(finished.result);
                self.open = finished.open.clone();
            }
            _ => {}
        }
    }

    /// What was signed from an event on counts no more.
    fn unsign(&mut self, to: u64) {
        let still = self.signed_at.iter().filter(|at| **at < to).count();
        self.signed_at.truncate(still);
        self.signed.truncate(still);
    }

    /// A value that was noted wrong is no value: as found counts what is read in its place.
    fn corrected(&mut self, seq: u64, wrong: &Corrected) {
        let (name, was, why) = (wrong.reading.words(), &wrong.was, &wrong.why);
        self.history
            .push(format!("event {seq}: {} put right the {name}, noted as {was}: {why}", wrong.by.who()));
        self.first_at.retain(|(reading, at)| *reading != wrong.reading || *at < wrong.to);
        if !self.first_at.iter().any(|(reading, _)| *reading == wrong.reading) {
            self.readings.retain(|line| line.reading != wrong.reading);
        }
    }

    fn measured(&mut self, measured: &Measured) {
        let now = Found::new(measured);
        match self.readings.iter_mut().find(|line| line.reading == measured.reading) {
            Some(line) => {
                line.as_left = now;
                line.measured = line.measured.saturating_add(1);
            }
            None => self.readings.push(ReadingLine {
                reading: measured.reading.clone(),
                as_found: now.clone(),
                as_left: now,
                measured: 1,
            }),
        }
    }

    /// A reading that is computed is never measured: it is there from its first decision on.
    fn computed(&mut self, reading: &ReadingName, tested: &Tested, adjusting: bool) {
        let Some(value) = tested.value.clone() else { return };
        let mut found =
            Found { value, band: None, adjusting, side: None, off: None, uncertain: None, how: None };
        found.judged(tested, adjusting);
        self.readings.push(ReadingLine {
            reading: reading.clone(),
            as_found: found.clone(),
            as_left: found,
            measured: 0,
        });
    }

    /// As found, the first decision counts; as left, the last one.
    fn judged(&mut self, judged: &Judged) {
        for tested in &judged.tests {
            let Some(reading) = &tested.reading else {
                Decided::note(&mut self.decided, tested, judged.adjusting);
                continue;
            };
            let Some(line) = self.readings.iter_mut().find(|line| line.reading == *reading) else {
                self.computed(reading, tested, judged.adjusting);
                continue;
            };
            line.as_left.judged(tested, judged.adjusting);
            if line.measured == 1 && line.as_found.side.is_none() {
                line.as_found.judged(tested, judged.adjusting);
            }
        }
    }
}
