//! What the analysis holds possible at each node, to be held against what really came about.

use super::explore::{exits, explore};
use super::live::Live;
use super::reachable::Reachable;
use super::report::Report;
use super::state::State;
use super::variants::Variants;
use crate::lower::Lowered;
use dwell_card::meaning::{States, Value};
use std::collections::BTreeSet;
use std::rc::Rc;

/// All states that the walk came to for one combination of variants, by their nodes.
pub struct Possible {
    at: Vec<Vec<Rc<State>>>,
}

/// What was so when a node was come to.
#[derive(Clone, Copy, Debug)]
pub struct Seen<'a> {
    /// The state of each slot.
    pub slots: &'a [States],
    /// The latest value of each reading.
    pub values: &'a [Value],
    /// The answer to each question; none before it was asked.
    pub answers: &'a [States],
    /// The judging nodes that were out and are not settled.
    pub open: &'a BTreeSet<usize>,
    /// Whether somebody has stopped.
    pub stopped: bool,
}

/// Walks all ways for one combination of variants, and keeps what it came to.
pub fn possible(lowered: &Lowered, chosen: &[usize]) -> Possible {
    let live = Live::of(lowered);
    let mut reached = Reachable::nothing(lowered.card.nodes.len());
    let variants = Variants::of(lowered, &exits(lowered));
    let (entries, _) = explore(lowered, &live, &variants, &mut reached, &mut Report::default());
    let mut at = vec![Vec::new(); lowered.card.nodes.len()];
    for entry in entries {
        let values = chosen.iter().enumerate();
        let other =
            |(axis, value): (usize, &usize)| entry.vehicles.of(axis).is_some_and(|of| !of.contains(value));
        if values.into_iter().any(other) {
            continue;
        }
        if let Some(known) = at.get_mut(entry.node) {
            known.push(entry.state);
        }
    }
    Possible { at }
}

impl Possible {
    /// Whether some state at this node has room for what was seen; otherwise the reason why the nearest has none.
    ///
    /// # Errors
    /// A sentence that says what the analysis does not hold possible.
    pub fn allows(&self, lowered: &Lowered, node: usize, seen: &Seen<'_>) -> Result<(), String> {
        let all = self.at.get(node).map(Vec::as_slice).unwrap_or_default();
        let mut reason =
            format!("nothing leads to node {node}{}", if seen.stopped { " after a stop" } else { "" });
        let mut best = 0;
        for state in all {
            match misfit(lowered, state, seen) {
                None => return Ok(()),
                Some((rank, why)) if rank >= best => (best, reason) = (rank, why),
                Some(_) => {}
            }
        }
        Err(reason)
    }
}

/// What of it has no room in a state, and how far the comparison came.
fn misfit(lowered: &Lowered, state: &State, seen: &Seen<'_>) -> Option<(u32, String)> {
    let card = &lowered.card;
    if state.stopped != seen.stopped {
        return Some((0, "nobody has stopped in one of the two".to_owned()));
    }
    for (place, now) in seen.slots.iter().enumerate() {
        let may = state.slot(place);
        if !now.within(may) {
            let label = card.slots.get(place).map_or("", |slot| slot.label.as_str());
            return Some((1, format!("slot {place}, {label}: is {now:?}, may be {may:?}")));
        }
    }
    for (place, now) in seen.answers.iter().enumerate() {
        let may = state.answers.get(place).copied().unwrap_or_default();
        if !may.is_empty() && !now.within(may) {
            return Some((2, format!("answer {place}: is {now:?}, may be {may:?}")));
        }
    }
    for (place, (now, known)) in seen.values.iter().zip(&card.readings).enumerate() {
        let may = state.readings.get(place).unwrap_or(&Value::Missing);
        if known.formula.is_none() && !may.room().has(now) {
            return Some((3, format!("reading {place}, {}: is {now:?}, may be {may:?}", known.name)));
        }
    }
    if seen.stopped {
        return None;
    }
    let in_frame = |judge: &usize, frame| card.nodes.get(*judge).is_some_and(|node| node.frame == frame);
    state.frames.iter().find_map(|opened| {
        let may = opened.failed || state.open.iter().any(|judge| in_frame(judge, opened.frame));
        let is = seen.open.iter().any(|judge| in_frame(judge, opened.frame));
        (may != is).then(|| (4, format!("frame {}: out is {is}, the analysis has {may}", opened.frame)))
    })
}
