//! A watched session: what was so after each node, for tests of procedures and for comparing the runner with the checker.

use super::Session;
use super::turn::Turn;
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_card::graph::{Side, Test, Way};
use dwell_card::meaning::{States, Value, basis};
use dwell_quantity::{Bound, Place};
use std::collections::BTreeSet;
use std::sync::Arc;

/// What was so when a node had been gone through.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Moment {
    /// The node.
    pub node: usize,
    /// The way taken from it.
    pub way: Way,
    /// The state of each slot, as far as it is known.
    pub slots: Vec<States>,
    /// The latest value of each reading, in base units; a computed one has the value that its formula has now.
    pub values: Vec<Value>,
    /// The answer to each question; none before it was asked.
    pub answers: Vec<States>,
    /// The judging nodes that were out and are not settled.
    pub open: BTreeSet<usize>,
    /// Whether the technician has stopped.
    pub stopped: bool,
    /// For a node that judges or branches: how its tests came out, in their order.
    pub came: Vec<Came>,
}

/// How one test came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Came {
    /// On which side.
    pub side: Side,
    /// Where the value lies in the band that decides, whichever of the two is asked; none for tests of no value.
    pub in_band: Option<Side>,
    /// Whether the value lies exactly at an end of its band.
    pub at_the_limit: bool,
}

impl Session {
    /// As [`Session::start`], and every node that is gone through is noted in [`Session::moments`].
    ///
    /// # Errors
    /// As [`Session::start`].
    pub fn start_watched(card: Card, variants: &[(String, String)], at: &str) -> Result<Session, Refusal> {
        let (start, written) = (super::Start::default(), super::Written::default());
        Session::begin(Arc::new(card), variants, start, written, at, Some(Vec::new()))
    }

    /// The nodes gone through, each with what was so then; empty where the session is not watched.
    pub fn moments(&self) -> &[Moment] {
        self.moments.as_deref().unwrap_or_default()
    }
}

impl Turn<'_> {
    /// Notes the node at hand, which is left on this way.
    pub(super) fn watch(&mut self, way: Way) {
        let came = std::mem::take(&mut self.came);
        if self.moments.is_none() {
            return;
        }
        let values = (0..self.card.readings.len()).map(|reading| self.view().value(reading, false)).collect();
        let moment = Moment {
            node: self.state.at,
            way,
            slots: self.state.slots.clone(),
            values,
            answers: self.state.answers.clone(),
            open: self.state.open.clone(),
            stopped: self.state.stopped,
            came,
        };
        if let Some(moments) = &mut self.moments {
            moments.push(moment);
        }
    }

    /// Notes how a test came out, for the moment when its node is left.
    pub(super) fn came_out(&mut self, test: &Test, side: Side) {
        if self.moments.is_none() {
            return;
        }
        let basis = self.view().scene(|scene| basis(test, scene));
        let at_the_limit = basis.as_ref().is_some_and(|basis| {
            let is_there =
                |end: &Option<Bound>| end.as_ref().is_some_and(|end| basis.value.exact() == Some(&end.value));
            is_there(&basis.band.low) || is_there(&basis.band.high)
        });
        let in_band =
            basis.map(|basis| match basis.value.reach().map(|value| basis.deciding.place(&value)) {
                Some(Place::In) => Side::In,
                Some(Place::Low(_)) => Side::Low,
                Some(Place::High(_)) => Side::High,
                Some(Place::Undecided) | None => Side::NoReading,
            });
        self.came.push(Came { side, in_band, at_the_limit });
    }
}
