//! Going on with a job, going back in it, and putting a reading right.

use super::ReadingName;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// Who writes the record, and on which device.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct By {
    /// The person, where a name was given.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub person: Option<String>,
    /// The device, where its name is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub device: Option<String>,
}

impl By {
    /// Whether nothing is known.
    pub fn is_unknown(&self) -> bool {
        self.person.is_none() && self.device.is_none()
    }

    /// The person; "somebody" where no name was given.
    pub fn who(&self) -> &str {
        self.person.as_deref().unwrap_or("somebody")
    }
}

/// "A. Weber on bay-2".
impl fmt::Display for By {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.who())?;
        self.device.iter().try_for_each(|device| write!(out, " on {device}"))
    }
}

/// A job was taken up again after an interruption.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct TakenUp {
    /// Who goes on.
    pub by: By,
    /// Who had it before.
    pub from: By,
    /// In which way.
    pub how: Taking,
    /// How long nothing was recorded, in seconds; none where the clock was set back and nobody knows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub away: Option<u64>,
    /// What was open then, "The belt guard is removed, since 2031-04-12T09:05:00+02:00".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub open: Vec<String>,
    /// What had run out in the meantime, "The engine was warm, which lasts 20 min".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub expired: Vec<String>,
    /// What a measurement proved before the interruption, and nobody watched since.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub proved: Vec<String>,
}

impl TakenUp {
    /// "Handed over: from A. Weber on bay-2 to B. Roth on bay-2".
    pub fn words(&self) -> String {
        let (by, from) = (&self.by, &self.from);
        match self.how {
            Taking::GoneOn => format!("Gone on: {by}"),
            Taking::HandedOver => format!("Handed over: from {from} to {by}"),
            Taking::TakenOver => format!("Taken over: {by}, while {from} had it open"),
        }
    }
}

/// In which way a job is taken up.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Taking {
    /// By the person who had it.
    GoneOn,
    /// By another person, after the one before let it go.
    HandedOver,
    /// While somebody else still had it open, who cannot write from then on.
    TakenOver,
}

/// The technician went back. What was told and read from there on counts no more and is asked again; what was done at the
/// vehicle stays done.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct WentBack {
    /// The events from this number on are opened again.
    pub to: u64,
    /// Who did it.
    pub by: By,
    /// Why.
    pub why: String,
    /// The readings, answers and signatures that are opened again, "tension: 54.6 Hz".
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reopened: Vec<String>,
}

/// A reading was noted wrong. It is asked for again, and the new value stands in its place; what was told and read after it is
/// opened again, as when going back.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Corrected {
    /// The events from this number on are opened again.
    pub to: u64,
    /// The reading.
    pub reading: ReadingName,
    /// What was noted wrong, "54.6 Hz".
    pub was: String,
    /// Who says so.
    pub by: By,
    /// Why.
    pub why: String,
    /// What is opened again beside it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reopened: Vec<String>,
}
