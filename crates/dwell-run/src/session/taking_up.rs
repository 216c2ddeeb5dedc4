//! Taking up a job after an interruption: what is open, what has run out meanwhile, what only a measurement told.

use super::Session;
use super::state::State;
use super::turn::Turn;
use crate::prompt::Prompt;
use crate::refusal::Refusal;
use dwell_card::graph::Act;
use dwell_card::meaning::States;
use dwell_quantity::Exact;
use dwell_record::event::{By, TakenUp, Taking};
use dwell_record::{Event, What};

/// After so many seconds a measurement that was broken off is begun anew.
const TOO_LONG: u64 = 3_600;

/// Longer than anything lasts, in seconds: where the clock was set back, nobody knows how long it was.
const UNKNOWN: i64 = 100 * 365 * 24 * 3600;

impl Session {
    /// Who has the job in hand, as the record says.
    pub fn by(&self) -> By {
        let by = self.events.iter().rev().find_map(|event| match &event.what {
            What::Begun(begun) => Some(&begun.by),
            What::TakenUp(taken) => Some(&taken.by),
            _ => None,
        });
        by.cloned().unwrap_or_default()
    }

    /// Goes on after an interruption. The time since the last event counts for all that lasts for a time only; nothing ripens
    /// by it, because nobody watched. What has run out counts no more, and needs that asked for it ask again. A measurement that
    /// was broken off is begun anew where another person goes on, or after an hour. The cautions of the place at hand are shown
    /// once more.
    ///
    /// # Errors
    /// [`Refusal::Over`], [`Refusal::Time`], [`Refusal::BrokenCard`].
    pub fn take_up(&mut self, by: By, how: Taking, at: &str) -> Result<Vec<Event>, Refusal> {
        if matches!(self.state.prompt, Prompt::Done { .. }) {
            return Err(Refusal::Over);
        }
        let from = self.by();
        let away = self.events.last().and_then(|last| dwell_record::seconds_between(&last.at, at));
        let (events, hands) = self.turn_with(at, |turn| {
            let taken =
                TakenUp { by, from, how, away, open: Vec::new(), expired: Vec::new(), proved: Vec::new() };
            turn.taken_up(taken);
            turn.advance()
        })?;
        if let Some(past) = self.past.last_mut() {
            past.hands.extend(hands);
        }
        Ok(events)
    }
}

impl Turn<'_> {
    fn taken_up(&mut self, mut taken: TakenUp) {
        let away = taken.away.and_then(|away| i64::try_from(away).ok()).unwrap_or(UNKNOWN);
        let before = self.state.slots.clone();
        let State { clocks, slots, known, .. } = &mut self.state;
        let passed = clocks.pass(&Exact::whole(away), Some(&[]), &self.card.slots, slots);
        known.retain(|slot| !passed.over.contains(slot));
        self.by_hand(&before);
        taken.open = self.state.open_since(self.card);
        taken.expired = passed.over.iter().filter_map(|slot| self.run_out(*slot, &before)).collect();
        let goes_on = taken.by.person == taken.from.person && taken.away.is_some_and(|away| away < TOO_LONG);
        if !goes_on {
            taken.expired.extend(self.broken_off());
            self.state.leave_measurement();
        }
        taken.proved = self.proved();
        self.happened(None, What::TakenUp(Box::new(taken)));
        self.end_lasting();
        self.state.shown.clear();
        self.state.before.clear();
    }

    /// "The engine was warm, which lasts 20 min".
    fn run_out(&self, slot: usize, before: &[States]) -> Option<String> {
        let known = self.card.slots.get(slot)?;
        let (was, now) = (before.get(slot).copied()?, self.state.slot(slot));
        let lapse = known.lasts.iter().find(|lapse| was.has(lapse.state) && !now.has(lapse.state))?;
        let state = known.states.get(lapse.state)?.replace('-', " ");
        Some(format!("The {} was {state}, which lasts {}", known.label, lasting(&lapse.seconds.0)))
    }

    /// "The tension was read 2 of 3 times", for a measurement of which some values are there.
    fn broken_off(&self) -> Option<String> {
        let Prompt::Reading(reading) = &self.state.prompt else { return None };
        let read = self.state.taken.iter().map(Vec::len).max().filter(|count| *count > 0)?;
        let name = self.reading_name(reading.reading).map(|name| name.words())?;
        Some(format!(
            "The {name} was read {read} of {} times, and is measured from the beginning",
            reading.of
        ))
    }

    /// What only a measurement can tell, and did, "The battery bus is dead".
    fn proved(&self) -> Vec<String> {
        let mut all = Vec::new();
        for node in &self.card.nodes {
            let Act::Judge(judge) = &node.act else { continue };
            for proof in &judge.proves {
                let Some(known) = self.card.slots.get(proof.slot) else { continue };
                let holds = self.state.known.contains(&proof.slot)
                    && self.state.slot(proof.slot) == States::only(proof.to);
                let Some(state) = known.states.get(proof.to).filter(|_| holds) else { continue };
                let words = format!("The {} is {}", known.label, state.replace('-', " "));
                if !all.contains(&words) {
                    all.push(words);
                }
            }
        }
        all
    }
}

/// `20 min`, `90 s`.
fn lasting(seconds: &Exact) -> String {
    let minutes = seconds.checked_div(&Exact::whole(60)).filter(Exact::is_whole);
    match minutes {
        Some(minutes) => format!("{minutes} min"),
        None => format!("{seconds} s"),
    }
}
