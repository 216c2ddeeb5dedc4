//! Going back to an earlier answer: what was told and read from there on is asked again; what was done at the vehicle stays.
//!
//! A going back undoes what people said, never what they did: a guard that is off stays off, an engine that is warm stays warm,
//! and what is owed for it is put back all the same. So the state of each thing that was changed by work, by waiting or by time
//! is kept, and everything else is as it was at that place. What was adjusted counts as adjusted. As long as a performed
//! procedure has something open, nobody goes back before it: only it puts that back.

use super::Session;
use super::state::State;
use super::turn::Turn;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, Work};
use dwell_card::meaning::States;
use dwell_record::event::{By, Corrected, ReadingName, Sample, WentBack};
use dwell_record::{Event, What};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What was so before an answer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Past {
    /// The number of the first event of the answer.
    pub seq: u64,
    /// The state, with its prompt.
    pub state: Arc<State>,
    /// How many nodes were gone through.
    pub trace: usize,
    /// The slots that were changed at the vehicle with the answer, or in the time after it.
    pub hands: Vec<usize>,
}

/// An answer that can be gone back to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Place {
    /// The number of its event.
    pub seq: u64,
    /// When it was given.
    pub at: String,
    /// What was answered, "tension: 54.6 Hz".
    pub words: String,
    /// Whether it is a reading, which can be put right.
    pub reading: bool,
}

impl Session {
    /// What is so now, to come back to; none where nothing is asked.
    pub(super) fn past_here(&self) -> Option<Past> {
        let over = matches!(self.state.prompt, Prompt::Done { .. });
        let seq = self.events.last().map_or(0, |last| last.seq).saturating_add(1);
        (!over).then(|| Past { seq, state: self.state.clone(), trace: self.trace.len(), hands: Vec::new() })
    }

    /// The answers that can be gone back to, oldest first. After a stop none from before it; none from before a performed
    /// procedure that has something open.
    pub fn behind(&self) -> Vec<Place> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Vec::new();
        }
        let event = |past: &Past| self.events.get(usize::try_from(past.seq).ok()?.checked_sub(1)?);
        let place = |event: &Event| Place {
            seq: event.seq,
            at: event.at.clone(),
            words: answered(&event.what).unwrap_or_else(|| "an answer".to_owned()),
            reading: noted(&event.what).is_some(),
        };
        let from = self.first_behind();
        self.past.iter().filter(|past| past.seq >= from).filter_map(event).map(place).collect()
    }

    /// The number from which on can be gone back to: after the beginning of the performed procedure at hand, where something is
    /// open that it alone may put back.
    fn first_behind(&self) -> u64 {
        let frame = self.card.nodes.get(self.state.at).map_or(0, |node| node.frame);
        if frame == 0 || self.state.left_open(&self.card).is_empty() {
            return 0;
        }
        let opened = self.events.iter().rev().find(|event| {
            let here = event.node.and_then(|node| self.card.nodes.get(node)).map(|node| node.frame);
            matches!(event.what, What::Opened(_)) && here == Some(frame)
        });
        opened.map_or(0, |event| event.seq)
    }

    /// Goes back to the answer with this number, one of [`Session::behind`]: it and all after it are asked again.
    ///
    /// # Errors
    /// [`Refusal::NothingBehind`], [`Refusal::NotBackTo`], [`Refusal::BeforePerformed`], [`Refusal::NoReason`],
    /// [`Refusal::Over`], [`Refusal::Time`].
    pub fn go_back(&mut self, to: u64, by: By, why: &str, at: &str) -> Result<Vec<Event>, Refusal> {
        let place = self.place(to, why)?;
        let reopened = self.reopened(to);
        let what = What::WentBack(WentBack { to, by, why: why.trim().to_owned(), reopened });
        self.reopen(place, None, what, at)
    }

    /// Puts a reading right that was noted wrong: it is asked for again, and its new value counts as if it had been the first;
    /// what was answered after it is asked again.
    ///
    /// # Errors
    /// As [`Session::go_back`], and [`Refusal::NoReadingThere`].
    pub fn correct(&mut self, to: u64, by: By, why: &str, at: &str) -> Result<Vec<Event>, Refusal> {
        let place = self.place(to, why)?;
        let event = usize::try_from(to).ok().and_then(|to| self.events.get(to.checked_sub(1)?));
        let (reading, was) =
            event.and_then(|event| noted(&event.what)).ok_or(Refusal::NoReadingThere { seq: to })?;
        let number = reading.number;
        let reopened =
            self.reopened(to).into_iter().filter(|words| !words.starts_with(&reading.words())).collect();
        let what = Corrected { to, reading, was, by, why: why.trim().to_owned(), reopened };
        self.reopen(place, Some(number), What::Corrected(Box::new(what)), at)
    }

    /// Which of the past answers it is.
    fn place(&self, to: u64, why: &str) -> Result<usize, Refusal> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Err(Refusal::Over);
        }
        if self.past.is_empty() {
            return Err(Refusal::NothingBehind);
        }
        if why.trim().is_empty() {
            return Err(Refusal::NoReason);
        }
        let place = self.past.iter().position(|past| past.seq == to).ok_or(Refusal::NotBackTo { seq: to })?;
        if to < self.first_behind() {
            let frame = self.card.nodes.get(self.state.at).and_then(|node| self.card.frames.get(node.frame));
            let procedure = frame.map(|frame| frame.procedure.clone()).unwrap_or_default();
            return Err(Refusal::BeforePerformed { procedure });
        }
        Ok(place)
    }

    /// What was read, answered and signed from an event on, each once, with its last value.
    fn reopened(&self, to: u64) -> Vec<String> {
        let mut all: Vec<(String, String)> = Vec::new();
        for event in self.events.iter().filter(|event| event.seq >= to) {
            let (name, words) = match &event.what {
                What::Measured(known) => (known.reading.words(), known.shown.clone()),
                What::Answered(known) => (known.question.replace('-', " "), known.answer.clone()),
                What::Signed(known) => (format!("signature for {}", known.title), known.by.clone()),
                _ => continue,
            };
            all.retain(|(known, _)| *known != name);
            all.push((name, words));
        }
        all.into_iter().map(|(name, words)| format!("{name}: {words}")).collect()
    }

    fn reopen(
        &mut self,
        place: usize,
        wrong: Option<usize>,
        what: What,
        at: &str,
    ) -> Result<Vec<Event>, Refusal> {
        let mut next = self.clone();
        let Some(past) = next.past.get(place).cloned() else { return Err(Refusal::NothingBehind) };
        let by_hand = next.past.iter().skip(place).flat_map(|past| past.hands.iter().copied());
        let hands: BTreeSet<usize> = by_hand.chain(next.state.again.iter().copied()).collect();
        next.state = Arc::new(back(&past.state, &next.state, hands, wrong));
        next.trace.truncate(past.trace);
        if let Some(moments) = &mut next.moments {
            moments.truncate(past.trace);
        }
        next.past.truncate(place);
        let events = next.turn(at, |turn| {
            turn.happened(None, what);
            turn.advance()
        })?;
        *self = next;
        Ok(events)
    }
}

/// The state at an earlier place, with the things as they are now.
fn back(then: &State, now: &State, hands: BTreeSet<usize>, wrong: Option<usize>) -> State {
    let mut now = now.clone();
    now.leave_measurement();
    let mut state = then.clone();
    for slot in &hands {
        state.set(*slot, now.slot(*slot));
        if let (Some(entry), Some(known)) = (state.entry.get_mut(*slot), now.entry.get(*slot)) {
            *entry = *known;
        }
        if now.known.contains(slot) {
            state.known.insert(*slot);
        } else {
            state.known.remove(slot);
        }
    }
    // What was found was found: only a value that was noted wrong is none.
    for (reading, (then, now)) in state.first.iter_mut().zip(now.first).enumerate() {
        if now.is_some() && wrong != Some(reading) {
            *then = now;
        }
    }
    for (frame, (then, now)) in state.frames.iter_mut().zip(&now.frames).enumerate() {
        then.adjusted |= now.adjusted;
        if now.adjusted {
            state.adjusted_before.insert(frame);
        }
    }
    state.clocks = now.clocks;
    state.since = now.since;
    state.located = now.located;
    state.cautions.extend(now.cautions);
    state.lasting.extend(now.lasting);
    state.shown.clear();
    state.before.clear();
    state.again = hands;
    state
}

impl Turn<'_> {
    /// Before the technician went back a tool was at another place: it is there no longer once it is connected elsewhere, or off.
    pub(super) fn let_go(&mut self, work: &Work) {
        let moved = |slot: &usize| work.moves.iter().any(|step| step.slot == *slot);
        let tools: Vec<usize> = work.own.iter().copied().filter(moved).collect();
        let held: Vec<usize> = self.state.again.iter().copied().filter(|slot| !moved(slot)).collect();
        for place in held {
            let now = self.state.slot(place);
            let takes = |work: &&Work| {
                !work.own.contains(&place)
                    && work.moves.iter().any(|step| step.slot == place && step.to != 0 && now.has(step.to))
            };
            let works = self.card.nodes.iter().filter_map(|node| match &node.act {
                Act::Work(work) => Some(work),
                _ => None,
            });
            let holders: BTreeSet<usize> = works.filter(takes).flat_map(|work| work.own.clone()).collect();
            let by_another =
                |slot: &usize| !tools.contains(slot) && self.state.slot(*slot) != States::only(0);
            if holders.iter().any(|slot| tools.contains(slot)) && !holders.iter().any(by_another) {
                self.state.set(place, States::only(0));
            }
        }
    }

    /// Whether a thing is already as this work makes it, because it was done before the technician went back.
    pub(super) fn was_done_before(&self, slot: usize, work: &Work) -> bool {
        let now = self.state.slot(slot);
        self.state.again.contains(&slot)
            && work.moves.iter().any(|step| step.slot == slot && now == States::only(step.to))
    }
}

/// The reading that an event notes, and its value in words.
fn noted(what: &What) -> Option<(ReadingName, String)> {
    match what {
        What::Sampled(known) => {
            let words = format!("{} ({} of {})", given(&known.sample), known.round, known.of);
            Some((known.reading.clone(), words))
        }
        What::SeriesTaken(known) => {
            let all: Vec<String> = known.samples.iter().map(given).collect();
            Some((known.reading.clone(), all.join(", ")))
        }
        What::Measured(known) => Some((known.reading.clone(), known.shown.clone())),
        _ => None,
    }
}

fn given(sample: &Sample) -> String {
    match sample {
        Sample::Typed { text, unit, .. } => format!("{text} {unit}").trim_end().to_owned(),
        Sample::NoReading => "no reading".to_owned(),
    }
}

/// What an event answered, in words.
fn answered(what: &What) -> Option<String> {
    if let Some((reading, words)) = noted(what) {
        return Some(format!("{}: {words}", reading.words()));
    }
    Some(match what {
        What::NeedAnswered(known) => {
            format!("{}: {}", known.says.trim_end_matches('.'), if known.holds { "yes" } else { "no" })
        }
        What::Done(known) => known.says.clone(),
        What::Answered(known) => format!("{} {}", known.text, known.answer),
        What::Signed(known) => format!("signed: {}", known.words()),
        What::Lost(known) => known.words(),
        _ => return None,
    })
}
