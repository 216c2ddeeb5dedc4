//! Units: one closed table with symbol, spellings, UCUM code, kinds, exact factor and offset, and source.
//!
//! A unit is added as one row of the table of its family in `unit/`. Nothing is prefixed freely: what is not in the
//! table is not a unit, so that `min` can never be a milli-inch.

mod ambiguous;
mod electric;
mod engine;
mod factor;
mod fluid;
mod mechanical;
mod partner;
mod plain;
mod search;
mod space;
mod table;

use std::fmt;
use std::hash::{Hash, Hasher};

use crate::kind::Kind;
use crate::number::Exact;

pub use partner::{System, partner};
pub use search::{Lookup, lookup, spellings, units_for};
pub(crate) use table::Row;

/// A unit of the table.
#[derive(Clone, Copy)]
pub struct Unit(&'static Row);

impl Unit {
    /// The unit of a bare number; its symbol is empty.
    pub const ONE: Unit = Unit(&plain::ONE);

    /// The spelling that is printed, such as `N·m`.
    pub fn symbol(self) -> &'static str {
        self.0.symbol
    }

    /// The other spellings that are read, without the symbol.
    pub fn spellings(self) -> &'static [&'static str] {
        self.0.spellings
    }

    /// Its code in the Unified Code for Units of Measure; an annotation in braces alone means the unit one.
    pub fn ucum(self) -> &'static str {
        self.0.ucum
    }

    /// How many base units one of it is. Below zero where its scale runs the other way (`°ATDC`).
    pub fn factor(self) -> Exact {
        self.0.factor.exact()
    }

    /// Where its zero lies, in base units; zero for all but the scales of temperature.
    pub fn offset(self) -> Exact {
        self.0.offset.exact()
    }

    /// Where its definition comes from.
    pub fn source(self) -> &'static str {
        self.0.source
    }

    /// The kinds of quantity it can measure.
    pub fn kinds(self) -> &'static [Kind] {
        self.0.kinds
    }

    /// Whether it can measure that kind.
    pub fn measures(self, kind: Kind) -> bool {
        self.kinds().contains(&kind)
    }

    /// Whether a larger number of it is a smaller value: its factor is below zero.
    pub fn descending(self) -> bool {
        self.0.factor.is_negative()
    }

    /// The unit for a tolerance or difference, which has no offset: `K` for `°C`, `°R` for `°F`, `°` for a place of
    /// a shaft; else the unit itself.
    pub fn difference(self) -> Unit {
        match self.0.difference {
            Some(symbol) => Unit::of_symbol(symbol),
            None => self,
        }
    }

    /// Every unit of the table.
    pub fn all() -> impl Iterator<Item = Unit> {
        table::TABLES.iter().flat_map(|rows| rows.iter()).map(Unit)
    }

    /// The unit printed so. Only for the symbols that the tables name; they are checked by the tests, and anything
    /// else would be the unit one.
    pub(crate) fn of_symbol(symbol: &str) -> Unit {
        search::by_symbol(symbol).unwrap_or(Unit::ONE)
    }
}

impl PartialEq for Unit {
    fn eq(&self, other: &Unit) -> bool {
        self.symbol() == other.symbol()
    }
}

impl Eq for Unit {}

impl Hash for Unit {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.symbol().hash(state);
    }
}

impl fmt::Debug for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "Unit({})", self.symbol())
    }
}

impl fmt::Display for Unit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}
