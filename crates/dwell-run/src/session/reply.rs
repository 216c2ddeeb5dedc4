//! An answer: taken where it fits what is asked, and what it changes.

use super::state::{State, Taken};
use super::turn::Turn;
use super::view::in_words;
use crate::answer::Answer;
use crate::prompt::{Confirm, Prompt, QuestionPrompt, ReadingPrompt, SignPrompt};
use crate::refusal::Refusal;
use crate::typed::{Typed, says_nothing, typed};
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::limit::Fold;
use dwell_card::meaning::{States, Value, cut, possible, unready, work};
use dwell_card::number::Range;
use dwell_card::vehicle::Ready;
use dwell_quantity::{Place, band_shown};
use dwell_record::What;
use dwell_record::event::{Answered, Done, NeedAnswered, Sample, Signed};

impl Turn<'_> {
    /// Takes an answer and goes on to the next prompt.
    pub(super) fn reply(&mut self, answer: Answer) -> Result<(), Refusal> {
        let prompt = self.state.prompt.clone();
        match (&prompt, answer) {
            (Prompt::Done { .. }, _) => return Err(Refusal::Over),
            (_, Answer::Lost) => self.lose()?,
            (prompt, Answer::Cannot(why)) => self.cannot(prompt, &why)?,
            (Prompt::Confirm(confirm), Answer::Done) => self.done(confirm)?,
            (Prompt::Need { says, .. }, Answer::Yes) => self.need_told(says, true)?,
            (Prompt::Need { says, .. }, Answer::No) => self.need_told(says, false)?,
            (Prompt::Question(question), Answer::Choice(choice)) => self.chose(question, &choice)?,
            (Prompt::Question(question), Answer::Yes) => self.chose(question, "yes")?,
            (Prompt::Question(question), Answer::No) => self.chose(question, "no")?,
            (Prompt::Sign(sign), Answer::Signature(name)) => self.signs(sign, &name)?,
            (Prompt::Reading(reading), answer) if reading.sampled.is_some() => {
                self.sampled(reading, answer)?;
            }
            // Of a record: it was asked back then.
            (Prompt::Reading(reading), Answer::Kept(kept)) => match *kept {
                Answer::Value { text, unit } => self.value(reading, &text, unit.as_deref(), true)?,
                _ => return Err(Refusal::NotAsked { wanted: prompt.wants() }),
            },
            (Prompt::Reading(reading), Answer::NoReading) => self.nothing_read(reading)?,
            (Prompt::Reading(reading), Answer::Value { text, .. }) if says_nothing(&text) => {
                self.nothing_read(reading)?;
            }
            (Prompt::Reading(reading), Answer::Value { text, unit }) => {
                self.value(reading, &text, unit.as_deref(), false)?;
            }
            _ => return Err(Refusal::NotAsked { wanted: prompt.wants() }),
        }
        self.state.before.clear();
        self.advance()
    }

    fn done(&mut self, confirm: &Confirm) -> Result<(), Refusal> {
        let node = self.node()?;
        let (doing, says, text) = (confirm.doing, confirm.says.clone(), confirm.text.clone());
        let setting = confirm.setting.clone();
        let worked_out = matches!(&node.act, Act::Work(known) if known.worked_out.is_some());
        let band = confirm.band.clone().filter(|_| worked_out || setting.is_some());
        let tools = match &node.act {
            Act::Work(known) => known.tools.iter().filter_map(|tool| self.tool_number(*tool)).collect(),
            _ => Vec::new(),
        };
        self.happened(Some(self.state.at), What::Done(Done { doing, says, text, band, setting, tools }));
        let before = self.state.slots.clone();
        if let Act::Work(known) = &node.act {
            let worked = work(known, self.chosen, &self.state.slots);
            for slot in &worked.wrong {
                if self.was_done_before(*slot, known) {
                    continue;
                }
                let now = self.states_in_words(*slot);
                self.doubt(format!("{} does not fit: {now}", known.says.trim_end_matches('.')));
            }
            for need in worked.unmet.iter().filter_map(|place| known.needs.get(*place)) {
                let now = self.states_in_words(need.slot);
                self.doubt(format!("{} asks for something else: {now}", known.says.trim_end_matches('.')));
            }
            self.unready(&known.ready);
            self.state.clocks.begin(known, &self.card.slots);
            self.state.clocks.follow(&self.card.slots, &self.state.slots, &worked.after);
            self.state.moved(worked.after, worked.told.into_iter());
            self.let_go(known);
            self.end_lasting();
        }
        if let Act::Choose(choose) = &node.act {
            self.took(choose)?;
        }
        if let Act::Wait { seconds, since, ripens, .. } = &node.act {
            let State { clocks, slots, known, .. } = &mut self.state;
            let since = since.as_ref().map(|_| ripens.as_slice());
            let passed = clocks.pass(&seconds.0, since, &self.card.slots, slots);
            known.retain(|slot| !passed.over.contains(slot));
            known.extend(passed.ripe);
            self.end_lasting();
        }
        self.by_hand(&before);
        self.take(Way::Then)
    }

    /// Doubts what is done with a tool that may not be ready.
    pub(super) fn unready(&mut self, asked: &[Ready]) {
        for ready in unready(asked, &self.state.slots) {
            let now = self.states_in_words(ready.slot);
            self.doubt(format!("A tool is used that is not ready: {now}"));
        }
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

    /// A signature. The second of two is another person's.
    fn signs(&mut self, prompt: &SignPrompt, name: &str) -> Result<(), Refusal> {
        let name = name.split_whitespace().collect::<Vec<_>>().join(" ");
        if !name.chars().any(char::is_alphabetic) {
            return Err(Refusal::NoName { given: name });
        }
        if prompt.signed.iter().any(|other| same_person(other, &name)) {
            return Err(Refusal::SamePerson { name });
        }
        let frame = self.node()?.frame;
        let procedure = self.card.frames.get(frame).map(|frame| frame.procedure.clone()).unwrap_or_default();
        let (step, title, person, of) = (prompt.step.clone(), prompt.title.clone(), prompt.person, prompt.of);
        let what = Signed { procedure, step, title, by: name.clone(), person, of };
        self.happened(Some(self.state.at), What::Signed(what));
        if person < of {
            self.state.signed.push(name);
            return Ok(());
        }
        self.state.signed.clear();
        self.take(Way::Then)
    }

    pub(super) fn nothing_read(&mut self, prompt: &ReadingPrompt) -> Result<(), Refusal> {
        self.sample(prompt, nothing(prompt))
    }

    fn value(
        &mut self,
        prompt: &ReadingPrompt,
        text: &str,
        unit: Option<&str>,
        kept: bool,
    ) -> Result<(), Refusal> {
        let given = typed(text, unit, prompt.kind, prompt.unit)?;
        let taken = self.believed(prompt, given.clone())?;
        let mut taken = self.doubted(prompt, &given, taken, &self.others_of(prompt))?;
        if kept {
            taken.sample = taken.sample.kept();
        }
        self.sample(prompt, taken)
    }

    /// A value, if it can be: inside what is expected here, and what the quantity can be at all. Of a spread only the whole is
    /// of the quantity: a dial gauge goes to both sides of its zero, and no run-out is below 0.
    pub(super) fn believed(&self, prompt: &ReadingPrompt, given: Typed) -> Result<Taken, Refusal> {
        let (expected, spread) = match &self.node()?.act {
            Act::Measure(Measure { expected, take, .. }) => (expected.as_ref(), *take == Fold::Spread),
            _ => (None, false),
        };
        let known = self.card.readings.get(prompt.reading).filter(|_| !spread);
        let declared = known.and_then(|known| known.possible.as_ref()).map(Range::band);
        let cut = known.map_or_else(|| Some(given.band.clone()), |known| cut(given.band.clone(), known));
        let taken = cut.clone().unwrap_or_else(|| given.band.clone());
        let declared = declared.filter(|band| band.intersect(&given.band).is_empty());
        let natural = known.filter(|_| cut.is_none()).map(possible);
        let expected = expected.map(Range::band).filter(|band| band.place(&taken) != Place::In);
        if let Some(believed) = expected.or(declared).or(natural) {
            let shown = given.decimals.unwrap_or(prompt.decimals);
            return Err(Refusal::NotBelieved {
                value: in_words(&Value::Read(given.band), prompt.unit, prompt.kind, shown),
                expected: band_shown(&believed, prompt.unit, prompt.kind, prompt.decimals),
            });
        }
        let decimals = given.decimals.unwrap_or_default().max(prompt.decimals);
        Ok(Taken { value: Value::Read(taken), decimals, sample: given.sample, time: None })
    }
}

/// Nothing could be read.
pub(super) fn nothing(prompt: &ReadingPrompt) -> Taken {
    Taken { value: Value::Missing, decimals: prompt.decimals, sample: Sample::NoReading, time: None }
}

/// Whether two names are one person's: capitals, blanks and points make no difference.
fn same_person(one: &str, other: &str) -> bool {
    let bare = |name: &str| -> String {
        name.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
    };
    bare(one) == bare(other)
}
