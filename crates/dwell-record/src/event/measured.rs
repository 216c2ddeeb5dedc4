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
    /// Typed, with the unit that was typed or asked for.
    Typed {
        /// The number as typed: `62.0`, `above 1000`.
        text: String,
        /// Its unit.
        unit: String,
    },
    /// Nothing could be read.
    NoReading,
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
    /// How several became one, `mean`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub take: Option<String>,
    /// The tool; none for a value that the vehicle shows.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tool: Option<String>,
}
