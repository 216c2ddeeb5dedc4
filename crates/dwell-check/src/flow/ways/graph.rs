//! The graph of all that the walk comes to: stands (a node in a state, with the rounds gone) and the ways between them.

use crate::flow::effect::effects;
use crate::flow::explore::{asks, forget};
use crate::flow::live::Live;
use crate::flow::quick::Quickly;
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Way};
use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet, BinaryHeap, HashMap};
use std::rc::Rc;

/// The most stands of one graph; ways that lead further are cut off.
const MOST_STANDS: usize = 20_000;

/// The most stands of one node.
const MOST_OF_NODE: usize = 400;

/// The most hops that are tried to find all ways.
const MOST_HOPS: usize = 400_000;

/// What one hop costs that is not the usual one.
const UNUSUAL: u64 = 200;

/// A node in a state.
struct Stand {
    node: usize,
    state: Rc<State>,
    counters: Rc<Vec<u32>>,
    /// Whether it asks whether a need holds.
    needs: bool,
    on: Vec<On>,
}

/// What tells stands of one node apart.
type Key = (Rc<State>, Rc<Vec<u32>>);

/// What a way over an edge costs, its stand, and its place among the ways on of that.
type Over = (u64, usize, usize);

/// A way on to another stand.
struct On {
    way: Way,
    to: usize,
    decided: Option<Rc<State>>,
}

/// One step of a way: a stand, the way taken from it, and what was decided there. The last one takes none.
#[derive(Clone)]
pub(super) struct Hop {
    pub(super) stand: usize,
    pub(super) way: Way,
    pub(super) decided: Option<Rc<State>>,
}

/// A way on from a node, with the stands and their ways on that are it.
pub(super) type Edge = ((usize, Way), Vec<(usize, usize)>);

/// The graph for one combination of variants.
pub(super) struct Graph {
    stands: Vec<Stand>,
    usual: Nearest,
    cut: bool,
}

/// The nearest ways.
#[derive(Default)]
struct Nearest {
    /// For each stand what the way to it costs, and from where it comes.
    there: Vec<(u64, Option<(usize, usize)>)>,
    /// For each stand what the way to an end costs, and on which of its ways it begins.
    back: Vec<(u64, Option<usize>)>,
}

/// Ways on from nodes that are not to be gone.
pub(super) type Avoided = BTreeSet<(usize, Way)>;

impl Graph {
    /// Walks all ways, nearest first.
    pub(super) fn of(lowered: &Lowered, chosen: &[usize]) -> Graph {
        let live = Live::of(lowered);
        let mut known: HashMap<usize, HashMap<Key, usize, Quickly>, Quickly> = HashMap::default();
        let first = State::first(lowered);
        let none = Rc::new(vec![0; lowered.card.counters.len()]);
        let mut stands =
            vec![Stand { node: 0, state: Rc::new(first), counters: none, needs: false, on: Vec::new() }];
        let (mut next, mut cut) = (0, false);
        while let Some(stand) = stands.get(next) {
            let (node, state, counters) = (stand.node, Rc::clone(&stand.state), Rc::clone(&stand.counters));
            let mut ons = Vec::new();
            for (way, after, counters) in onward(lowered, chosen, node, &state, &counters) {
                let to = lowered.card.nodes.get(node).and_then(|node| node.next.get(&way)).copied();
                let Some(to) = to else { continue };
                let decides = lowered.card.nodes.get(node).map(|node| &node.act);
                let decides = matches!(decides, Some(Act::Judge(_) | Act::Branch { .. }));
                let decided = decides.then(|| Rc::new(after.clone()));
                let (mut after, mut counters) = (after, counters);
                forget(&mut after, &live, to, lowered);
                if let Some(wanted) = live.counters.get(to) {
                    let over = counters.iter_mut().enumerate().filter(|(place, _)| !wanted.contains(place));
                    over.for_each(|(_, count)| *count = 0);
                }
                let key = (Rc::new(after), Rc::new(counters));
                let of_node = known.entry(to).or_default();
                let place = match of_node.get(&key) {
                    Some(place) => *place,
                    None if of_node.len() >= MOST_OF_NODE || stands.len() >= MOST_STANDS => {
                        cut = true;
                        continue;
                    }
                    None => {
                        let (state, counters) = (Rc::clone(&key.0), Rc::clone(&key.1));
                        let act = lowered.card.nodes.get(to).map(|node| &node.act);
                        let needs = matches!(act, Some(Act::Need { .. }));
                        stands.push(Stand { node: to, state, counters, needs, on: Vec::new() });
                        of_node.insert(key, stands.len() - 1);
                        stands.len() - 1
                    }
                };
                ons.push(On { way, to: place, decided });
            }
            if let Some(stand) = stands.get_mut(next) {
                stand.on = ons;
            }
            next += 1;
        }
        let mut graph = Graph { stands, usual: Nearest::default(), cut };
        graph.usual = graph.nearest(lowered, &Avoided::new());
        graph
    }

    /// Whether ways were cut off because there are too many.
    pub(super) fn is_cut(&self) -> bool {
        self.cut
    }

    /// The node and the state of a stand.
    pub(super) fn at(&self, stand: usize) -> Option<(usize, Rc<State>)> {
        self.stands.get(stand).map(|stand| (stand.node, Rc::clone(&stand.state)))
    }

    /// All ways on that a way to an end goes over, those of the usual ways first; with each its places, the usual first.
    pub(super) fn edges(&self) -> Vec<Edge> {
        let mut all: BTreeMap<(usize, Way), Vec<Over>> = BTreeMap::new();
        for (stand, from) in self.stands.iter().enumerate() {
            for (place, on) in from.on.iter().enumerate() {
                if let Some(cost) = self.cost_over(&self.usual, stand, place) {
                    all.entry((from.node, on.way)).or_default().push((cost, stand, place));
                }
            }
        }
        let mut edges: Vec<(u64, Edge)> = Vec::new();
        for (edge, mut places) in all {
            places.sort_unstable();
            let least = places.first().map_or(0, |(cost, ..)| *cost);
            edges.push((least, (edge, places.into_iter().map(|(_, stand, on)| (stand, on)).collect())));
        }
        edges.sort_by_key(|(cost, (edge, _))| (*cost, *edge));
        edges.into_iter().map(|(_, edge)| edge).collect()
    }

    /// What a way over one way on of a stand costs; nothing where there is none.
    fn cost_over(&self, nearest: &Nearest, stand: usize, on: usize) -> Option<u64> {
        let from = self.stands.get(stand)?;
        let over = from.on.get(on)?;
        let (there, back) = (nearest.there.get(stand)?.0, nearest.back.get(over.to)?.0);
        (there < u64::MAX && back < u64::MAX)
            .then(|| there.saturating_add(back).saturating_add(from.cost(over.way)))
    }

    /// The usual way over one way on of a stand, to an end.
    pub(super) fn way_over(&self, stand: usize, on: usize) -> Option<Vec<Hop>> {
        self.over(&self.usual, stand, on)
    }

    /// The nearest way over one of these ways on that avoids others.
    pub(super) fn way_around(
        &self,
        lowered: &Lowered,
        places: &[(usize, usize)],
        avoided: &Avoided,
    ) -> Option<Vec<Hop>> {
        let nearest = self.nearest(lowered, avoided);
        let costs = places
            .iter()
            .filter_map(|(stand, on)| Some((self.cost_over(&nearest, *stand, *on)?, *stand, *on)));
        let (_, stand, on) = costs.min()?;
        self.over(&nearest, stand, on)
    }

    fn nearest(&self, lowered: &Lowered, avoided: &Avoided) -> Nearest {
        Nearest { there: self.ways_there(avoided), back: self.ways_on(lowered, avoided) }
    }

    fn over(&self, nearest: &Nearest, stand: usize, on: usize) -> Option<Vec<Hop>> {
        let mut hops = Vec::new();
        let mut now = stand;
        while let Some((from, on)) = nearest.there.get(now)?.1 {
            hops.push(self.hop(from, on)?);
            now = from;
        }
        hops.reverse();
        hops.push(self.hop(stand, on)?);
        let mut now = self.stands.get(stand)?.on.get(on)?.to;
        while let Some(on) = nearest.back.get(now)?.1 {
            hops.push(self.hop(now, on)?);
            now = self.stands.get(now)?.on.get(on)?.to;
        }
        hops.push(Hop { stand: now, way: Way::Then, decided: None });
        Some(hops)
    }

    /// Shows every way, usual ones first, until `most` were taken; whether those were all.
    pub(super) fn every_way(&self, most: usize, takes: &mut dyn FnMut(&[Hop]) -> bool) -> bool {
        let (mut taken, mut tried) = (0, 0);
        let mut hops: Vec<Hop> = Vec::new();
        let mut open: Vec<(usize, Vec<usize>)> = vec![(0, self.in_order(0))];
        while let Some((stand, left)) = open.last_mut() {
            let stand = *stand;
            tried += 1;
            if taken >= most || tried > MOST_HOPS {
                return false;
            }
            let is_end = self.stands.get(stand).is_some_and(|stand| stand.on.is_empty());
            if is_end {
                hops.push(Hop { stand, way: Way::Then, decided: None });
                taken += usize::from(takes(&hops));
                hops.pop();
            }
            let on = left.pop();
            match on.and_then(|on| Some((self.hop(stand, on)?, self.stands.get(stand)?.on.get(on)?.to))) {
                Some((hop, to)) => {
                    hops.push(hop);
                    open.push((to, self.in_order(to)));
                }
                None => {
                    open.pop();
                    hops.pop();
                }
            }
        }
        true
    }

    /// The ways on of a stand that lead to an end, the usual one last.
    fn in_order(&self, stand: usize) -> Vec<usize> {
        let Some(from) = self.stands.get(stand) else { return Vec::new() };
        let mut all: Vec<(u64, usize)> = from
            .on
            .iter()
            .enumerate()
            .filter_map(|(place, on)| {
                let back = self.usual.back.get(on.to)?.0;
                (back < u64::MAX).then(|| (back.saturating_add(from.cost(on.way)), place))
            })
            .collect();
        all.sort_unstable_by(|one, other| other.cmp(one));
        all.into_iter().map(|(_, place)| place).collect()
    }

    fn hop(&self, stand: usize, on: usize) -> Option<Hop> {
        let on = self.stands.get(stand)?.on.get(on)?;
        Some(Hop { stand, way: on.way, decided: on.decided.clone() })
    }

    /// The nearest ways from the beginning to every stand (Dijkstra).
    fn ways_there(&self, avoided: &Avoided) -> Vec<(u64, Option<(usize, usize)>)> {
        let mut all = vec![(u64::MAX, None); self.stands.len()];
        let mut waiting = BinaryHeap::from([Reverse((0_u64, 0_usize))]);
        if let Some(first) = all.first_mut() {
            first.0 = 0;
        }
        while let Some(Reverse((cost_here, stand))) = waiting.pop() {
            let Some(from) = self.stands.get(stand) else { continue };
            if all.get(stand).is_none_or(|(known, _)| *known < cost_here) {
                continue;
            }
            for (place, on) in from.on.iter().enumerate() {
                let cost = cost_here.saturating_add(from.cost(on.way));
                if avoided.contains(&(from.node, on.way)) {
                    continue;
                }
                if let Some(known) = all.get_mut(on.to)
                    && cost < known.0
                {
                    *known = (cost, Some((stand, place)));
                    waiting.push(Reverse((cost, on.to)));
                }
            }
        }
        all
    }

    /// The nearest ways from every stand to an end (Dijkstra, backwards).
    fn ways_on(&self, lowered: &Lowered, avoided: &Avoided) -> Vec<(u64, Option<usize>)> {
        let mut before: Vec<Vec<(usize, usize)>> = vec![Vec::new(); self.stands.len()];
        let mut all = vec![(u64::MAX, None); self.stands.len()];
        let mut waiting = BinaryHeap::new();
        for (stand, from) in self.stands.iter().enumerate() {
            for (place, on) in from.on.iter().enumerate() {
                if let Some(known) = before.get_mut(on.to) {
                    known.push((stand, place));
                }
            }
            let act = lowered.card.nodes.get(from.node).map(|node| &node.act);
            if let (Some(Act::Finish), Some(known)) = (act, all.get_mut(stand)) {
                known.0 = 0;
                waiting.push(Reverse((0_u64, stand)));
            }
        }
        while let Some(Reverse((cost_here, stand))) = waiting.pop() {
            if all.get(stand).is_none_or(|(known, _)| *known < cost_here) {
                continue;
            }
            for (from, place) in before.get(stand).into_iter().flatten() {
                let Some(known_from) = self.stands.get(*from) else { continue };
                let Some(on) = known_from.on.get(*place) else { continue };
                if avoided.contains(&(known_from.node, on.way)) {
                    continue;
                }
                let cost = cost_here.saturating_add(known_from.cost(on.way));
                if let Some(known) = all.get_mut(*from)
                    && cost < known.0
                {
                    *known = (cost, Some(*place));
                    waiting.push(Reverse((cost, *from)));
                }
            }
        }
        all
    }
}

impl Stand {
    /// What a way on costs: what is usual costs little.
    fn cost(&self, way: Way) -> u64 {
        match way {
            Way::No if self.needs => 4 * UNUSUAL,
            Way::Then | Way::Yes | Way::In | Way::Passed => 1,
            Way::No | Way::Again => UNUSUAL / 4,
            Way::Out | Way::Spent | Way::Failed | Way::Unfinished | Way::Referred => UNUSUAL,
            Way::NoReading | Way::Lost => 2 * UNUSUAL,
        }
    }
}

/// What can follow a node, with the rounds counted.
fn onward(
    lowered: &Lowered,
    chosen: &[usize],
    node: usize,
    state: &State,
    counters: &[u32],
) -> Vec<(Way, State, Vec<u32>)> {
    let Some(this) = lowered.card.nodes.get(node) else { return Vec::new() };
    let mut counters = counters.to_vec();
    let mut out = Vec::new();
    match &this.act {
        Act::Count { counter } => {
            let most = lowered.card.counters.get(*counter).copied().unwrap_or_default();
            let mut after = state.clone();
            match counters.get_mut(*counter).filter(|used| **used < most) {
                Some(used) => {
                    *used += 1;
                    after.rounds.insert(*counter);
                    out.push((Way::Again, after, counters));
                }
                None => out.push((Way::Spent, after, counters)),
            }
            return out;
        }
        Act::Begin { counter } => {
            if let Some(used) = counters.get_mut(*counter) {
                *used = 0;
            }
        }
        Act::Open => {
            let frame = lowered.card.nodes.iter().filter(|node| node.frame == this.frame);
            for counted in frame {
                if let Act::Count { counter } = &counted.act
                    && let Some(used) = counters.get_mut(*counter)
                {
                    *used = 0;
                }
            }
        }
        _ => {}
    }
    for (way, after) in effects(lowered, chosen, node, state).ways {
        out.push((way, after, counters.clone()));
    }
    if this.next.contains_key(&Way::Lost) && asks(lowered, node, state) {
        out.push((Way::Lost, state.clone(), counters));
    }
    out
}
