//! What a tool can do, and what it needs before its reading is worth anything.

use super::{QuantityRef, StateRef, When};
use crate::finding::Place;
use dwell_quantity::{Band, Exact, Kind, Unit};

/// What a tool needs before its reading is worth anything. Each is a handling of the tool that has no verbs: it is there for
/// `needs` to ask for, and is never owed.
#[derive(Clone, Debug, Default)]
pub struct Readiness {
    /// How many of the tool's handlings, the first ones, are those that it is declared with.
    pub declared: usize,
    /// `warms up`: its handling (cold, warm), by its place in [`super::Item::handlings`], and the seconds.
    pub warm: Option<(usize, Exact)>,
    /// `settles`: its handling (settled, unsettled), and the seconds.
    pub settled: Option<(usize, Exact)>,
    /// `zeroed`: its handling, and when.
    pub zeroed: Option<Zeroing>,
}

/// When a tool is set to zero.
#[derive(Clone, Debug, Default)]
pub struct Zeroing {
    /// Its handling, by its place in [`super::Item::handlings`].
    pub handling: usize,
    /// The state in which it is set to zero; the other one is 1 less this.
    pub zeroed: usize,
    /// After each of these verbs.
    pub after: Vec<String>,
    /// Before each of these verbs.
    pub before: Vec<String>,
    /// Before each measurement.
    pub each_measure: bool,
    /// Before the first measurement of each procedure.
    pub each_procedure: bool,
}

/// What a tool can do.
#[derive(Clone, Debug, Default)]
pub struct Abilities {
    /// What it measures.
    pub measures: Vec<Ability>,
    /// What it can be set to.
    pub sets: Vec<Ability>,
    /// How little it may load what it measures, as written.
    pub impedance: Option<String>,
    /// For a wrench: how far its square drive is from the hand, in metres.
    pub reaches: Option<Exact>,
    /// For an adapter: how far the fastener is from the square drive, in metres, and the angle to the wrench, in turns.
    pub extends: Option<(Exact, Exact)>,
    /// After how many months at the latest it is calibrated again.
    pub calibrated_months: Option<u32>,
}

/// One quantity of a tool.
#[derive(Clone, Debug)]
pub struct Ability {
    /// The quantity.
    pub quantity: QuantityRef,
    /// Its kind.
    pub kind: Kind,
    /// Its range, in base units.
    pub range: Band,
    /// The unit that the tool reads.
    pub unit: Unit,
    /// As written.
    pub written: String,
    /// The smallest step, in base units.
    pub resolution: Option<Exact>,
    /// The fixed part of its accuracy (digits included), ± in base units.
    pub accuracy: Option<Exact>,
    /// The part in proportion to the reading.
    pub accuracy_of_reading: Option<Exact>,
    /// How many decimals it shows in its unit.
    pub decimals: u32,
    /// What must hold while it measures or is set, and under which conditions.
    pub needs: Vec<(StateRef, Vec<When>, Place)>,
    /// Where it is written.
    pub place: Place,
}
