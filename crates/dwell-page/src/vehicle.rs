//! The vehicle that a page is for: of some variants the value is known, the others are left open.

use dwell_card::Card;
use dwell_card::graph::{Condition, Test};
use dwell_card::meaning::Truth;
use dwell_card::vehicle::Guard;
use std::fmt;

/// A vehicle: for each variant of a card the place of its value, none where it is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Vehicle(Vec<Option<usize>>);

/// A variant, or a value of one, that a card does not have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unknown {
    /// There is no such variant; those that there are.
    Variant(String, Vec<String>),
    /// The variant has no such value; those that it has.
    Value(String, String, Vec<String>),
}

impl fmt::Display for Unknown {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Unknown::Variant(name, known) if known.is_empty() => {
                write!(out, "this card has no variants, so there is no `{name}`: leave it out")
            }
            Unknown::Variant(name, known) => {
                write!(out, "this card has no variant `{name}`: it has {}", known.join(", "))
            }
            Unknown::Value(name, value, known) => {
                write!(out, "`{name}` has no value `{value}` here: it has {}", known.join(", "))
            }
        }
    }
}

impl std::error::Error for Unknown {}

impl Vehicle {
    /// Any vehicle that the card is for.
    pub fn any(card: &Card) -> Vehicle {
        Vehicle(vec![None; card.axes.len()])
    }

    /// The vehicle with these variants and values, by their names.
    ///
    /// # Errors
    /// What the card does not know.
    pub fn of(card: &Card, given: &[(String, String)]) -> Result<Vehicle, Unknown> {
        let mut vehicle = Vehicle::any(card);
        for (name, value) in given {
            let axis = card.axes.iter().position(|axis| axis.name == *name);
            let known = axis.and_then(|axis| Some((card.axes.get(axis)?, vehicle.0.get_mut(axis)?)));
            let Some((axis, place)) = known else {
                let all = card.axes.iter().map(|axis| axis.name.clone()).collect();
                return Err(Unknown::Variant(name.clone(), all));
            };
            let chosen = axis.values.iter().position(|known| known == value);
            let Some(chosen) = chosen else {
                return Err(Unknown::Value(name.clone(), value.clone(), axis.values.clone()));
            };
            *place = Some(chosen);
        }
        Ok(vehicle)
    }

    /// The same, where what the card does not know is left out: for a choice that was made for another card.
    pub fn as_far_as_known(card: &Card, given: &[(String, String)]) -> Vehicle {
        let known = given.iter().filter(|one| Vehicle::of(card, std::slice::from_ref(one)).is_ok());
        Vehicle::of(card, &known.cloned().collect::<Vec<_>>()).unwrap_or_else(|_| Vehicle::any(card))
    }

    /// The value of a variant, by its place.
    pub fn value(&self, axis: usize) -> Option<usize> {
        self.0.get(axis).copied().flatten()
    }

    /// Whether all these hold for it. What states things are in is not known on paper.
    pub(crate) fn holds(&self, guards: &[Guard]) -> Truth {
        let mut all = Truth::Yes;
        for guard in guards {
            match self.holds_one(guard) {
                Truth::No => return Truth::No,
                Truth::Maybe => all = Truth::Maybe,
                Truth::Yes => {}
            }
        }
        all
    }

    fn holds_one(&self, guard: &Guard) -> Truth {
        match guard {
            Guard::State { .. } => Truth::Maybe,
            Guard::Variant { axis, values } => match self.value(*axis) {
                Some(value) if values.contains(&value) => Truth::Yes,
                Some(_) => Truth::No,
                None => Truth::Maybe,
            },
        }
    }

    /// Whether a condition holds for it, as far as that hangs on variants alone.
    pub(crate) fn decides(&self, condition: &Condition) -> Truth {
        let truth = |test: &Test| match test {
            Test::Guard { guard, not } => match (self.holds_one(guard), not) {
                (Truth::Yes, false) | (Truth::No, true) => Truth::Yes,
                (Truth::Maybe, _) => Truth::Maybe,
                _ => Truth::No,
            },
            _ => Truth::Maybe,
        };
        if !condition.groups.is_empty() || condition.tests.is_empty() {
            return Truth::Maybe;
        }
        let truths: Vec<Truth> = condition.tests.iter().map(truth).collect();
        let (enough, needed) = if condition.any { (Truth::Yes, Truth::No) } else { (Truth::No, Truth::Yes) };
        if truths.contains(&enough) {
            enough
        } else if truths.iter().all(|truth| *truth == needed) {
            needed
        } else {
            Truth::Maybe
        }
    }
}
