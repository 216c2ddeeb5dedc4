//! Choosing a size from a series: what is taken, and what is noted of it.

use super::state::Stored;
use super::turn::Turn;
use super::view::{in_words, measure_of};
use crate::refusal::Refusal;
use dwell_card::graph::{Choose, Way};
use dwell_card::meaning::{Chosen, Value, chosen, formula_value};
use dwell_quantity::{Band, from_base};
use dwell_record::What;
use dwell_record::event::Doing;

impl Turn<'_> {
    /// Asks for the nearest size to be taken; where none fits, nothing is asked and the text says how to go on.
    pub(super) fn choose(&mut self, choose: &Choose) -> Result<bool, Refusal> {
        if self.nearest(choose).is_none() {
            self.note_chosen(choose, None)?;
            self.keep_chosen(choose, None);
            self.take(Way::NoReading)?;
            return Ok(true);
        }
        let says = format!("Take the {} of {}.", self.plain_name(choose), self.chosen_in_words(choose)?);
        Ok(self.confirm(Doing::Work, &says, None))
    }

    /// It was taken.
    pub(super) fn took(&mut self, choose: &Choose) -> Result<(), Refusal> {
        let nearest = self.nearest(choose);
        self.note_chosen(choose, nearest.as_ref())?;
        self.keep_chosen(choose, nearest);
        Ok(())
    }

    fn wanted(&self, choose: &Choose) -> Value {
        self.view().scene(|scene| formula_value(&choose.nearest, scene.read, scene.samples))
    }

    fn nearest(&self, choose: &Choose) -> Option<Chosen> {
        chosen(choose, &self.wanted(choose))
    }

    fn plain_name(&self, choose: &Choose) -> String {
        let name = self.card.readings.get(choose.reading).map(|known| known.name.replace('-', " "));
        name.unwrap_or_default()
    }

    /// `2.64 mm`, with what decided between two that are as near.
    fn chosen_in_words(&self, choose: &Choose) -> Result<String, Refusal> {
        let missing = || Refusal::BrokenCard("a size is chosen for a reading that is not there".into());
        let known = self.card.readings.get(choose.reading).ok_or_else(missing)?;
        let (kind, unit) = measure_of(known).ok_or_else(missing)?;
        let words = |value| in_words(&Value::point(value), unit, kind, known.decimals);
        Ok(match self.nearest(choose) {
            None => "no size fits".to_owned(),
            Some(Chosen { size, as_near: None }) => words(size),
            Some(Chosen { size, as_near: Some(other) }) => {
                format!("{} ({} is as near: the smaller one is taken)", words(size), words(other))
            }
        })
    }

    fn note_chosen(&mut self, choose: &Choose, nearest: Option<&Chosen>) -> Result<(), Refusal> {
        let missing = || Refusal::BrokenCard("a size is chosen for a reading that is not there".into());
        let known = self.card.readings.get(choose.reading).ok_or_else(missing)?;
        let (kind, unit) = measure_of(known).ok_or_else(missing)?;
        let words = |value| in_words(&Value::point(value), unit, kind, known.decimals);
        let what = dwell_record::event::Chosen {
            reading: self.reading_name(choose.reading).ok_or_else(missing)?,
            quantity: known.quantity.clone(),
            series: choose.series.clone(),
            // One decimal more than the sizes have: what was wanted lies between them.
            wanted: in_words(&self.wanted(choose), unit, kind, known.decimals.saturating_add(1)),
            unit: unit.symbol().to_owned(),
            value: match nearest {
                Some(nearest) => {
                    dwell_record::Value::from(&Band::exactly(from_base(&nearest.size, unit, kind)))
                }
                None => dwell_record::Value::NoReading,
            },
            shown: nearest.map_or_else(|| "no size fits".to_owned(), |nearest| words(nearest.size.clone())),
            as_near: nearest.and_then(|nearest| nearest.as_near.clone()).map(words),
        };
        self.happened(Some(self.state.at), What::Chosen(Box::new(what)));
        Ok(())
    }

    fn keep_chosen(&mut self, choose: &Choose, nearest: Option<Chosen>) {
        let decimals = self.card.readings.get(choose.reading).map_or(0, |known| known.decimals);
        let value = nearest.map_or(Value::Missing, |nearest| Value::point(nearest.size));
        let stored = Some(Stored { samples: vec![value.clone()], value, decimals });
        if let Some(first) = self.state.first.get_mut(choose.reading).filter(|first| first.is_none()) {
            first.clone_from(&stored);
        }
        if let Some(latest) = self.state.latest.get_mut(choose.reading) {
            *latest = stored;
        }
    }
}
