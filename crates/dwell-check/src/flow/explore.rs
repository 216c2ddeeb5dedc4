//! The walk: nodes and states, nearest first, so that every witness is a short way.

use super::effect::{Effects, effects};
use super::live::Live;
use super::quick::Quickly;
use super::reachable::Reachable;
use super::report::Report;
use super::state::State;
use super::witness::Trail;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Way};
use dwell_card::meaning::{Truth, Value, skipped};
use std::collections::{HashMap, HashSet, VecDeque};
use std::rc::Rc;

/// How many states of one node are kept apart before they are joined.
const APART: usize = 64;

/// How many joined states of one node are kept apart by the states that things are in, which is what debts hang on.
const CLASSES: usize = 256;

/// A node reached in a state, and from where.
pub(super) struct Reached {
    /// The node.
    pub(super) node: usize,
    /// The state before it.
    pub(super) state: Rc<State>,
    /// The entry it was reached from, and the way taken.
    pub(super) from: Option<(usize, Way)>,
    /// What the node before it decided: the state with all that is forgotten once nothing looks at it any more.
    pub(super) decided: Option<Rc<State>>,
}

/// Walks all ways for one combination of variants.
pub(super) fn explore(
    lowered: &Lowered,
    live: &Live,
    chosen: &[usize],
    reached: &mut Reachable,
    found: &mut Report,
) {
    let mut walk = Walk::default();
    walk.arrive(lowered, live, 0, State::first(lowered), None);
    let exits = exits(lowered);
    while let Some(entry) = walk.next() {
        let Some((node, state)) = walk.entries.get(entry).map(|entry| (entry.node, Rc::clone(&entry.state)))
        else {
            continue;
        };
        reached.come(node);
        let Effects { ways, faults, left_out } = effects(lowered, chosen, node, &state);
        if !left_out {
            found.worked(node);
        }
        for fault in faults {
            let trail = Trail { entries: &walk.entries, last: entry };
            found.add(fault, node, chosen, lowered, &trail);
        }
        for (way, after) in ways {
            let to = lowered.card.nodes.get(node).and_then(|node| node.next.get(&way)).copied();
            if let Some(to) = to {
                if !state.stopped {
                    reached.gone(node, way);
                }
                walk.arrive(lowered, live, to, after, Some((entry, way)));
            }
        }
        let lost = lowered.card.nodes.get(node).and_then(|node| node.next.get(&Way::Lost));
        if let (Some(to), true) = (lost, asks(lowered, node, &state)) {
            if !state.stopped {
                reached.gone(node, Way::Lost);
            }
            walk.losses.push_back((*to, State::clone(&state), entry));
        }
        if let Some((to, after)) = stopped(lowered, &exits, node, &state) {
            walk.stops.push_back((to, after, entry));
        }
        while walk.waiting.is_empty() {
            let lost = walk.losses.pop_front().map(|next| (next, Way::Lost));
            let next = lost.or_else(|| walk.stops.pop_front().map(|next| (next, Way::Then)));
            let Some(((to, after, entry), way)) = next else { break };
            walk.arrive(lowered, live, to, after, Some((entry, way)));
        }
    }
}

/// For each frame the node that every way out of it passes before `restore`.
fn exits(lowered: &Lowered) -> Vec<Option<usize>> {
    let nodes = &lowered.card.nodes;
    let mut exits = vec![None; lowered.card.frames.len()];
    for (at, node) in nodes.iter().enumerate() {
        let to = node.next.get(&Way::Then).and_then(|to| nodes.get(*to));
        if matches!(node.act, Act::Uncover { .. })
            && to.is_some_and(|to| matches!(to.act, Act::Restore))
            && let Some(exit) = exits.get_mut(node.frame)
        {
            *exit = Some(at);
        }
    }
    exits
}

/// Whether somebody is asked for something at a node, in a state.
fn asks(lowered: &Lowered, node: usize, state: &State) -> bool {
    let Some(this) = lowered.card.nodes.get(node) else { return false };
    match &this.act {
        Act::Need { required, proved, .. } => !proved && !state.known.contains(&required.slot),
        Act::Work(known) => skipped(known, &state.slots) != Truth::Yes,
        other => other.asks(),
    }
}

/// Where somebody may stop: the node to go on at, and in what state. It is the same for all that was decided before, so that
/// is forgotten.
fn stopped(lowered: &Lowered, exits: &[Option<usize>], node: usize, state: &State) -> Option<(usize, State)> {
    let this = lowered.card.nodes.get(node)?;
    if state.stopped || !asks(lowered, node, state) {
        return None;
    }
    let mut after = state.clone();
    after.stop();
    let restoring = after.frames.last().is_some_and(|frame| frame.restoring);
    let to = if restoring { node } else { exits.get(this.frame).copied().flatten()? };
    Some((to, after))
}

#[derive(Default)]
struct Walk {
    entries: Vec<Reached>,
    waiting: VecDeque<usize>,
    seen: HashMap<usize, HashSet<Rc<State>, Quickly>, Quickly>,
    joined: HashMap<usize, Vec<State>, Quickly>,
    /// Where what is held may be lost; looked at when all ways without that are walked.
    losses: VecDeque<(usize, State, usize)>,
    /// Where somebody may stop; looked at when all other ways are walked, so that a witness stops only where it must.
    stops: VecDeque<(usize, State, usize)>,
}

impl Walk {
    fn next(&mut self) -> Option<usize> {
        self.waiting.pop_front()
    }

    fn arrive(
        &mut self,
        lowered: &Lowered,
        live: &Live,
        node: usize,
        mut state: State,
        from: Option<(usize, Way)>,
    ) {
        let before = from.and_then(|(entry, _)| self.entries.get(entry)).map(|entry| entry.node);
        let decides = before
            .and_then(|before| lowered.card.nodes.get(before))
            .is_some_and(|node| matches!(node.act, Act::Judge(_) | Act::Branch { .. }));
        let decided = decides.then(|| Rc::new(state.clone()));
        forget(&mut state, live, node, lowered);
        let seen = self.seen.entry(node).or_default();
        let state = if seen.len() < APART {
            Rc::new(state)
        } else {
            if seen.contains(&state) {
                return;
            }
            let joined = self.joined.entry(node).or_default();
            let closely = joined.len() < CLASSES;
            match joined.iter_mut().find(|known| known.joins(&state, closely)) {
                Some(known) => {
                    let before = known.clone();
                    known.join(&state);
                    if *known == before {
                        return;
                    }
                    Rc::new(known.clone())
                }
                None => {
                    joined.push(state.clone());
                    Rc::new(state)
                }
            }
        };
        if !seen.insert(Rc::clone(&state)) && seen.len() < APART {
            return;
        }
        self.waiting.push_back(self.entries.len());
        self.entries.push(Reached { node, state, from, decided });
    }
}

/// Drops what nothing looks at any more.
fn forget(state: &mut State, live: &Live, node: usize, lowered: &Lowered) {
    if let Some(wanted) = live.readings.get(node) {
        for reading in 0..state.readings.len() {
            let computed = lowered.card.readings.get(reading).is_some_and(|known| known.formula.is_some());
            let is_there = state.readings.get(reading).is_some_and(|value| *value != Value::Missing);
            if is_there && !computed && !wanted.contains(&reading) {
                state.readings.set(reading, Value::unknown());
            }
        }
    }
    if let Some(wanted) = live.answers.get(node) {
        for question in (0..state.answers.len()).filter(|question| !wanted.contains(question)) {
            state.answers.set(question, dwell_card::meaning::States::default());
        }
    }
    if let Some(wanted) = live.settled.get(node) {
        let over: Vec<usize> = state.open.iter().copied().filter(|judge| !wanted.contains(judge)).collect();
        for judge in over {
            state.open.remove(&judge);
            let frame = lowered.card.nodes.get(judge).map(|node| node.frame);
            if let Some(opened) = state.frames.iter_mut().find(|opened| Some(opened.frame) == frame) {
                opened.failed = true;
            }
        }
    }
    if let Some(wanted) = live.counters.get(node) {
        state.rounds.retain(|counter| wanted.contains(counter));
    }
    if let (Some(wanted), Some((judge, _))) = (live.judges.get(node), &state.last)
        && !wanted.contains(judge)
    {
        state.last = None;
    }
}
