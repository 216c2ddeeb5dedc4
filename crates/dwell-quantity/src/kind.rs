//! Kinds of quantity: what a number is a number of, beyond its unit.
//!
//! The table is closed and stands in `kind/table.rs`; which two kinds are easily confused, and which kind a product or
//! a quotient has, stand beside it.

mod confused;
mod possible;
mod product;
mod table;

use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

use crate::unit::Unit;

/// A kind of quantity, such as torque or gauge pressure. Two amounts may only meet when their kinds are the same.
#[derive(Clone, Copy)]
pub struct Kind(&'static Row);

/// One row of the table of kinds.
struct Row {
    name: &'static str,
    /// The symbol of the base unit: the one whose factor is exactly one.
    base: &'static str,
    /// The symbol of the unit that people usually read this kind in.
    usual: &'static str,
    traits: &'static [Trait],
    /// The name of the kind that a difference of two has, where it is another one.
    difference: Option<&'static str>,
    /// The name of the kind that a sum over both sides has, where it is another one.
    total: Option<&'static str>,
    /// The name of the kind this is a narrower sort of.
    broader: Option<&'static str>,
    about: &'static str,
}

/// What is special about a kind.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Trait {
    /// Can be below zero, so that a one-sided limit also lets large negative readings through.
    Signed,
    /// A place on a scale; two of them cannot be added.
    Point,
    /// Counted in whole numbers, never measured.
    Counted,
    /// May be written with no unit.
    Bare,
}

impl Kind {
    /// The kind of that name, such as `gauge-pressure`.
    pub fn named(name: &str) -> Option<Kind> {
        Kind::all().find(|kind| kind.name() == name)
    }

    /// Its name, in lower case with hyphens.
    pub fn name(self) -> &'static str {
        self.0.name
    }

    /// Every kind there is, in the order of the table.
    pub fn all() -> impl Iterator<Item = Kind> {
        table::KINDS.iter().copied()
    }

    /// One sentence: what it is, with the part of ISO 80000 that defines it where one does.
    pub fn about(self) -> &'static str {
        self.0.about.trim_start()
    }

    /// Whether it can be below zero in ordinary work, so that a one-sided limit would let a large reading of the wrong
    /// sign through: "below 12 V" is true of -380 V.
    ///
    /// Gauge pressure and temperature can be negative too, but count as unsigned here: their one-sided limits ("at
    /// least 85 °C", "below 2 bar") are everyday, and a reading far on the other side is no hidden danger but a
    /// stopped pump or a frosty morning.
    pub fn signed(self) -> bool {
        self.has(Trait::Signed)
    }

    /// Whether it is a place on a scale (a temperature) and not an extent (a temperature difference).
    pub fn point(self) -> bool {
        self.has(Trait::Point)
    }

    /// Whether it is counted, so that "exactly 5" can be met.
    pub fn counted(self) -> bool {
        self.has(Trait::Counted)
    }

    /// Whether it may be written with no unit (a count, a ratio, a specific gravity).
    pub fn bare(self) -> bool {
        self.has(Trait::Bare)
    }

    /// The kind of a tolerance on it, or of the difference of two of it.
    pub fn difference(self) -> Kind {
        self.0.difference.and_then(Kind::named).unwrap_or(self)
    }

    /// The kind of the sum over both sides of an axle: total toe of the toe of each wheel. Itself where no such kind is
    /// kept apart.
    pub fn total(self) -> Kind {
        self.0.total.and_then(Kind::named).unwrap_or(self)
    }

    /// Whether a formula that yields this kind may be declared as `declared`: as itself, as a narrower or broader sort
    /// of it, as a difference or as a total of it. The same unit is not enough: no sum of gauge pressures is an
    /// absolute one.
    pub fn may_be_declared(self, declared: Kind) -> bool {
        self.is_a(declared)
            || declared.is_a(self)
            || declared == self.difference()
            || declared == self.total()
            || declared.is_a(self.difference())
    }

    /// The kind that this is a narrower sort of: a direct voltage is an electric potential.
    pub fn broader(self) -> Option<Kind> {
        self.0.broader.and_then(Kind::named)
    }

    /// Whether this is `other` or a narrower sort of it.
    pub fn is_a(self, other: Kind) -> bool {
        self == other || self.broader() == Some(other)
    }

    /// The unit that base values of this kind are in; its factor is one.
    pub fn base_unit(self) -> Unit {
        Unit::of_symbol(self.0.base)
    }

    /// The unit that people usually read this kind in (degrees Celsius, revolutions a minute).
    pub fn usual_unit(self) -> Unit {
        Unit::of_symbol(self.0.usual)
    }

    /// If the two are an easily confused pair: one sentence why they must not meet.
    pub fn why_not(self, other: Kind) -> Option<&'static str> {
        confused::why_not(self, other)
    }

    /// The kind of the sum of the two; `None` where they do not go together.
    pub fn plus(self, other: Kind) -> Option<Kind> {
        product::sum(self, other, false)
    }

    /// The kind of this less the other; `None` where they do not go together.
    pub fn minus(self, other: Kind) -> Option<Kind> {
        product::sum(self, other, true)
    }

    /// The kind of a product of the two; `None` where unknown.
    pub fn times(self, other: Kind) -> Option<Kind> {
        product::times(self, other)
    }

    /// The kind of this divided by `other`; `None` where unknown.
    pub fn over(self, other: Kind) -> Option<Kind> {
        product::over(self, other)
    }

    fn has(self, wanted: Trait) -> bool {
        self.0.traits.contains(&wanted)
    }
}

impl PartialEq for Kind {
    fn eq(&self, other: &Kind) -> bool {
        self.name() == other.name()
    }
}

impl Eq for Kind {}

impl PartialOrd for Kind {
    fn partial_cmp(&self, other: &Kind) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Kind {
    fn cmp(&self, other: &Kind) -> Ordering {
        self.name().cmp(other.name())
    }
}

impl Hash for Kind {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name().hash(state);
    }
}

impl fmt::Debug for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
