//! A look at a session's state through the meaning of the card.

use super::state::{State, Stored};
use dwell_card::Card;
use dwell_card::limit::Reading;
use dwell_card::meaning::{Samples, Scene, States, Value, formula_value};
use dwell_quantity::{Kind, Lookup, Unit, band_shown, lookup, shown};

/// What can be looked at.
#[derive(Clone, Copy)]
pub(super) struct View<'a> {
    /// The card.
    pub card: &'a Card,
    /// For each axis the place of its value.
    pub chosen: &'a [usize],
    /// The state.
    pub state: &'a State,
}

impl View<'_> {
    /// Looks at the scene that tests are decided in.
    pub(super) fn scene<R>(&self, look: impl FnOnce(&Scene<'_>) -> R) -> R {
        let read = |reading, first| self.value(reading, first);
        let samples = |reading| self.samples(reading);
        let answer =
            |question: usize| self.state.answers.get(question).copied().unwrap_or_else(States::default);
        let scene = Scene {
            card: self.card,
            chosen: self.chosen,
            slots: &self.state.slots,
            read: &read,
            samples: &samples,
            answer: &answer,
            judged: self.state.judged.as_ref().map(|(node, sides)| (*node, sides.as_slice())),
        };
        look(&scene)
    }

    /// The latest value of a reading, or with `first` the one as found; a computed one from those that it is made of.
    pub(super) fn value(&self, reading: usize, first: bool) -> Value {
        match self.card.readings.get(reading).and_then(|reading| reading.formula.as_ref()) {
            Some(formula) => {
                let read = |part, as_found| self.value(part, first || as_found);
                formula_value(formula, &read, &|part| self.samples(part))
            }
            None => self.stored(reading, first).map_or(Value::Missing, |stored| stored.value.clone()),
        }
    }

    /// What is stored of a reading.
    pub(super) fn stored(&self, reading: usize, first: bool) -> Option<&Stored> {
        let all = if first { &self.state.first } else { &self.state.latest };
        all.get(reading).and_then(Option::as_ref)
    }

    /// The samples that counted for the latest value of a reading.
    fn samples(&self, reading: usize) -> Samples {
        Samples::Counted(self.stored(reading, false).map(|stored| stored.samples.clone()).unwrap_or_default())
    }

    /// The decimals that a reading is shown with.
    pub(super) fn decimals(&self, reading: usize) -> u32 {
        let given = self.card.readings.get(reading).map_or(0, |reading| reading.decimals);
        self.stored(reading, false).map_or(given, |stored| stored.decimals)
    }
}

/// The kind of a reading and the unit that it is shown in.
pub(super) fn measure_of(reading: &Reading) -> Option<(Kind, Unit)> {
    Some((Kind::named(&reading.kind)?, unit_named(&reading.unit)?))
}

/// A unit by its symbol.
pub(super) fn unit_named(symbol: &str) -> Option<Unit> {
    match lookup(symbol) {
        Lookup::Unit(unit) => Some(unit),
        _ => Unit::all().find(|unit| unit.symbol() == symbol),
    }
}

/// A value in words: `62.3 Hz`, `above 1000 MΩ`, `no reading`.
pub(super) fn in_words(value: &Value, unit: Unit, kind: Kind, decimals: u32) -> String {
    match (value.about(), value.reach()) {
        (Some(exact), _) => shown(exact, unit, kind, decimals),
        (None, Some(band)) => band_shown(&band, unit, kind, decimals),
        (None, None) => "no reading".into(),
    }
}
