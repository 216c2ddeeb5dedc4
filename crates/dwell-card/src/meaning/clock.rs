//! States that last for a time only: what runs down, and what has run out.

use super::States;
use crate::vehicle::{Lapse, Slot};
use dwell_quantity::Exact;
use std::collections::BTreeMap;

/// For each slot that runs down the seconds that have passed.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash)]
pub struct Clocks(BTreeMap<usize, Exact>);

impl Clocks {
    /// Begins anew for these slots.
    pub fn begin(&mut self, slots: &[usize]) {
        for slot in slots {
            self.0.insert(*slot, Exact::zero());
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
                    self.0.insert(place, Exact::zero());
                }
            }
            if !slot.lasts.is_empty() && !slot.lasts.iter().any(|lapse| at(after, place).has(lapse.state)) {
                self.0.remove(&place);
            }
        }
    }

    /// Time passes, in seconds. A state that has run out is the normal one again; gives the slots where that is so.
    pub fn pass(&mut self, seconds: &Exact, slots: &[Slot], states: &mut [States]) -> Vec<usize> {
        let mut over = Vec::new();
        for (place, elapsed) in &mut self.0 {
            *elapsed = &*elapsed + seconds;
            let Some((slot, now)) = slots.get(*place).zip(states.get_mut(*place)) else { continue };
            let is_over = |lapse: &&Lapse| now.has(lapse.state) && *elapsed > lapse.seconds.0;
            let lost: Vec<usize> = slot.lasts.iter().filter(is_over).map(|lapse| lapse.state).collect();
            if !lost.is_empty() {
                let left: Vec<usize> = now.iter().filter(|state| !lost.contains(state)).collect();
                *now = States::these(&left).or(States::only(0));
                over.push(*place);
            }
        }
        self.0.retain(|place, _| !over.contains(place));
        over
    }

    /// Takes in what may have passed as well: the longer time.
    pub fn join(&mut self, other: &Clocks) {
        for (slot, there) in &other.0 {
            let here = self.0.entry(*slot).or_default();
            if *here < *there {
                here.clone_from(there);
            }
        }
    }
}
