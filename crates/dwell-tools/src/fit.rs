//! Whether a tool of the workshop is good enough for what a card asks of it.

use crate::register::{Ability, Tool};
use dwell_card::limit;
use dwell_quantity::{Exact, Kind};
use std::fmt;

/// Why it is not.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Misfit {
    /// It does not measure, or set, the kind of quantity.
    Kind {
        /// What is asked: "dc voltage".
        kind: String,
    },
    /// Its range ends inside the range that is asked for.
    Range {
        /// Its range as written in the register.
        has: String,
        /// The kind.
        kind: String,
    },
    /// Its steps are coarser.
    Resolution {
        /// The kind.
        kind: String,
    },
    /// It may be further off, somewhere in the range that is asked for; or the register does not say how far.
    Accuracy {
        /// The kind.
        kind: String,
        /// Whether the register says it.
        said: bool,
    },
}

impl Tool {
    /// All that keeps it from serving as this tool of a card; none where it serves.
    pub fn misfits(&self, asked: &limit::Tool) -> Vec<Misfit> {
        let measured = asked.measures.iter().flat_map(|ability| misfits(&self.measures, ability));
        let set = asked.sets.iter().flat_map(|ability| misfits(&self.sets, ability));
        measured.chain(set).collect()
    }
}

fn misfits(has: &[Ability], asked: &limit::Ability) -> Vec<Misfit> {
    let words = asked.kind.replace('-', " ");
    let Some(kind) = Kind::named(&asked.kind) else { return vec![Misfit::Kind { kind: words }] };
    let Some(ability) = has.iter().find(|ability| ability.kind == kind || kind.is_a(ability.kind)) else {
        return vec![Misfit::Kind { kind: words }];
    };
    let mut found = Vec::new();
    let (low, high) = &ability.range;
    let wanted = (asked.range.low.as_ref(), asked.range.high.as_ref());
    let covers =
        wanted.0.is_none_or(|end| *low <= end.value.0) && wanted.1.is_none_or(|end| *high >= end.value.0);
    if !covers {
        found.push(Misfit::Range { has: ability.written.clone(), kind: words.clone() });
    }
    let too_coarse = |step: &Exact| ability.resolution.as_ref().is_none_or(|own| own > step);
    if asked.resolution.as_ref().is_some_and(|step| too_coarse(&step.0)) {
        found.push(Misfit::Resolution { kind: words.clone() });
    }
    if asked.accuracy.is_some() || asked.accuracy_of_reading.is_some() {
        let zero = Exact::zero();
        let fixed = asked.accuracy.as_ref().map_or(&zero, |number| &number.0);
        let part = asked.accuracy_of_reading.as_ref().map_or(&zero, |number| &number.0);
        // Both sides are straight lines on either side of zero: what holds at the ends, and at zero, holds between.
        let ends = [wanted.0.map(|end| &end.value.0), wanted.1.map(|end| &end.value.0), Some(&zero)];
        let inside = |value: &&Exact| {
            wanted.0.is_none_or(|end| end.value.0 <= **value)
                && wanted.1.is_none_or(|end| end.value.0 >= **value)
        };
        let values = ends.into_iter().flatten().filter(inside);
        let good = |own: &crate::Accuracy, value: &Exact| own.at(value) <= fixed + &(part * &value.abs());
        let worse = match &ability.accuracy {
            Some(own) => values.into_iter().any(|value| !good(own, value)),
            None => true,
        };
        if worse {
            found.push(Misfit::Accuracy { kind: words, said: ability.accuracy.is_some() });
        }
    }
    found
}

impl fmt::Display for Misfit {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Misfit::Kind { kind } => write!(out, "it does not give {kind}"),
            Misfit::Range { has, kind } => {
                write!(out, "its range of {kind}, {has}, does not reach as far as the procedure asks")
            }
            Misfit::Resolution { kind } => write!(
                out,
                "its steps of {kind} are coarser than the procedure asks, or not written in the register"
            ),
            Misfit::Accuracy { kind, said: true } => {
                write!(out, "its {kind} may be further off than the procedure allows")
            }
            Misfit::Accuracy { kind, said: false } => {
                write!(out, "the register does not say how far off its {kind} may be")
            }
        }
    }
}
