//! Conditions: tests of readings, answers, variants and states, and how they come out.

use crate::limit::Formula;
use crate::number::Num;
use crate::vehicle::Guard;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Tests joined by `and` or by `or`.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Condition {
    /// Whether one that holds is enough.
    #[serde(default)]
    pub any: bool,
    /// The tests.
    pub tests: Vec<Test>,
    /// Tests that belong together, by their place: those of one place of several. Inside a group they are joined the other
    /// way: with `any` there is a group in which all hold, otherwise in each group one holds. Empty where all are joined alike.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub groups: Vec<Vec<usize>>,
    /// The condition in words.
    pub says: String,
}

/// One test.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Test {
    /// A value meets (or misses) a limit; for a table with the value it is looked up at.
    Meets {
        /// The value.
        value: Formula,
        /// The limit.
        limit: usize,
        /// Against the band to set to.
        adjusting: bool,
        /// The opposite is asked.
        misses: bool,
        /// Where a table is looked up.
        at: Option<Formula>,
    },
    /// A value lies in a band that stands on the spot, its ends formulas.
    Within {
        /// The value.
        value: Formula,
        /// The low end and whether it is included.
        low: Option<(Formula, bool)>,
        /// The high end and whether it is included.
        high: Option<(Formula, bool)>,
        /// The band as written.
        written: String,
    },
    /// The samples of the last measurement were steady (`not`: were not).
    Steady {
        /// The reading.
        reading: usize,
        /// The opposite is asked.
        not: bool,
        /// How far apart they may lie, in base units; without it one step of the tool.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        within: Option<Num>,
    },
    /// The samples of the last measurement went up and down (`not`: did not).
    Fluctuating {
        /// The reading.
        reading: usize,
        /// The opposite is asked.
        not: bool,
        /// How far they must go each way and more, in base units; without it one step of the tool.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        within: Option<Num>,
    },
    /// At every moment of a sampled measurement, or at one at least, all this holds.
    Moments {
        /// The readings of that measurement, whose samples of one moment are looked at together.
        readings: Vec<usize>,
        /// At every moment; otherwise one is enough.
        every: bool,
        /// What must hold there.
        condition: Box<Condition>,
    },
    /// An answer is one of these.
    Answer {
        /// The question.
        question: usize,
        /// The answers.
        values: Vec<usize>,
        /// The opposite is asked.
        not: bool,
    },
    /// A variant or a state; `not` is the opposite.
    Guard {
        /// The variant or state.
        guard: Guard,
        /// The opposite is asked.
        not: bool,
    },
    /// How the last judging came out: some of these tests were out on this side.
    Side {
        /// The judging node.
        judge: usize,
        /// Its tests, by their place.
        tests: Vec<usize>,
        /// The side.
        side: Side,
    },
}

impl Test {
    /// The readings that it looks at, by their numbers: those of its value, of its ends, and of what a table is looked up at.
    pub fn readings(&self) -> Vec<usize> {
        match self {
            Test::Meets { value, at, .. } => {
                value.readings().into_iter().chain(at.iter().flat_map(Formula::readings)).collect()
            }
            Test::Within { value, low, high, .. } => {
                let ends = low.iter().chain(high).flat_map(|(end, _)| end.readings());
                value.readings().into_iter().chain(ends).collect()
            }
            Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } => vec![*reading],
            Test::Moments { readings, condition, .. } => {
                let inner = condition.tests.iter().flat_map(Test::readings);
                readings.iter().copied().chain(inner).collect()
            }
            Test::Answer { .. } | Test::Guard { .. } | Test::Side { .. } => Vec::new(),
        }
    }
}

/// How a test came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Side {
    /// In band; it holds.
    In,
    /// Below the band.
    Low,
    /// Above the band.
    High,
    /// No reading, or none that decides.
    NoReading,
    /// It does not hold, and there is no side to it.
    Other,
}
