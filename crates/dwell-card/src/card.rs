//! The card itself: its heading, its lists, and the nodes of its flow.

use crate::graph::Node;
use crate::limit::{Limit, Reading, Tool};
use crate::vehicle::{Hazard, Slot};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A compiled procedure. Everything in it that counts things refers to the lists by their place, from 0.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Card {
    /// The version of this format: 1.
    pub format: u32,
    /// The name of the procedure.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// Its revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub revision: Option<Revision>,
    /// From which day on it is withdrawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withdrawn: Option<Withdrawn>,
    /// The standing notice, shown before anything else.
    pub notice: String,
    /// Whether in and out are decided with the tool's accuracy as guard band (ILAC-G8, ISO 14253-1).
    #[serde(default)]
    pub guarded: bool,
    /// The variants that must be known before it can begin, with the values that it applies to.
    pub axes: Vec<Axis>,
    /// What can be in one state or another: items by place and handling, tools.
    pub slots: Vec<Slot>,
    /// The hazards that its cautions and states name.
    pub hazards: Vec<Hazard>,
    /// What is read, entered or computed.
    pub readings: Vec<Reading>,
    /// What is asked.
    pub questions: Vec<Question>,
    /// The bands.
    pub limits: Vec<Limit>,
    /// The tools.
    pub tools: Vec<Tool>,
    /// The procedure itself (frame 0) and each one that it performs.
    pub frames: Vec<Frame>,
    /// The steps, over all frames.
    pub steps: Vec<Step>,
    /// For each counter how often its loop may go round.
    pub counters: Vec<u32>,
    /// The flow; it begins at node 0.
    pub nodes: Vec<Node>,
}

/// Number, day and reason of a revision.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Revision {
    /// Its number.
    pub number: u32,
    /// Its day, year-month-day.
    pub date: String,
    /// What changed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub why: Option<String>,
}

/// From which day on something must not be used any more, and why.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Withdrawn {
    /// The first day, year-month-day.
    pub on: String,
    /// Why, and what takes its place.
    pub why: String,
}

impl Withdrawn {
    /// Whether it is withdrawn on a day, year-month-day.
    pub fn by(&self, day: &str) -> bool {
        self.on.as_str() <= day
    }
}

/// A variant that matters here.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Axis {
    /// Its name, such as `engine-family`.
    pub name: String,
    /// The values that the procedure applies to.
    pub values: Vec<String>,
}

/// A question to the technician.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Question {
    /// The name of its answer.
    pub name: String,
    /// What is asked.
    pub text: String,
    /// The answers to choose from.
    pub values: Vec<String>,
}

/// A procedure inside the card.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Frame {
    /// Its name.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// From which day on it is withdrawn, for one that is performed; for frame 0 the card says it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withdrawn: Option<Withdrawn>,
    /// The frame that performs it; frame 0 has none.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub within: Option<usize>,
    /// What may be left otherwise than it was found: slot and state.
    #[serde(default)]
    pub leaves: Vec<(usize, usize)>,
    /// The tools that count as not set to zero when it begins: slot and state.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub unzeroes: Vec<(usize, usize)>,
}

/// A step.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Step {
    /// Its name.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Its frame.
    pub frame: usize,
}
