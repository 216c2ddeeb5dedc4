//! What a reading is judged by and a thing is set to: specs, tables, stages and series.

use super::{QuantityRef, When, Withdrawn};
use crate::finding::Place;
use dwell_quantity::{Band, Exact, Kind, Unit};

/// Bands for a quantity.
#[derive(Clone, Debug)]
pub struct Spec {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// Its quantity.
    pub quantity: QuantityRef,
    /// Its kind in the closed table.
    pub kind: Kind,
    /// What to check against.
    pub check: Vec<SpecBand>,
    /// What to set to.
    pub adjust: Vec<SpecBand>,
    /// Where `not adjustable` stands.
    pub not_adjustable: Option<Place>,
    /// Where its values come from.
    pub source: Option<String>,
    /// Under which condition they hold, in words: "oiled".
    pub condition: Option<String>,
    /// How many sign for what is done or judged by it, and where that is written.
    pub signed: Option<(u8, Place)>,
    /// From which day on it must not be used any more.
    pub withdrawn: Option<Withdrawn>,
    /// For a table: what it is looked up by, its rows, and whether it interpolates.
    pub rows: Option<Rows>,
    /// A tightening in stages, in their order, instead of `check` and `adjust`.
    pub stages: Vec<SpecStage>,
}

/// One stage of a tightening.
#[derive(Clone, Debug)]
pub struct SpecStage {
    /// A torque, or how far it is turned on.
    pub kind: Kind,
    /// The band that it is tightened to, or turned by.
    pub limit: ResolvedBand,
}

/// A band with its condition.
#[derive(Clone, Debug)]
pub struct SpecBand {
    /// All must hold.
    pub when: Vec<When>,
    /// The band.
    pub limit: ResolvedBand,
}

/// A band as written and as meant.
#[derive(Clone, Debug)]
pub struct ResolvedBand {
    /// In the base unit of the kind.
    pub band: Band,
    /// The unit that it is written in.
    pub unit: Unit,
    /// The most decimals that were typed, or up to three more where a limit needs them (12 V ± 5 % ends at 12.6 V).
    pub decimals: u32,
    /// The value to aim at, in the base unit.
    pub target: Option<Exact>,
    /// As written, without the second unit.
    pub written: String,
    /// Where.
    pub place: Place,
}

/// The rows of a table.
#[derive(Clone, Debug)]
pub struct Rows {
    /// The quantity it is looked up by.
    pub by: QuantityRef,
    /// Its kind in the closed table.
    pub by_kind: Kind,
    /// Conditions and rows: key, band.
    pub groups: Vec<RowGroup>,
    /// Whether it interpolates between points.
    pub linear: bool,
}

/// Conditions, and rows: key and band.
pub type RowGroup = (Vec<When>, Vec<(ResolvedBand, ResolvedBand)>);

/// `series shims: …`, in base units.
#[derive(Clone, Debug)]
pub struct Series {
    /// Its name.
    pub name: String,
    /// Where it is declared.
    pub place: Place,
    /// Its quantity.
    pub quantity: QuantityRef,
    /// From, to.
    pub range: ResolvedBand,
    /// The step.
    pub step: Exact,
}
