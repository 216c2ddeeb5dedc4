//! The tools that a workshop has.

use dwell_quantity::{Exact, Kind, Unit};
use time::Date;

/// All tools of a workshop, in the order of the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Register {
    /// The tools; no two have the same number.
    pub tools: Vec<Tool>,
}

/// One tool.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tool {
    /// The line of the file that names it.
    pub line: usize,
    /// The number on its label, or in its barcode.
    pub number: String,
    /// The tools of procedures that it serves as, by their names there.
    pub serves: Vec<String>,
    /// What it measures.
    pub measures: Vec<Ability>,
    /// What it can be set to, for a torque wrench.
    pub sets: Vec<Ability>,
    /// The day of its last good check.
    pub calibrated: Option<Date>,
    /// The last day on which it may be used without another one.
    pub due: Option<Date>,
    /// How it is asked for a reading, where it can be.
    pub wire: Option<Wire>,
}

/// One quantity that a tool measures or sets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ability {
    /// The kind of quantity.
    pub kind: Kind,
    /// The unit that its scale shows.
    pub unit: Unit,
    /// Its range, both ends included, in the base unit of the kind.
    pub range: (Exact, Exact),
    /// The range as written.
    pub written: String,
    /// The smallest step that can be read, in the base unit.
    pub resolution: Option<Exact>,
    /// Its accuracy.
    pub accuracy: Option<Accuracy>,
    /// The question that an instrument answers with a value in that unit.
    pub query: Option<String>,
}

/// How far a reading may be off: a fixed part and one in proportion to the reading, added.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Accuracy {
    /// The fixed part, ±, in the base unit of the kind.
    pub fixed: Exact,
    /// The part of the reading, ±: 0.04 for 4 %.
    pub of_reading: Exact,
}

/// How an instrument is reached.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Wire {
    /// `HOST` or `HOST:PORT`.
    pub address: String,
    /// How many milliseconds an answer is waited for.
    pub patience: u64,
}

impl Register {
    /// The tool with this number; blanks around it do not matter, and neither do capitals.
    pub fn numbered(&self, number: &str) -> Option<&Tool> {
        self.tools.iter().find(|tool| tool.number.eq_ignore_ascii_case(number.trim()))
    }

    /// The tools that can serve as one of a procedure.
    pub fn serving<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Tool> {
        self.tools.iter().filter(move |tool| tool.serves.iter().any(|known| known == name))
    }
}

impl Accuracy {
    /// How far a reading of this value may be off, in the base unit.
    pub fn at(&self, value: &Exact) -> Exact {
        &self.fixed + &(&self.of_reading * &value.abs())
    }
}
