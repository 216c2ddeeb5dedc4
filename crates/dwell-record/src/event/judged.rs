//! Decisions as they came out, each test with its band, its value and its side.

use super::ReadingName;
use crate::word::{Side, Verdict};
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something was judged.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Judged {
    /// What had to hold, in words.
    pub says: String,
    /// Whether the bands to set to were meant.
    pub adjusting: bool,
    /// Whether it holds.
    pub holds: bool,
    /// Its tests.
    pub tests: Vec<Tested>,
}

/// One test.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Tested {
    /// What was tested, in words.
    pub name: String,
    /// The reading, where it is one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reading: Option<ReadingName>,
    /// The band, `56 .. 68 Hz`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub band: Option<String>,
    /// The band as it was written, `62 ± 6 Hz`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub written: Option<String>,
    /// The narrower band that decided, where the tool's accuracy is the guard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub guarded: Option<String>,
    /// The value.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub value: Option<String>,
    /// How it came out.
    pub side: Side,
    /// How far it is off, `1.4 Hz`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub off: Option<String>,
    /// The decision with the uncertainty of the tool, where that is known.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub uncertain: Option<Uncertain>,
}

impl Tested {
    /// How it came out in words: `in band`, `LOW by 1.4 Hz`, `no reading`.
    pub fn words(&self) -> String {
        self.side.words(self.off.as_deref())
    }

    /// The same; where nothing was held against a band `yes` or `no`.
    pub fn verdict(&self) -> String {
        match (self.side, &self.band) {
            (Side::In, None) => "yes".to_owned(),
            (Side::Other, _) => "no".to_owned(),
            _ => self.words(),
        }
    }
}

/// A decision with the uncertainty of the tool.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Uncertain {
    /// The expanded uncertainty (coverage factor 2), taken from the accuracy of the tool.
    pub uncertainty: String,
    /// The outcome with that as guard band.
    pub verdict: Verdict,
    /// The probability that the true value is in the band (JCGM 106, normal model), from 0 to 1 with
    /// 4 decimals; `above 0.9999` and `below 0.0001` where it would look certain and is not.
    pub conformance: String,
}
