//! Where in the procedure a session stands, at which vehicle, and what of it is open, in few words.

use crate::prompt::Prompt;
use crate::session::{Place, Session};
use dwell_card::section::{Section, Sections};
use dwell_record::event::Doing;

/// How many answers are offered to go back to.
const OFFERED: usize = 9;

/// After so many seconds without an answer a job counts as interrupted, although nobody left it.
const PAUSE: u64 = 3_600;

impl Prompt {
    /// The node of the card that asks.
    pub fn node(&self) -> Option<usize> {
        match self {
            Prompt::Confirm(confirm) => Some(confirm.node),
            Prompt::Need { node, .. } => Some(*node),
            Prompt::Reading(reading) => Some(reading.node),
            Prompt::Question(question) => Some(question.node),
            Prompt::Sign(sign) => Some(sign.node),
            Prompt::Done { .. } => None,
        }
    }

    /// What is asked, in its own words.
    pub fn says(&self) -> &str {
        match self {
            Prompt::Confirm(confirm) => &confirm.says,
            Prompt::Need { says, .. } => says,
            Prompt::Reading(reading) => &reading.says,
            Prompt::Question(question) => &question.text,
            Prompt::Sign(sign) => &sign.title,
            Prompt::Done { .. } => "",
        }
    }
}

impl Session {
    fn section(&self) -> Option<Section> {
        self.ask().node().map(|node| Sections::of(self.card()).section(node))
    }

    /// `step 2 of 5`, `before you begin`, `put back`; nothing where it is none of these.
    pub fn where_in(&self) -> String {
        match self.section() {
            Some(Section::Step(step)) => format!("step {} of {}", step + 1, self.card().steps.len()),
            Some(Section::Needs(_)) => "before you begin".to_owned(),
            Some(Section::Restore(_)) => "put back".to_owned(),
            Some(Section::Frame(_)) | None => String::new(),
        }
    }

    /// The heading of the step at hand.
    pub fn heading(&self) -> Option<String> {
        self.section().and_then(|section| section.heading(self.card()))
    }

    /// The vehicle: its number and what it is, "vehicle …, engine family k9".
    pub fn vehicle_in_words(&self) -> Option<String> {
        let report = self.report();
        let begun = report.begun.as_ref()?;
        let number = begun.vehicle.iter().map(|vehicle| format!("vehicle {vehicle}"));
        let variants =
            begun.variants.iter().map(|(axis, value)| format!("{} {value}", axis.replace('-', " ")));
        let all: Vec<String> = number.chain(variants).collect();
        (!all.is_empty()).then(|| all.join(", "))
    }

    /// The answers that are offered to go back to, the latest first.
    pub fn offered(&self) -> Vec<Place> {
        self.behind().into_iter().rev().take(OFFERED).collect()
    }

    /// How many seconds nothing was answered, where that is so long that what lasts for a time only may be over: it is taken up
    /// again before the next answer. Waiting is no pause.
    pub fn paused(&self, at: &str) -> Option<u64> {
        let waits = matches!(self.ask(), Prompt::Confirm(confirm) if confirm.doing == Doing::Wait);
        let away = dwell_record::seconds_between(&self.events().last()?.at, at)?;
        (!waits && away >= PAUSE).then_some(away)
    }
}
