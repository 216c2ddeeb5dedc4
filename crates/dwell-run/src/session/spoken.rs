//! The texts of the card as they are shown now, with the readings, answers and variants that they name.

use super::view::{View, in_words, measure_of};
use dwell_card::meaning::as_read;
use dwell_card::words::{Shown, filled};

impl View<'_> {
    /// A text with all that it shows. What has not been read yet says so.
    pub(super) fn spoken(&self, text: &str) -> String {
        filled(text, &|shown| self.shown(shown).unwrap_or_else(|| "(not known yet)".to_owned()))
    }

    /// The same for a text that may be there.
    pub(super) fn spoken_if(&self, text: Option<&String>) -> Option<String> {
        text.map(|text| self.spoken(text))
    }

    fn shown(&self, shown: Shown) -> Option<String> {
        match shown {
            Shown::Reading(place) => {
                let reading = self.card.readings.get(place)?;
                if reading.formula.is_none() {
                    self.stored(place, false)?;
                }
                let (kind, unit) = measure_of(reading)?;
                Some(in_words(&as_read(&self.value(place, false), reading), unit, kind, self.decimals(place)))
            }
            Shown::Answer(place) => {
                let answer = self.state.answers.get(place)?.single()?;
                self.card.questions.get(place)?.values.get(answer).cloned()
            }
            Shown::Variant(place) => {
                let value = self.chosen.get(place)?;
                self.card.axes.get(place)?.values.get(*value).cloned()
            }
        }
    }
}
