//! Readings: how they are taken, sampled, and what is chosen by them.

use super::Condition;
use crate::limit::{Fold, Formula};
use crate::number::{Num, Range};
use crate::vehicle::{Move, Ready, Required};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Taking readings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Measure {
    /// What is read, each with one value in the end.
    pub readings: Vec<usize>,
    /// The instruction in full, "Measure the tension with the belt tension meter, 3 times, take the mean."
    pub says: String,
    /// What more the technician is told.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub text: Option<String>,
    /// The tool; none for something read from the vehicle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tool: Option<usize>,
    /// How often, 1 where nothing is said.
    pub times: u32,
    /// How the values become one.
    pub take: Fold,
    /// The window in seconds, where there is one; its end, counted from the beginning of the measurement.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub over: Option<Num>,
    /// How it is sampled, where as many values are taken as come; none where there are exactly `times`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub sampling: Option<Sampling>,
    /// What must hold for the readings to mean anything.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub needs: Vec<Required>,
    /// What the tool must be for them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub ready: Vec<Ready>,
    /// What the measurement leaves behind: a tool that is to be set to zero each time.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub leaves: Vec<Move>,
    /// What a value read from the vehicle must lie in to be believed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub expected: Option<Range>,
}

/// How a measurement is sampled: many values, one after another, of which some count.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Sampling {
    /// Samples earlier than this do not count, in seconds since the measurement began.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub after: Option<Num>,
    /// The seconds between two samples.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub every: Option<Num>,
    /// Each value is the mean of the samples of this many seconds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub averaging: Option<Num>,
    /// Whether it may end before its window does.
    #[serde(default)]
    pub at_most: bool,
    /// It ends at the first moment at which this holds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub until: Option<Condition>,
    /// The least number of values that must be given.
    pub least: u32,
    /// The least number of them that must count; 0 is no more than one.
    #[serde(default)]
    pub needed: u32,
}

/// Choosing a part from a series. Of two sizes that are as near the smaller one is taken.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Choose {
    /// The reading that has the size from then on.
    pub reading: usize,
    /// The name of the series.
    pub series: String,
    /// The smallest size, in base units.
    pub low: Num,
    /// No size is larger.
    pub high: Num,
    /// From one size to the next.
    pub step: Num,
    /// The value that the size should be near.
    pub nearest: Formula,
}
