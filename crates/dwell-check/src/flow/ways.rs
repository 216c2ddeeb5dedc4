//! The ways through a card from its beginning to its end: so many that every branch is on one of them, or all of them.
//!
//! The walk is that of the analysis, with one thing more: it counts how often each loop has gone round, so that a way that it
//! finds goes round as often as the runner would. Nobody stops on these ways.

mod graph;

use super::effect::outcome;
use super::explore::{Link, Reached, exits};
use super::reachable::Reachable;
use super::variants::{MOST, Variants};
use super::vehicles::Vehicles;
use super::witness::{Trail, traced};
use crate::finding::Witness;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Outcome, Test, Way};
use dwell_card::limit::Formula;
use dwell_card::meaning::{Truth, guard_holds};
use graph::{Avoided, Graph, Hop};
use std::collections::HashSet;

/// One way from the beginning to the end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Through {
    /// Its nodes, and the answers that make the runner take it.
    pub witness: Witness,
    /// What is answered and read on it, each in words: "tension is 29.5 Hz (low)".
    pub told: Vec<String>,
    /// How the procedure ends; adjusted and passed is passed.
    pub ends: Outcome,
    /// Whether every decision on it hangs on one reading or answer by itself, so that the answers surely lead along it. Where
    /// formulas, tables or samples decide, the way is possible as far as the analysis can tell, and other values may be needed.
    pub sure: bool,
}

/// How many ways are tried for a branch whose first one was not taken.
const TRIES: usize = 3;

/// How often a way is tried that goes around what was not taken.
const MOST_AROUND: usize = 8;

/// The combinations of variants whose ways differ, for each axis the place of its value; a variant that nothing asks for has its
/// first value.
pub fn combinations(lowered: &Lowered) -> Vec<Vec<usize>> {
    let variants = Variants::of(lowered, &exits(lowered));
    let mut all: Vec<Vec<usize>> = vec![Vec::new()];
    for (place, axis) in lowered.card.axes.iter().enumerate() {
        let count = if variants.asks(place) { axis.values.len() } else { axis.values.len().min(1) };
        let with = |chosen: Vec<usize>| {
            (0..count).map(move |value| chosen.iter().copied().chain([value]).collect::<Vec<usize>>())
        };
        all = all.into_iter().flat_map(with).take(MOST).collect();
    }
    all
}

/// How much trouble is worth taking with a way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Effort {
    /// Others may lead over the same branch.
    Little,
    /// No other is left.
    All,
}

/// Shows `takes` ways until every way on from every node is on one that it takes, the usual ones first. Where it does not take
/// one, it says which decisions stand against it, the likeliest first; then a few others are tried and ways around those
/// decisions, and the first one once more with all effort. The ways on that are on none come back.
pub fn covering(
    lowered: &Lowered,
    chosen: &[usize],
    takes: &mut dyn FnMut(Through, Effort) -> Result<(), Vec<(usize, Way)>>,
) -> Vec<(usize, Way)> {
    let graph = Graph::of(lowered, chosen);
    let mut covered: HashSet<(usize, Way)> = HashSet::new();
    let mut tried: HashSet<Vec<(usize, Way)>> = HashSet::new();
    let mut open = Vec::new();
    for (edge, places) in graph.edges() {
        if covered.contains(&edge) {
            continue;
        }
        let mut against: Vec<(usize, Way)> = Vec::new();
        let mut taken = |hops: Vec<Hop>, effort, against: &mut Vec<(usize, Way)>| {
            let through = through(&graph, &hops, lowered, chosen);
            let nodes = through.witness.nodes.clone();
            if !tried.insert(nodes.clone()) && effort == Effort::Little {
                return false;
            }
            match takes(through, effort) {
                Ok(()) => covered.extend(nodes),
                Err(why) => *against = why,
            }
            covered.contains(&edge)
        };
        let usual = places.iter().take(TRIES).filter_map(|(stand, on)| graph.way_over(*stand, *on));
        let mut done = usual.into_iter().any(|hops| taken(hops, Effort::Little, &mut against));
        let mut avoided = Avoided::new();
        for _ in 0..MOST_AROUND {
            let next = against.iter().find(|other| **other != edge && !avoided.contains(other)).copied();
            let Some(next) = next.filter(|_| !done) else { break };
            avoided.insert(next);
            match graph.way_around(lowered, &places, &avoided) {
                Some(hops) => done = taken(hops, Effort::Little, &mut against),
                // There is no way to an end without it.
                None => {
                    avoided.remove(&next);
                    against.retain(|other| *other != next);
                }
            }
        }
        let first = places.first().filter(|_| !done);
        if let Some(hops) = first.and_then(|(stand, on)| graph.way_over(*stand, *on)) {
            done = taken(hops, Effort::All, &mut against);
        }
        if !done {
            open.push(edge);
        }
    }
    open.retain(|edge| !covered.contains(edge));
    open
}

/// All ways, `most` at most; whether that were all comes back.
pub fn all(lowered: &Lowered, chosen: &[usize], most: usize, takes: &mut dyn FnMut(Through)) -> bool {
    let graph = Graph::of(lowered, chosen);
    let mut seen: HashSet<Vec<(usize, Way)>> = HashSet::new();
    let complete = graph.every_way(most, &mut |hops| {
        let through = through(&graph, hops, lowered, chosen);
        let is_new = seen.insert(through.witness.nodes.clone());
        if is_new {
            takes(through);
        }
        is_new
    });
    complete && !graph.is_cut()
}

/// Which ways on are on some way from the beginning to the end for these variants, as far as the walk goes.
pub fn reachable(lowered: &Lowered, chosen: &[usize]) -> Reachable {
    let mut reached = Reachable::nothing(lowered.card.nodes.len());
    for ((node, way), _) in Graph::of(lowered, chosen).edges() {
        reached.come(node);
        reached.gone(node, way);
    }
    reached
}

/// A way of the graph with its answers and words.
fn through(graph: &Graph, hops: &[Hop], lowered: &Lowered, chosen: &[usize]) -> Through {
    let vehicles = Vehicles::all(lowered.card.axes.iter().map(|axis| axis.values.len()));
    let mut entries: Vec<Reached> = Vec::new();
    for (place, hop) in hops.iter().enumerate() {
        let Some((node, state)) = graph.at(hop.stand) else { continue };
        let before = place.checked_sub(1).and_then(|before| Some((before, hops.get(before)?)));
        let link = before.map(|(from, hop)| Link {
            from,
            way: hop.way,
            vehicles: vehicles.clone(),
            decided: hop.decided.clone(),
        });
        let links = link.into_iter().collect();
        entries.push(Reached { node, state, vehicles: vehicles.clone(), links, again: Vec::new() });
    }
    let trail = Trail { entries: &entries, last: entries.len().saturating_sub(1), vehicles: &vehicles };
    let (witness, told) = traced(&trail, chosen, lowered);
    let ends = entries.iter().rev().find_map(|entry| {
        let node = lowered.card.nodes.get(entry.node)?;
        let closes = matches!(node.act, Act::Close) && node.frame == 0;
        Some(outcome(lowered, 0, entry.state.frames.last().filter(|_| closes)?, &entry.state))
    });
    let ends = ends.unwrap_or(Outcome::Unfinished);
    let sure = entries.iter().all(|entry| decides_surely(entry, chosen, lowered));
    Through { witness, told, ends, sure }
}

/// Whether what a node decides hangs on nothing but single readings, answers, variants and states that are known there.
fn decides_surely(entry: &Reached, chosen: &[usize], lowered: &Lowered) -> bool {
    let measured = |formula: &Formula| match formula {
        Formula::Latest(reading) => {
            lowered.card.readings.get(*reading).is_some_and(|known| known.formula.is_none())
        }
        _ => false,
    };
    let simple = |test: &Test| match test {
        Test::Meets { value, at: None, misses: false, limit, .. } => {
            let known = lowered.card.limits.get(*limit);
            measured(value) && !lowered.card.guarded && known.is_some_and(|known| known.rows.is_empty())
        }
        Test::Within { value, low, high, .. } => {
            let ends = [low, high].into_iter().flatten();
            measured(value) && ends.into_iter().all(|(end, _)| matches!(end, Formula::Value(_)))
        }
        Test::Guard { guard, .. } => guard_holds(guard, chosen, &entry.state.slots) != Truth::Maybe,
        Test::Answer { .. } | Test::Side { .. } => true,
        _ => false,
    };
    match lowered.card.nodes.get(entry.node).map(|node| &node.act) {
        Some(Act::Judge(judge)) => judge.condition.tests.iter().all(simple),
        Some(Act::Branch { condition }) => condition.tests.iter().all(simple),
        Some(Act::Measure(measure)) => measure.sampling.is_none(),
        Some(Act::Work(work)) => work.worked_out.is_none(),
        Some(Act::Choose(_)) => false,
        _ => true,
    }
}
