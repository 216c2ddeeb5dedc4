//! States that last for a time only, and states that time brings: what runs down, and what has run out or ripened.

use super::States;
use crate::graph::Work;
use crate::vehicle::{Lapse, Slot};
use dwell_quantity::Exact;
use std::collections::BTreeMap;

/// The seconds that have passed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Clocks {
    /// For each slot that runs down.
    lasting: BTreeMap<usize, Exact>,
    /// For each slot that ripens, at most as long as it takes.
    ripening: BTreeMap<usize, Exact>,
}

/// What time changed.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Passed {
    /// The slots whose state has run out.
    pub over: Vec<usize>,
    /// The slots that have ripened.
    pub ripe: Vec<usize>,
}

impl Clocks {
    /// Begins what the work begins: lasting states run down anew; what ripens goes on where it ripens already, unless the
    /// work brings it back.
    pub fn begin(&mut self, work: &Work, slots: &[Slot]) {
        for slot in &work.clocks {
            self.lasting.insert(*slot, Exact::zero());
        }
        for brought in &work.brings {
            let ripens = slots.get(brought.slot).and_then(|slot| slot.ripens.as_ref());
            if ripens.is_some_and(|ripens| ripens.state != brought.to) {
                self.ripening.remove(&brought.slot);
            }
        }
        for slot in &work.ripens {
            self.ripening.entry(*slot).or_default();
        }
    }

    /// After something was done: begins where a lasting state has just been reached and already runs down, and ends where it
    /// is no longer possible.
    pub fn follow(&mut self, slots: &[Slot], before: &[States], after: &[States]) {
        let at = |states: &[States], slot: usize| states.get(slot).copied().unwrap_or_default();
        for (place, slot) in slots.iter().enumerate() {
            for lapse in &slot.lasts {
                let reached = at(after, place).has(lapse.state) && !at(before, place).has(lapse.state);
                let running = match &lapse.resting {
                    None => true,
                    Some((other, states)) => !at(after, *other).and(States::these(states)).is_empty(),
                };
                if reached && running {
                    self.lasting.insert(place, Exact::zero());
                }
            }
            if !slot.lasts.is_empty() && !slot.lasts.iter().any(|lapse| at(after, place).has(lapse.state)) {
                self.lasting.remove(&place);
            }
        }
    }

    /// Time passes, in seconds: a state that has run out is the normal one again, and what has ripened is ripe. `since` are
    /// the slots that ripen since the event from which the time counts; then nobody knows how much of it passes only now,
    /// and what lasts runs down by all of it, what ripens since another event by nothing.
    pub fn pass(
        &mut self,
        seconds: &Exact,
        since: Option<&[usize]>,
        slots: &[Slot],
        states: &mut [States],
    ) -> Passed {
        let mut passed = Passed::default();
        for (place, elapsed) in &mut self.lasting {
            *elapsed = &*elapsed + seconds;
            let Some((slot, now)) = slots.get(*place).zip(states.get_mut(*place)) else { continue };
            let is_over = |lapse: &&Lapse| now.has(lapse.state) && *elapsed > lapse.seconds.0;
            let lost: Vec<usize> = slot.lasts.iter().filter(is_over).map(|lapse| lapse.state).collect();
            if !lost.is_empty() {
                let left: Vec<usize> = now.iter().filter(|state| !lost.contains(state)).collect();
                *now = States::these(&left).or(States::only(0));
                passed.over.push(*place);
            }
        }
        self.lasting.retain(|place, _| !passed.over.contains(place));
        for (place, elapsed) in &mut self.ripening {
            let now = slots.get(*place).zip(states.get_mut(*place));
            let Some((ripens, now)) = now.and_then(|(slot, now)| Some((slot.ripens.as_ref()?, now))) else {
                continue;
            };
            let sum = match since {
                None => &*elapsed + seconds,
                Some(since) if since.contains(place) && *elapsed < *seconds => seconds.clone(),
                Some(_) => elapsed.clone(),
            };
            let ripe = ripens.seconds.0 <= sum;
            *elapsed = if ripe { ripens.seconds.0.clone() } else { sum };
            if ripe && *now != States::only(ripens.state) {
                *now = States::only(ripens.state);
                passed.ripe.push(*place);
            }
        }
        passed
    }

    /// Takes in what may have passed as well: the longer time for what runs down, the shorter one for what ripens.
    pub fn join(&mut self, other: &Clocks) {
        for (slot, there) in &other.lasting {
            let here = self.lasting.entry(*slot).or_default();
            if *here < *there {
                here.clone_from(there);
            }
        }
        self.ripening.retain(|slot, here| match other.ripening.get(slot) {
            Some(there) => {
                if *there < *here {
                    here.clone_from(there);
                }
                true
            }
            None => false,
        });
    }
}
