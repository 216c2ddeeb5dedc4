//! Measuring: values one by one, until each reading has its value.

use super::state::{Half, Stored, Taken};
use super::turn::Turn;
use super::view::in_words;
use crate::prompt::ReadingPrompt;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::meaning::{Value, as_read, read, taken};
use dwell_quantity::{Band, Bound, from_base};
use dwell_record::What;
use dwell_record::event::{Measured, ReadingName, Sampled, SampledHow};

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
                What::Sampled(Sampled {
                    reading: name.clone(),
                    round,
                    of,
                    sample,
                    source: self.source.clone(),
                }),
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
            self.state.half.clear();
            self.unready(&measure.ready);
            let left = read(measure, &mut self.state.slots);
            self.state.known.extend(left);
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
        let samples: Vec<Value> = values.iter().map(|taken| taken.value.clone()).collect();
        let value = taken(measure.take, &samples);
        let was = |of: &[Option<Stored>]| of.get(reading.number).cloned().flatten();
        let half = Half { latest: was(&self.state.latest), first: was(&self.state.first) };
        self.state.half.push((reading.number, half));
        self.stored(measure, prompt, reading, values, (value, samples, None));
    }

    /// A reading has its value: with the samples that count for it, and for a sampled one how it came about.
    pub(super) fn stored(
        &mut self,
        measure: &Measure,
        prompt: &ReadingPrompt,
        reading: ReadingName,
        given: &[Taken],
        (value, samples, sampled): (Value, Vec<Value>, Option<SampledHow>),
    ) {
        let decimals = given.iter().map(|taken| taken.decimals).max().unwrap_or(prompt.decimals);
        let known = self.card.readings.get(reading.number);
        let as_shown = known.map_or_else(|| value.clone(), |known| as_read(&value, known));
        let first = self.state.first.get(reading.number).is_some_and(Option::is_none);
        let what = Measured {
            as_found: first,
            quantity: known.map(|known| known.quantity.clone()).unwrap_or_default(),
            unit: prompt.unit.symbol().to_owned(),
            value: recorded(&as_shown, prompt),
            shown: in_words(&as_shown, prompt.unit, prompt.kind, decimals),
            samples: given.iter().map(|taken| taken.sample.clone()).collect(),
            times: given.iter().filter_map(|taken| Some(taken.time.as_ref()?.0.clone())).collect(),
            sampled,
            take: (given.len() > 1).then(|| measure.take.word().to_owned()),
            tool: prompt.tool.clone(),
            tool_number: measure.tool.and_then(|tool| self.tool_number(tool)),
            source: self.source.clone(),
            reading: reading.clone(),
        };
        self.happened(Some(self.state.at), What::Measured(Box::new(what)));
        let stored = Some(Stored { value, decimals, samples });
        if let (true, Some(place)) = (first, self.state.first.get_mut(reading.number)) {
            place.clone_from(&stored);
        }
        if let Some(place) = self.state.latest.get_mut(reading.number) {
            *place = stored;
        }
    }
}

/// The value for the record, in the unit of the reading.
fn recorded(value: &Value, prompt: &ReadingPrompt) -> dwell_record::Value {
    let Some(band) = value.reach() else { return dwell_record::Value::NoReading };
    let in_unit = |bound: &Bound| Bound {
        value: from_base(&bound.value, prompt.unit, prompt.kind),
        closed: bound.closed,
    };
    let (low, high) = (band.low.as_ref().map(in_unit), band.high.as_ref().map(in_unit));
    let turned = prompt.unit.descending();
    let band = if turned { Band { low: high, high: low } } else { Band { low, high } };
    dwell_record::Value::from(&band)
}
