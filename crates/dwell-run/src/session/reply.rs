//! An answer: taken where it fits what is asked, and what it changes.

use super::state::{Stored, Taken};
use super::turn::Turn;
use super::view::in_words;
use crate::answer::Answer;
use crate::prompt::{Confirm, Prompt, QuestionPrompt, ReadingPrompt};
use crate::refusal::Refusal;
use crate::typed::{says_nothing, typed};
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::limit::{Fold, Formula};
use dwell_card::meaning::{States, Value, formula_value, work};
use dwell_quantity::{Band, Exact, Place, band_shown, from_base};
use dwell_record::What;
use dwell_record::event::{Answered, Done, Measured, NeedAnswered, Sample, Sampled};

impl Turn<'_> {
    /// Takes an answer and goes on to the next prompt.
    pub(super) fn reply(&mut self, answer: Answer) -> Result<(), Refusal> {
        let prompt = self.state.prompt.clone();
        match (&prompt, answer) {
            (Prompt::Done { .. }, _) => return Err(Refusal::Over),
            (Prompt::Confirm(confirm), Answer::Done) => self.done(confirm)?,
            (Prompt::Need { says, .. }, Answer::Yes) => self.need_told(says, true)?,
            (Prompt::Need { says, .. }, Answer::No) => self.need_told(says, false)?,
            (Prompt::Question(question), Answer::Choice(choice)) => self.chose(question, &choice)?,
            (Prompt::Question(question), Answer::Yes) => self.chose(question, "yes")?,
            (Prompt::Question(question), Answer::No) => self.chose(question, "no")?,
            (Prompt::Reading(reading), Answer::NoReading) => self.nothing_read(reading)?,
            (Prompt::Reading(reading), Answer::Value { text, .. }) if says_nothing(&text) => {
                self.nothing_read(reading)?;
            }
            (Prompt::Reading(reading), Answer::Value { text, unit }) => {
                self.value(reading, &text, unit.as_deref())?;
            }
            _ => return Err(Refusal::NotAsked { wanted: prompt.wants() }),
        }
        self.state.before.clear();
        self.advance()
    }

    fn done(&mut self, confirm: &Confirm) -> Result<(), Refusal> {
        let node = self.node()?;
        let (doing, says, text) = (confirm.doing, confirm.says.clone(), confirm.text.clone());
        self.happened(Some(self.state.at), What::Done(Done { doing, says, text }));
        if let Act::Work(known) = &node.act {
            let worked = work(known, self.chosen, &self.state.slots);
            for slot in &worked.wrong {
                let now = self.states_in_words(*slot);
                self.doubt(format!("{} does not fit: {now}", known.says.trim_end_matches('.')));
            }
            for need in worked.unmet.iter().filter_map(|place| known.needs.get(*place)) {
                let now = self.states_in_words(need.slot);
                self.doubt(format!("{} asks for something else: {now}", known.says.trim_end_matches('.')));
            }
            self.state.moved(worked.after, known.moves.iter().chain(&known.brings).map(|step| step.slot));
            self.end_lasting();
        }
        self.take(Way::Then)
    }

    fn states_in_words(&self, slot: usize) -> String {
        let Some(known) = self.card.slots.get(slot) else { return "nothing is known of it".into() };
        let now = self.state.slot(slot);
        let names: Vec<&str> =
            now.iter().filter_map(|state| known.states.get(state)).map(String::as_str).collect();
        format!("the {} is {}", known.label, names.join(" or ").replace('-', " "))
    }

    fn need_told(&mut self, says: &str, holds: bool) -> Result<(), Refusal> {
        let node = self.node()?;
        self.happened(
            Some(self.state.at),
            What::NeedAnswered(NeedAnswered { says: says.to_owned(), holds, asked: true }),
        );
        if let Act::Need { required, .. } = &node.act {
            let count = self.card.slots.get(required.slot).map_or(0, |slot| slot.states.len());
            let others: Vec<usize> = (0..count).filter(|state| !required.states.contains(state)).collect();
            let told = match holds {
                true => States::these(&required.states),
                false if required.states.contains(&0) => States::these(&others),
                false => States::only(0),
            };
            self.state.told(required.slot, told);
        }
        self.take(if holds { Way::Yes } else { Way::No })
    }

    fn chose(&mut self, question: &QuestionPrompt, choice: &str) -> Result<(), Refusal> {
        let place = question.values.iter().position(|value| value == choice.trim());
        let place = place.ok_or_else(|| Refusal::NotAnAnswer {
            given: choice.trim().to_owned(),
            values: question.values.clone(),
        })?;
        let what = Answered {
            question: question.name.clone(),
            text: question.text.clone(),
            answer: choice.trim().to_owned(),
        };
        self.happened(Some(self.state.at), What::Answered(what));
        if let Some(answer) = self.state.answers.get_mut(question.question) {
            *answer = States::only(place);
        }
        self.take(Way::Then)
    }

    fn nothing_read(&mut self, prompt: &ReadingPrompt) -> Result<(), Refusal> {
        let taken = Taken { value: Value::Missing, decimals: prompt.decimals, sample: Sample::NoReading };
        self.sample(prompt, taken)
    }

    fn value(&mut self, prompt: &ReadingPrompt, text: &str, unit: Option<&str>) -> Result<(), Refusal> {
        let given = typed(text, unit, prompt.kind, prompt.unit)?;
        if let Act::Measure(Measure { expected: Some(expected), .. }) = &self.node()?.act {
            let expected = expected.band();
            if expected.place(&given.band) != Place::In {
                let value = Value::Read(given.band);
                return Err(Refusal::NotBelieved {
                    value: in_words(
                        &value,
                        prompt.unit,
                        prompt.kind,
                        given.decimals.unwrap_or(prompt.decimals),
                    ),
                    expected: band_shown(&expected, prompt.unit, prompt.kind, prompt.decimals),
                });
            }
        }
        let decimals = given.decimals.unwrap_or_default().max(prompt.decimals);
        self.sample(prompt, Taken { value: Value::Read(given.band), decimals, sample: given.sample })
    }

    /// One value of a measurement; the last one makes the reading.
    fn sample(&mut self, prompt: &ReadingPrompt, taken: Taken) -> Result<(), Refusal> {
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
        reading: dwell_record::event::ReadingName,
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
    let in_unit = |bound: &dwell_quantity::Bound| dwell_quantity::Bound {
        value: from_base(&bound.value, prompt.unit, prompt.kind),
        closed: bound.closed,
    };
    let (low, high) = (band.low.as_ref().map(in_unit), band.high.as_ref().map(in_unit));
    let turned = prompt.unit.descending();
    let band = if turned { Band { low: high, high: low } } else { Band { low, high } };
    dwell_record::Value::from(&band)
}
