//! One row of the table of units, and the list of all tables.

use super::factor::{Factor, ZERO};
use super::{electric, engine, fluid, mechanical, plain, space};
use crate::kind::Kind;

/// One row of the table of units.
pub(crate) struct Row {
    pub(super) symbol: &'static str,
    pub(super) spellings: &'static [&'static str],
    pub(super) ucum: &'static str,
    pub(super) factor: Factor,
    pub(super) offset: Factor,
    pub(super) kinds: &'static [Kind],
    pub(super) source: &'static str,
    /// The symbol of the unit of a difference, where it is another one.
    pub(super) difference: Option<&'static str>,
}

/// A row of the table: the symbol, the UCUM code, how many base units it is, what it measures, where that comes from,
/// and how else it is spelt.
pub(super) const fn row(
    symbol: &'static str,
    ucum: &'static str,
    factor: Factor,
    kinds: &'static [Kind],
    source: &'static str,
    spellings: &'static [&'static str],
) -> Row {
    Row { symbol, spellings, ucum, factor, offset: ZERO, kinds, source, difference: None }
}

impl Row {
    /// The same row for a scale whose zero is not the zero of its base unit.
    pub(super) const fn offset(self, offset: Factor) -> Row {
        Row { offset, ..self }
    }

    /// The same row with another unit for a difference.
    pub(super) const fn difference(self, symbol: &'static str) -> Row {
        Row { difference: Some(symbol), ..self }
    }
}

/// The tables of all families.
pub(super) static TABLES: &[&[Row]] = &[
    space::LENGTHS,
    space::AREAS,
    space::VOLUMES,
    space::ANGLES,
    space::TIMES,
    space::MOTION,
    mechanical::MASSES,
    mechanical::FORCES,
    mechanical::TORQUES,
    mechanical::ENERGIES,
    mechanical::POWERS,
    fluid::PRESSURES,
    fluid::FLOWS,
    fluid::MATTER,
    fluid::TEMPERATURES,
    electric::VOLTAGES,
    electric::RESISTANCES,
    electric::STORES,
    engine::ROTATIONS,
    engine::SHARES,
    engine::FUEL,
    plain::LIGHT_AND_SOUND,
    plain::COUNTS,
];

/// The SI itself, and its prefixes.
pub(super) const SI: &str = "SI, exact by definition (BIPM, The International System of Units)";
/// Units accepted for use with the SI, and decimal ones of the trade.
pub(super) const WITH_SI: &str = "NIST SP 811 (2008), units accepted for use with the SI; exact";
/// The international yard and pound.
pub(super) const YARD_POUND: &str =
    "NIST SP 811 (2008) App. B: inch 25.4 mm and pound 0.45359237 kg, exact (international yard and pound)";
/// Derived from the international yard and pound and the standard acceleration of gravity.
pub(super) const WITH_GRAVITY: &str =
    "NIST SP 811 (2008) App. B: from inch 25.4 mm, pound 0.45359237 kg, g_n 9.80665 m/s², all exact";
/// Gallons and what is derived from them.
pub(super) const GALLONS: &str =
    "NIST SP 811 (2008) App. B: US gallon 231 in³, imperial gallon 4.54609 L, both exact";
/// By what the name says.
pub(super) const BY_NAME: &str = "by definition of its name, exact";
/// How the trade writes it.
pub(super) const TRADE: &str = "usage of the trade, common practice; the factor follows from the definition";
