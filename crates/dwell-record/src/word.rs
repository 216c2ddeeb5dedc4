//! The words for results: of one reading, of a procedure, and with the uncertainty of the tool.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::fmt;

/// How a procedure came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Outcome {
    /// All that was judged is in band, as it was found.
    Passed,
    /// All that was judged is in band after something was adjusted.
    AdjustedAndPassed,
    /// Something that was judged stayed out.
    Failed,
    /// It could not be carried through.
    Unfinished,
    /// Another procedure has to go on from here.
    Referred,
}

impl Outcome {
    /// The words for it, in lower case.
    pub fn words(self) -> &'static str {
        match self {
            Outcome::Passed => "passed",
            Outcome::AdjustedAndPassed => "adjusted and passed",
            Outcome::Failed => "failed",
            Outcome::Unfinished => "unfinished",
            Outcome::Referred => "referred",
        }
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.write_str(self.words())
    }
}

/// How one test came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// In band; it holds.
    In,
    /// Below the band.
    Low,
    /// Above the band.
    High,
    /// There is no reading, or none that decides.
    NoReading,
    /// It does not hold, and there is no side to it.
    Other,
}

impl Side {
    /// The shape that stands beside the word, so that no colour is needed: `■`, `▼`, `▲`, `○`, `◆`.
    pub fn shape(self) -> &'static str {
        match self {
            Side::In => "■",
            Side::Low => "▼",
            Side::High => "▲",
            Side::NoReading => "○",
            Side::Other => "◆",
        }
    }

    /// The side in words, with the amount where there is one: `LOW by 1.4 Hz`.
    pub fn words(self, off: Option<&str>) -> String {
        let by = |word: &str| off.map_or_else(|| word.to_owned(), |off| format!("{word} by {off}"));
        match self {
            Side::In => "in band".into(),
            Side::Low => by("LOW"),
            Side::High => by("HIGH"),
            Side::NoReading => "no reading".into(),
            Side::Other => "NO".into(),
        }
    }
}

/// The outcome with the uncertainty of the tool taken as guard band: ILAC-G8:09/2019, 4.2.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Verdict {
    Pass,
    ConditionalPass,
    ConditionalFail,
    Fail,
}

impl From<dwell_quantity::Verdict> for Verdict {
    fn from(verdict: dwell_quantity::Verdict) -> Verdict {
        match verdict {
            dwell_quantity::Verdict::Pass => Verdict::Pass,
            dwell_quantity::Verdict::ConditionalPass => Verdict::ConditionalPass,
            dwell_quantity::Verdict::ConditionalFail => Verdict::ConditionalFail,
            dwell_quantity::Verdict::Fail => Verdict::Fail,
        }
    }
}

impl Verdict {
    /// The words for it, in lower case.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Pass => "pass",
            Verdict::ConditionalPass => "conditional pass",
            Verdict::ConditionalFail => "conditional fail",
            Verdict::Fail => "fail",
        }
    }
}
