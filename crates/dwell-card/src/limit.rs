//! Readings, the bands they are judged against, and the tools that take them.

use crate::card::Withdrawn;
use crate::number::{Num, Range};
use crate::vehicle::Guard;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// Something that is measured, read from the vehicle, or computed from readings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Reading {
    /// Its name.
    pub name: String,
    /// Its place, for one of a row.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<String>,
    /// The procedure that takes it (a frame), so that one name can stand in two procedures.
    pub frame: usize,
    /// The quantity: a declared one, or the kind itself.
    pub quantity: String,
    /// The kind of quantity, a name of the closed table.
    pub kind: String,
    /// The unit that it is asked for and shown in.
    pub unit: String,
    /// How many decimals the tool or the limit gives.
    pub decimals: u32,
    /// The band that it can never leave; a value outside is not believed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub possible: Option<Range>,
    /// The tool it is measured with.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tool: Option<usize>,
    /// For a computed one: how. It always follows the latest readings.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub formula: Option<Formula>,
    /// The word for a value above zero: "toe-in".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub positive: Option<String>,
    /// The word for a value below zero: "toe-out".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub negative: Option<String>,
}

impl Reading {
    /// Its name and its place as people say them: `ride height, front left`.
    pub fn words(&self) -> String {
        let name = self.name.replace('-', " ");
        match &self.at {
            Some(place) => format!("{name}, {}", place.replace('-', " ")),
            None => name,
        }
    }

    /// What its two signs mean, for a person: `plus is toe-in, minus is toe-out`; none where nothing says it.
    pub fn signs(&self) -> Option<String> {
        let said = |sign: &str, word: &Option<String>| word.as_ref().map(|word| format!("{sign} is {word}"));
        let both: Vec<String> =
            [said("plus", &self.positive), said("minus", &self.negative)].into_iter().flatten().collect();
        (!both.is_empty()).then(|| both.join(", "))
    }
}

/// A formula over readings, in base units.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
pub enum Formula {
    /// A number.
    Value(Num),
    /// The latest value of a reading.
    Latest(usize),
    /// The value of a reading as found, before anything was adjusted.
    First(usize),
    /// Several readings made one.
    Fold(Fold, Vec<usize>),
    /// The samples of one reading made one: those that counted in its last measurement.
    Samples(Fold, usize),
    /// A sum.
    Plus(Box<Formula>, Box<Formula>),
    /// A difference.
    Minus(Box<Formula>, Box<Formula>),
    /// A product.
    Times(Box<Formula>, Box<Formula>),
    /// A quotient; by nothing it has no value.
    Over(Box<Formula>, Box<Formula>),
    /// The sine of an angle: exact where it is rational, else known to 30 decimals; what is decided by it is never looser.
    Sine(Box<Formula>),
    /// The square root, in the same way; of less than nothing it has no value.
    Root(Box<Formula>),
    /// The smaller of two.
    Smaller(Box<Formula>, Box<Formula>),
    /// The larger of two.
    Larger(Box<Formula>, Box<Formula>),
}

impl Formula {
    /// The readings that stand in it, by their numbers; one that is computed stands for itself.
    pub fn readings(&self) -> Vec<usize> {
        match self {
            Formula::Value(_) => Vec::new(),
            Formula::Latest(reading) | Formula::First(reading) | Formula::Samples(_, reading) => {
                vec![*reading]
            }
            Formula::Fold(_, readings) => readings.clone(),
            Formula::Sine(of) | Formula::Root(of) => of.readings(),
            Formula::Plus(one, other)
            | Formula::Minus(one, other)
            | Formula::Times(one, other)
            | Formula::Over(one, other)
            | Formula::Smaller(one, other)
            | Formula::Larger(one, other) => [one.readings(), other.readings()].concat(),
        }
    }
}

/// How several values become one.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case")]
#[allow(missing_docs)]
pub enum Fold {
    Lowest,
    Highest,
    Mean,
    /// Highest minus lowest.
    Spread,
    Sum,
    /// The one farthest from zero.
    Furthest,
    Last,
}

impl Fold {
    /// Its word in the language, and in the record.
    pub fn word(self) -> &'static str {
        match self {
            Fold::Lowest => "lowest",
            Fold::Highest => "highest",
            Fold::Mean => "mean",
            Fold::Spread => "spread",
            Fold::Sum => "sum",
            Fold::Furthest => "furthest",
            Fold::Last => "last",
        }
    }
}

/// A named set of bands for one quantity.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Limit {
    /// The name of the spec or table, or how the band reads where it stands on the spot.
    pub name: String,
    /// The kind of quantity.
    pub kind: String,
    /// The unit that its bands are written in.
    pub unit: String,
    /// The decimals that its bands are written with.
    pub decimals: u32,
    /// The bands to check against: the first whose condition holds.
    pub check: Vec<Choice>,
    /// The bands to set to; empty where nothing can be adjusted.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub adjust: Vec<Choice>,
    /// Whether `not adjustable` is written there.
    #[serde(default)]
    pub not_adjustable: bool,
    /// Where the values come from.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub source: Option<String>,
    /// How the thing must be for the values to hold, in words: "Thread dry and clean."
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<String>,
    /// From which day on it is withdrawn.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub withdrawn: Option<Withdrawn>,
    /// For a table: its rows by another reading, instead of `check`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rows: Vec<RowGroup>,
    /// Whether values between two points of a table are interpolated; refused otherwise.
    #[serde(default)]
    pub linear: bool,
}

/// A band with its condition.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Choice {
    /// All must hold.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Guard>,
    /// The band.
    pub band: Range,
    /// The band as it was written, `62 ± 6 Hz`.
    pub written: String,
    /// The value to aim at.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub target: Option<Num>,
}

/// Rows of a table with their condition.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct RowGroup {
    /// All must hold.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub when: Vec<Guard>,
    /// The rows, by rising key.
    pub rows: Vec<Row>,
}

/// A row: a point (low = high) or a class, and its band.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Row {
    /// The point or class, in the base unit of the table's key.
    pub key: Range,
    /// The band.
    pub band: Range,
    /// The row as written.
    pub written: String,
}

/// A tool, the least that is required of it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Tool {
    /// Its name.
    pub name: String,
    /// What people call it.
    pub label: String,
    /// Its slots.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub slots: Vec<usize>,
    /// What it can measure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measures: Vec<Ability>,
    /// What it can be set to.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sets: Vec<Ability>,
    /// How little an electrical tool may load what it measures, as written: `at least 10 MΩ`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub impedance: Option<String>,
    /// After how many months at the latest it is calibrated again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub calibrated_months: Option<u32>,
}

impl Tool {
    /// What a person has to know of it before taking it from the wall: impedance, and how often it is calibrated.
    pub fn notes(&self) -> Vec<String> {
        let impedance = self.impedance.iter().map(|least| format!("impedance {least}"));
        let calibrated = self.calibrated_months.iter().map(|months| match months {
            1 => "calibrated every month".to_owned(),
            months => format!("calibrated every {months} months"),
        });
        impedance.chain(calibrated).collect()
    }
}

/// One quantity that a tool measures or sets.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "kebab-case", deny_unknown_fields)]
pub struct Ability {
    /// The quantity: a declared one, or a kind.
    pub quantity: String,
    /// Its kind.
    pub kind: String,
    /// The unit that the tool reads.
    pub unit: String,
    /// Its range.
    pub range: Range,
    /// The smallest step that can be read, in base units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub resolution: Option<Num>,
    /// A fixed part of its accuracy, ±, in base units.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy: Option<Num>,
    /// A part of its accuracy in proportion to the reading, ± (0.002 for 0.2 %).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub accuracy_of_reading: Option<Num>,
}
