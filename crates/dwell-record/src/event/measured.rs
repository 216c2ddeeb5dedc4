//! Readings as they were taken.

use crate::number::Value;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Which reading.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct ReadingName {
    /// Its number on the card.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// Its place, for one of a row.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub place: Option<String>,
    /// The procedure that takes it.
    pub procedure: String,
}

impl ReadingName {
    /// The name and the place as people say them: `ride height, front left`.
    pub fn words(&self) -> String {
        let name = self.name.replace('-', " ");
        match &self.place {
            Some(place) => format!("{name}, {}", place.replace('-', " ")),
            None => name,
        }
    }
}

/// A value as somebody gave it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Sample {
    /// Typed, or given by an instrument or a file, with its unit.
    Typed {
        /// The number as typed: `62.0`, `above 1000`.
        text: String,
        /// Its unit.
        unit: String,
        /// Whether it looked like a slip, was asked back, and was given again.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        kept: bool,
    },
    /// Nothing could be read.
    NoReading,
}

impl Sample {
    /// The same, asked back and given again.
    pub fn kept(self) -> Sample {
        match self {
            Sample::Typed { text, unit, .. } => Sample::Typed { text, unit, kept: true },
            Sample::NoReading => Sample::NoReading,
        }
    }

    /// Whether it was asked back and given again.
    pub fn is_kept(&self) -> bool {
        matches!(self, Sample::Typed { kept: true, .. })
    }
}

/// One of several values of a reading.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Sampled {
    /// The reading.
    pub reading: ReadingName,
    /// Which one, from 1.
    pub round: u32,
    /// Of how many.
    pub of: u32,
    /// The value as it was given.
    pub sample: Sample,
    /// What gave it by itself: an instrument, or a file that another program writes. None where a person typed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// All samples of one reading of a measurement that takes several readings at once.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct SeriesTaken {
    /// The reading.
    pub reading: ReadingName,
    /// The values as they were given, in order.
    pub samples: Vec<Sample>,
    /// When each was taken, in seconds since the measurement began; empty where that was not given.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub times: Vec<String>,
    /// What gave it by itself: an instrument, or a file that another program writes. None where a person typed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

/// How a sampled measurement came to its value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct SampledHow {
    /// How many of the samples count.
    pub counted: u32,
    /// When the first and the last of them were taken: `10 s to 20 s`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub window: Option<String>,
    /// Whether the measurement ended because what it waited for held.
    #[serde(default)]
    pub until: bool,
    /// Why there is no reading although there are samples: `gap of 3.1 s at 12 s`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flaw: Option<String>,
}

/// A reading has its value.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Measured {
    /// The reading.
    pub reading: ReadingName,
    /// Whether this is the first value: as found.
    pub as_found: bool,
    /// The quantity.
    pub quantity: String,
    /// The unit of `value`.
    pub unit: String,
    /// The exact value.
    pub value: Value,
    /// The value as it is shown: `62.3 Hz`, `above 1000 MΩ`, `no reading`.
    pub shown: String,
    /// What was given, in order.
    pub samples: Vec<Sample>,
    /// When each was given, in seconds since the measurement began; empty where that is not known.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub times: Vec<String>,
    /// How a sampled one came to its value.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sampled: Option<SampledHow>,
    /// How several became one, `mean`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub take: Option<String>,
    /// The tool; none for a value that the vehicle shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tool: Option<String>,
    /// The number of the tool of the workshop, where it was noted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tool_number: Option<String>,
    /// What gave it by itself: an instrument, or a file that another program writes. None where a person typed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
}

impl Measured {
    /// How several values became one: `mean of 3`, `mean of 10 of 12, 10 s to 20 s`, `gap of 3.1 s at 12 s`; and how many of
    /// them were asked back and kept. Nothing for a single value that was simply read.
    pub fn how(&self) -> Option<String> {
        let kept = match self.samples.iter().filter(|sample| sample.is_kept()).count() {
            0 => return self.come_about(),
            _ if self.samples.len() == 1 => "asked back and kept".to_owned(),
            count => format!("{count} asked back and kept"),
        };
        Some(self.come_about().map(|how| format!("{how}, {kept}")).unwrap_or(kept))
    }

    fn come_about(&self) -> Option<String> {
        let given = self.samples.len();
        let take = self.take.as_deref().filter(|_| given > 1);
        let Some(sampled) = &self.sampled else { return take.map(|take| format!("{take} of {given}")) };
        if let Some(flaw) = &sampled.flaw {
            return Some(flaw.clone());
        }
        let count = match usize::try_from(sampled.counted) {
            Ok(counted) if counted != given => format!("{counted} of {given}"),
            _ => given.to_string(),
        };
        let window = sampled.window.as_ref().map(|window| format!(", {window}")).unwrap_or_default();
        let until = if sampled.until { ", ended by its until" } else { "" };
        take.map(|take| format!("{take} of {count}{window}{until}"))
    }
}
