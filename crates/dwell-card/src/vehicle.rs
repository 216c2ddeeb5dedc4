//! What can be in one state or another, and what that means for safety.

use crate::number::Num;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// An item (at one place, in one handling) or a tool: always in exactly one of its states.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Slot {
    /// The item or tool.
    pub item: String,
    /// Its place, for an item that is there more than once.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// The handling that gives its states.
    pub handling: String,
    /// What people call it, with its place.
    pub label: String,
    /// Where to find it, for an item that says so.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub located: Option<String>,
    /// Its states, at most 64; the first is the normal one.
    pub states: Vec<String>,
    /// States that only a proof leads to.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub proved: Vec<usize>,
    /// States that are no debt at the end.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub may_stay: Vec<usize>,
    /// The hazards of its states: state and hazard.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub hazards: Vec<(usize, usize)>,
    /// States that last for a time only.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub lasts: Vec<Lapse>,
    /// The state that it comes into by itself when time passes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ripens: Option<Ripening>,
    /// Whether it is a tool.
    #[serde(default)]
    pub tool: bool,
}

/// A state that is reached when enough time has passed: a tool is warm, a display has settled.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Ripening {
    /// The state.
    pub state: usize,
    /// How long it takes, in seconds.
    pub seconds: Num,
}

/// What a tool must be for its reading to be worth anything, beside being connected.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Ready {
    /// The slot.
    pub slot: usize,
    /// The state it must be in.
    pub state: usize,
    /// What it is about.
    pub what: Readiness,
}

/// What is to be waited for or done before a tool is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Readiness {
    /// It has warmed up.
    Warm,
    /// It was set to zero.
    Zeroed,
    /// Its display has settled.
    Settled,
}

/// A state with a shelf life: after that time the slot counts as in its normal state.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Lapse {
    /// The state.
    pub state: usize,
    /// How long it lasts, in seconds.
    pub seconds: Num,
    /// The state that its verb leads to, slot and states: the time counts while it is so. Without one it counts from when
    /// the state was reached.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resting: Option<(usize, Vec<usize>)>,
}

/// A hazard with the words of its usual caution.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Hazard {
    /// Its name.
    pub name: String,
    /// Its signal word.
    pub level: Level,
    /// Its usual caution.
    pub text: String,
}

/// The signal words of ANSI Z535.6 and ISO 3864, from the mildest.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Damage to things, no injury.
    Notice,
    /// Could result in minor or moderate injury.
    Caution,
    /// Could result in death or serious injury.
    Warning,
    /// Will result in death or serious injury.
    Danger,
}

impl Level {
    /// The word as printed before a caution.
    pub fn word(self) -> &'static str {
        match self {
            Level::Notice => "NOTICE",
            Level::Caution => "CAUTION",
            Level::Warning => "WARNING",
            Level::Danger => "DANGER",
        }
    }
}

/// A condition of a declaration: all its guards must hold.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Guard {
    /// The variant has one of these values.
    Variant {
        /// The axis.
        axis: usize,
        /// Its values, by their place.
        values: Vec<usize>,
    },
    /// The slot is in one of these states.
    State {
        /// The slot.
        slot: usize,
        /// The states.
        states: Vec<usize>,
    },
}

/// A change of one slot.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Move {
    /// The slot.
    pub slot: usize,
    /// The states it can lead from; empty means from any.
    pub from: Vec<usize>,
    /// The state it leads to.
    pub to: usize,
    /// Only when all these hold.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Guard>,
}

/// A state that something asks for.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Required {
    /// The slot.
    pub slot: usize,
    /// Any of these states will do.
    pub states: Vec<usize>,
    /// Only asked when all these hold.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Guard>,
}
