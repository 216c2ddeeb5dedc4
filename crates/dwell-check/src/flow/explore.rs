//! The walk: nodes and states, nearest first, so that every witness is a short way.

use super::effect::{Effects, effects};
use super::live::Live;
use super::quick::Quickly;
use super::reachable::Reachable;
use super::report::Report;
use super::state::State;
use super::variants::{MOST, Variants};
use super::vehicles::Vehicles;
use super::witness::Trail;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Way};
use dwell_card::meaning::{Truth, Value, skipped};
use std::collections::{HashMap, VecDeque};
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
    /// The vehicles that reach it so. What nothing asks for any more is forgotten: all values are in it.
    pub(super) vehicles: Vehicles,
    /// Where it was reached from, in the order found: those of before it was walked on from.
    pub(super) links: Vec<Link>,
    /// Where it was reached from again, by vehicles that were known to reach it so.
    pub(super) again: Vec<Link>,
}

/// One step from an entry to the next.
#[derive(Clone, Debug)]
pub(super) struct Link {
    /// The entry before.
    pub(super) from: usize,
    /// The way taken.
    pub(super) way: Way,
    /// The vehicles that take it.
    pub(super) vehicles: Vehicles,
    /// What the node decided: the state with all that is forgotten once nothing looks at it any more.
    pub(super) decided: Option<Rc<State>>,
}

/// Walks all ways for these vehicles. All that it came to comes back, and whether all could be walked: where more than [`MOST`] sets of vehicles are apart at
/// one node, the rest is left out.
pub(super) fn explore(
    lowered: &Lowered,
    live: &Live,
    variants: &Variants,
    reached: &mut Reachable,
    found: &mut Report,
) -> (Vec<Reached>, bool) {
    let mut walk = Walk::new(lowered, live, variants);
    walk.arrive(0, State::first(lowered), None);
    let exits = exits(lowered);
    while let Some(entry) = walk.next() {
        let Some(Reached { node, state, vehicles, .. }) = walk.entries.get(entry) else { continue };
        let (node, state, vehicles) = (*node, Rc::clone(state), vehicles.clone());
        reached.come(node);
        for part in variants.parted(&vehicles, node) {
            let Effects { ways, faults, left_out } = effects(lowered, &part.first(), node, &state);
            if !left_out {
                found.worked(node);
            }
            for fault in faults {
                let trail = Trail { entries: &walk.entries, last: entry, vehicles: &part };
                found.add(fault, node, lowered, &trail);
            }
            for (way, after) in ways {
                let to = lowered.card.nodes.get(node).and_then(|node| node.next.get(&way)).copied();
                if let Some(to) = to {
                    if !state.stopped {
                        reached.gone(node, way);
                    }
                    let link = Link { from: entry, way, vehicles: part.clone(), decided: None };
                    walk.arrive(to, after, Some(link));
                }
            }
        }
        let lost = lowered.card.nodes.get(node).and_then(|node| node.next.get(&Way::Lost));
        if let (Some(to), true) = (lost, asks(lowered, node, &state)) {
            if !state.stopped {
                reached.gone(node, Way::Lost);
            }
            let link = Link { from: entry, way: Way::Lost, vehicles: vehicles.clone(), decided: None };
            walk.losses.push_back((*to, State::clone(&state), link));
        }
        if let Some((to, after)) = stopped(lowered, &exits, node, &state) {
            walk.stops.push_back((to, after, Link { from: entry, way: Way::Then, vehicles, decided: None }));
        }
        while walk.waiting.is_empty() {
            let next = walk.losses.pop_front().or_else(|| walk.stops.pop_front());
            let Some((to, after, link)) = next else { break };
            walk.arrive(to, after, Some(link));
        }
    }
    found.reached_by(&walk.entries, &variants.all);
    let complete = !walk.too_many;
    (walk.entries, complete)
}

/// For each frame the node that every way out of it passes before `restore`.
pub(super) fn exits(lowered: &Lowered) -> Vec<Option<usize>> {
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
pub(super) fn asks(lowered: &Lowered, node: usize, state: &State) -> bool {
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

/// What is known of one node.
#[derive(Default)]
struct Known {
    /// Each state with the entries that have it.
    seen: HashMap<Rc<State>, Vec<usize>, Quickly>,
    /// How many states each set of vehicles has.
    counts: Vec<(Vehicles, usize)>,
    /// The joined states, each with its vehicles and its last entry.
    joined: Vec<(Vehicles, State, usize)>,
}

impl Known {
    /// In how many states some of these vehicles reached the node.
    fn states(&self, vehicles: &Vehicles) -> usize {
        if self.seen.len() < APART {
            return self.seen.len();
        }
        self.counts.iter().filter(|(set, _)| set.both(vehicles).is_some()).map(|(_, count)| count).sum()
    }

    fn note(&mut self, state: &Rc<State>, vehicles: &Vehicles, entry: usize) {
        self.seen.entry(Rc::clone(state)).or_default().push(entry);
        self.count(vehicles);
    }

    /// The vehicles of a state are more now.
    fn are_now(&mut self, before: &Vehicles, after: &Vehicles) {
        if let Some(place) = self.counts.iter().position(|(set, _)| set == before) {
            match self.counts.get_mut(place) {
                Some((_, count)) if *count > 1 => *count -= 1,
                _ => drop(self.counts.swap_remove(place)),
            }
        }
        self.count(after);
    }

    fn count(&mut self, vehicles: &Vehicles) {
        match self.counts.iter_mut().find(|(set, _)| set == vehicles) {
            Some((_, count)) => *count += 1,
            None => self.counts.push((vehicles.clone(), 1)),
        }
    }
}

struct Walk<'a> {
    lowered: &'a Lowered,
    live: &'a Live,
    variants: &'a Variants,
    entries: Vec<Reached>,
    waiting: VecDeque<usize>,
    nodes: Vec<Known>,
    /// Whether more sets of vehicles were apart at one node than may be.
    too_many: bool,
    /// Where what is held may be lost; looked at when all ways without that are walked.
    losses: VecDeque<(usize, State, Link)>,
    /// Where somebody may stop; looked at when all other ways are walked, so that a witness stops only where it must.
    stops: VecDeque<(usize, State, Link)>,
}

impl<'a> Walk<'a> {
    fn new(lowered: &'a Lowered, live: &'a Live, variants: &'a Variants) -> Walk<'a> {
        Walk {
            lowered,
            live,
            variants,
            entries: Vec::new(),
            waiting: VecDeque::new(),
            nodes: lowered.card.nodes.iter().map(|_| Known::default()).collect(),
            too_many: false,
            losses: VecDeque::new(),
            stops: VecDeque::new(),
        }
    }

    fn next(&mut self) -> Option<usize> {
        self.waiting.pop_front()
    }

    fn arrive(&mut self, node: usize, mut state: State, mut link: Option<Link>) {
        let vehicles = link.as_ref().map_or(&self.variants.all, |link| &link.vehicles);
        let vehicles = self.variants.forgotten(vehicles, node);
        if let Some(link) = &mut link
            && let Some(before) = self.entries.get(link.from)
            && let Some(before) = self.lowered.card.nodes.get(before.node)
            && matches!(before.act, Act::Judge(_) | Act::Branch { .. })
        {
            link.decided = Some(Rc::new(state.clone()));
        }
        forget(&mut state, self.live, node, self.lowered);
        let Some(known) = self.nodes.get_mut(node) else { return };
        for entry in known.seen.get(&state).into_iter().flatten().copied() {
            let Some(there) = self.entries.get_mut(entry) else { continue };
            if vehicles.within(&there.vehicles) {
                there.again.extend(link.filter(|_| self.variants.tell));
                return;
            }
            let walked_on = self.waiting.front().is_none_or(|front| *front > entry);
            if let (false, Some(both)) = (walked_on, there.vehicles.together(&vehicles)) {
                known.are_now(&there.vehicles, &both);
                there.vehicles = both;
                there.links.extend(link);
                return;
            }
        }
        let entry = self.entries.len();
        let state = if known.states(&vehicles) < APART {
            Rc::new(state)
        } else {
            let closely = known.joined.iter().filter(|(set, ..)| *set == vehicles).count() < CLASSES;
            let fits = |(set, known, _): &&mut (Vehicles, State, usize)| {
                *set == vehicles && known.joins(&state, closely)
            };
            match known.joined.iter_mut().find(fits) {
                Some((_, all, last)) => {
                    let before = all.clone();
                    all.join(&state);
                    if *all == before {
                        if let Some(there) = self.entries.get_mut(*last) {
                            there.again.extend(link.filter(|_| self.variants.tell));
                        }
                        return;
                    }
                    *last = entry;
                    Rc::new(all.clone())
                }
                None => {
                    known.joined.push((vehicles.clone(), state.clone(), entry));
                    Rc::new(state)
                }
            }
        };
        if known.counts.len() >= MOST && !known.counts.iter().any(|(set, _)| *set == vehicles) {
            self.too_many = true;
            return;
        }
        known.note(&state, &vehicles, entry);
        self.waiting.push_back(entry);
        let links = link.into_iter().collect();
        self.entries.push(Reached { node, state, vehicles, links, again: Vec::new() });
    }
}

/// Drops what nothing looks at any more.
pub(super) fn forget(state: &mut State, live: &Live, node: usize, lowered: &Lowered) {
    if let Some(wanted) = live.readings.get(node) {
        for reading in 0..state.readings.len() {
            let computed = lowered.card.readings.get(reading).is_some_and(|known| known.formula.is_some());
            if !computed && !wanted.contains(&reading) {
                state.readings.set(reading, Value::unknown());
                if !state.judged.contains(&reading) {
                    state.moved.remove(&reading);
                }
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
    if let Some(wanted) = live.slots.get(node) {
        state.known.retain(|slot| wanted.contains(slot));
        state.touched.retain(|slot| wanted.contains(slot));
    }
    if let Some(wanted) = live.movable.get(node) {
        let State { judged, moved, .. } = state;
        judged.retain(|reading| moved.contains(reading) || wanted.contains(reading));
    }
    if let Some(wanted) = live.adjusted.get(node) {
        state.found_out.retain(|reading| wanted.contains(reading));
        state.early.retain(|reading| wanted.contains(reading));
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
