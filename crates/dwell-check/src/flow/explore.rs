//! The walk: nodes and states, nearest first, so that every witness is a short way.

use super::effect::{Effects, effects};
use super::live::Live;
use super::report::Report;
use super::state::State;
use super::witness::Trail;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Way};
use dwell_card::meaning::Value;
use std::collections::{HashMap, HashSet, VecDeque};
use std::rc::Rc;

/// How many states of one node are kept apart before they are joined.
const APART: usize = 64;

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
    reached: &mut [bool],
    found: &mut Report,
) {
    let mut walk = Walk::default();
    walk.arrive(lowered, live, 0, State::first(lowered), None);
    while let Some(entry) = walk.waiting.pop_front() {
        let Some((node, state)) = walk.entries.get(entry).map(|entry| (entry.node, Rc::clone(&entry.state)))
        else {
            continue;
        };
        if let Some(seen) = reached.get_mut(node) {
            *seen = true;
        }
        let Effects { ways, faults } = effects(lowered, chosen, node, &state);
        for fault in faults {
            let trail = Trail { entries: &walk.entries, last: entry };
            found.add(fault, node, chosen, lowered, &trail);
        }
        for (way, after) in ways {
            let to = lowered.card.nodes.get(node).and_then(|node| node.next.get(&way)).copied();
            if let Some(to) = to {
                walk.arrive(lowered, live, to, after, Some((entry, way)));
            }
        }
    }
}

#[derive(Default)]
struct Walk {
    entries: Vec<Reached>,
    waiting: VecDeque<usize>,
    seen: HashMap<usize, HashSet<Rc<State>>>,
    joined: HashMap<usize, Vec<State>>,
}

impl Walk {
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
        if seen.contains(&state) {
            return;
        }
        let state = if seen.len() < APART {
            state
        } else {
            let joined = self.joined.entry(node).or_default();
            match joined.iter_mut().find(|known| known.joins(&state)) {
                Some(known) => {
                    let before = known.clone();
                    known.join(&state);
                    if *known == before {
                        return;
                    }
                    known.clone()
                }
                None => {
                    joined.push(state.clone());
                    state
                }
            }
        };
        let state = Rc::new(state);
        seen.insert(Rc::clone(&state));
        self.waiting.push_back(self.entries.len());
        self.entries.push(Reached { node, state, from, decided });
    }
}

/// Drops what nothing looks at any more.
fn forget(state: &mut State, live: &Live, node: usize, lowered: &Lowered) {
    if let Some(wanted) = live.readings.get(node) {
        for (reading, value) in state.readings.iter_mut().enumerate() {
            let computed = lowered.card.readings.get(reading).is_some_and(|known| known.formula.is_some());
            if !wanted.contains(&reading) && *value != Value::Missing && !computed {
                *value = Value::unknown();
            }
        }
    }
    if let Some(wanted) = live.answers.get(node) {
        for (question, answer) in state.answers.iter_mut().enumerate() {
            if !wanted.contains(&question) {
                *answer = dwell_card::meaning::States::default();
            }
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
