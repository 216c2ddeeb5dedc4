//! Measuring: values one by one, until each reading has its value.

use super::state::{Stored, Taken};
use super::turn::Turn;
use super::view::in_words;
use crate::prompt::ReadingPrompt;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::limit::{Fold, Formula};
use dwell_card::meaning::{Value, formula_value};
use dwell_quantity::{Band, Bound, Exact, from_base};
use dwell_record::What;
use dwell_record::event::{Measured, ReadingName, Sampled};

impl Turn<'_> {
    /// One value of a measurement; the last one makes the reading.
    pub(super) fn sample(&mut self, prompt: &ReadingPrompt, taken: Taken) -> Result<(), Refusal> {
        let Act::Measure(measure) = &self.node()?.act else {
            return Err(Refusal::BrokenCard("a value is asked for where nothing is measured".into()));
        };
        let missing = || Refusal::BrokenCard("a reading is not there".into());
        let name = self.reading_name(prompt.reading).ok_or_else(missing)?;
        if prompt.of > 1 {
            let sample = taken.sample.clone();
            let (round, of) = (prompt.round, prompt.of);
            self.happened(
                Some(self.state.at),
                What::Sampled(Sampled { reading: name.clone(), round, of, sample }),
            );
        }
        let round = self.state.taken.iter().map(Vec::len).min().unwrap_or_default();
        let place = self.state.taken.iter().position(|values| values.len() == round).unwrap_or_default();
        let values = self.state.taken.get_mut(place).ok_or_else(missing)?;
        values.push(taken);
        let complete = u32::try_from(values.len()).unwrap_or(u32::MAX) >= prompt.of;
        if complete {
            let values = values.clone();
            self.measured(measure, prompt, name, &values);
        }
        let all_complete = place + 1 == measure.readings.len() && complete;
        if all_complete {
            self.state.taken.clear();
            self.take(Way::Then)?;
        }
        Ok(())
    }

    fn measured(
        &mut self,
        measure: &Measure,
        prompt: &ReadingPrompt,
        reading: ReadingName,
        values: &[Taken],
    ) {
        let value = combined(measure.take, values);
        let decimals = values.iter().map(|taken| taken.decimals).max().unwrap_or(prompt.decimals);
        let steady = self.is_steady(prompt, measure, values);
        let known = self.card.readings.get(prompt.reading);
        let first = self.state.first.get(prompt.reading).is_some_and(Option::is_none);
        let what = Measured {
            reading,
            as_found: first,
            quantity: known.map(|known| known.quantity.clone()).unwrap_or_default(),
            unit: prompt.unit.symbol().to_owned(),
            value: recorded(&value, prompt),
            shown: in_words(&value, prompt.unit, prompt.kind, decimals),
            samples: values.iter().map(|taken| taken.sample.clone()).collect(),
            take: (values.len() > 1).then(|| fold_word(measure.take).to_owned()),
            tool: prompt.tool.clone(),
        };
        self.happened(Some(self.state.at), What::Measured(Box::new(what)));
        let stored = Some(Stored { value, decimals, steady });
        if let (true, Some(place)) = (first, self.state.first.get_mut(prompt.reading)) {
            place.clone_from(&stored);
        }
        if let Some(place) = self.state.latest.get_mut(prompt.reading) {
            *place = stored;
        }
    }

    /// Steady: the values lie no farther apart than the tool can tell. One value is taken as steady, because whoever reads a
    /// display waits until it stands still.
    fn is_steady(&self, prompt: &ReadingPrompt, measure: &Measure, values: &[Taken]) -> bool {
        if values.len() < 2 {
            return true;
        }
        let Some(spread) = combined(Fold::Spread, values).exact().cloned() else { return false };
        let tool = measure.tool.and_then(|tool| self.card.tools.get(tool));
        let ability = tool.and_then(|tool| tool.measures.iter().find(|a| a.kind == prompt.kind.name()));
        let step = ability.and_then(|ability| ability.resolution.as_ref()).map(|step| step.0.clone());
        spread <= step.unwrap_or_else(Exact::zero)
    }
}

/// Several values made one. A single one, and the last of several, may be an interval; nothing else is made of intervals.
fn combined(fold: Fold, values: &[Taken]) -> Value {
    match (fold, values) {
        (Fold::Last, [.., last]) => last.value.clone(),
        (Fold::Spread | Fold::Sum, _) | (_, [_, _, ..]) => {
            let formula = Formula::Fold(fold, (0..values.len()).collect());
            formula_value(&formula, &|place, _| {
                values.get(place).map_or(Value::Missing, |taken| taken.value.clone())
            })
        }
        (_, [one]) => one.value.clone(),
        (_, []) => Value::Missing,
    }
}

fn fold_word(fold: Fold) -> &'static str {
    match fold {
        Fold::Lowest => "lowest",
        Fold::Highest => "highest",
        Fold::Mean => "mean",
        Fold::Spread => "spread",
        Fold::Sum => "sum",
        Fold::Furthest => "furthest",
        Fold::Last => "last",
    }
}

/// The value for the record, in the unit of the reading.
fn recorded(value: &Value, prompt: &ReadingPrompt) -> dwell_record::Value {
    let (Value::Read(band) | Value::Somewhere { band, .. }) = value else {
        return dwell_record::Value::NoReading;
    };
    let in_unit = |bound: &Bound| Bound {
        value: from_base(&bound.value, prompt.unit, prompt.kind),
        closed: bound.closed,
    };
    let (low, high) = (band.low.as_ref().map(in_unit), band.high.as_ref().map(in_unit));
    let turned = prompt.unit.descending();
    let band = if turned { Band { low: high, high: low } } else { Band { low, high } };
    dwell_record::Value::from(&band)
}
