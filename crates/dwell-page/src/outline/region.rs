//! One part of a procedure: the nodes from its beginning to where another part begins, read as lines.

use super::{Arm, Graph, Leads, Line};
use crate::words::is_side;
use dwell_card::graph::Act;
use dwell_card::ways::{Dominators, Ways};
use std::collections::{BTreeMap, BTreeSet};

/// How deep arms may stand in arms before they are read below instead.
const MOST_DEEP: usize = 60;

/// A part in hand.
pub(super) struct Region<'a, 'g> {
    graph: &'g Graph<'a>,
    first: usize,
    /// Where the parts that it leads to begin.
    leads_to: BTreeSet<usize>,
    /// For each node its place in the turned graph; place 0 is where all ways end.
    places: BTreeMap<usize, usize>,
    nodes: Vec<usize>,
    /// The dominators of the turned graph.
    after: Dominators,
    /// For each node the first of the parts that can be reached from it.
    soonest: BTreeMap<usize, usize>,
    read: BTreeSet<usize>,
    /// What was left for later because it lies too deep.
    later: Vec<usize>,
}

impl<'a, 'g> Region<'a, 'g> {
    /// The part that begins at a node. The steps that it leads to are noted.
    pub(super) fn of(graph: &'g Graph<'a>, first: usize, reached: &mut BTreeSet<usize>) -> Region<'a, 'g> {
        Region::with(graph, None, first, reached)
    }

    /// The part of a step, whose first node after its own is given.
    pub(super) fn after(
        graph: &'g Graph<'a>,
        step: usize,
        first: usize,
        reached: &mut BTreeSet<usize>,
    ) -> Region<'a, 'g> {
        Region::with(graph, Some(step), first, reached)
    }

    fn with(
        graph: &'g Graph<'a>,
        own: Option<usize>,
        first: usize,
        reached: &mut BTreeSet<usize>,
    ) -> Region<'a, 'g> {
        let mut nodes = Vec::new();
        let mut leads_to = BTreeSet::new();
        let mut seen = BTreeSet::new();
        let mut waiting = vec![first];
        while let Some(node) = waiting.pop() {
            if !seen.insert(node) {
                continue;
            }
            if matches!(graph.act(node), Some(Act::Step { .. })) {
                reached.insert(node);
                leads_to.insert(node);
            } else if graph.is_out(node) {
                leads_to.insert(node);
            } else {
                nodes.push(node);
                if !matches!(graph.act(node), Some(Act::End(_))) {
                    waiting.extend(graph.ways(node).into_iter().map(|(_, to)| to));
                }
            }
        }
        nodes.sort_unstable();
        // A step that was read before, or is being read, is no way on but a way back.
        let onward = |node: &usize| own.is_none_or(|own| *node > own || graph.is_out(*node));
        let mut targets: Vec<usize> = leads_to.iter().copied().filter(onward).collect();
        // The steps in their order, then the way out, which is numbered before them.
        targets.sort_by_key(|target| (graph.is_out(*target), *target));
        let known = targets.iter().chain(&nodes).copied();
        let places: BTreeMap<usize, usize> =
            known.enumerate().map(|(place, node)| (node, place + 1)).collect();
        let mut turned = vec![Vec::new(); places.len() + 1];
        if let Some(end) = turned.first_mut() {
            end.extend(targets.iter().filter_map(|target| places.get(target)));
        }
        for node in &nodes {
            if matches!(graph.act(*node), Some(Act::End(_))) {
                continue;
            }
            for (_, to) in graph.ways(*node) {
                if let (Some(from), Some(list)) =
                    (places.get(node), places.get(&to).and_then(|to| turned.get_mut(*to)))
                {
                    list.push(*from);
                }
            }
        }
        let soonest = soonest(&turned, &targets, &places);
        let mut all = vec![0];
        all.extend(targets.iter().chain(&nodes));
        let after = Ways::new(turned).dominators();
        Region {
            graph,
            first,
            leads_to,
            places,
            nodes: all,
            after,
            soonest,
            read: BTreeSet::new(),
            later: Vec::new(),
        }
    }

    /// Its lines, and where they lead.
    pub(super) fn read(mut self) -> (Vec<Line>, Leads) {
        let (mut lines, leads) = self.lines(self.first, None, 0);
        while let Some(from) = self.later.pop() {
            if !self.read.contains(&from) {
                lines.extend(self.lines(from, None, 0).0);
            }
        }
        (lines, leads)
    }

    /// The node that no way on from here can pass by; none where the ways part for good.
    fn joins(&self, node: usize) -> Option<usize> {
        let nearest = self.after.nearest(*self.places.get(&node)?)?;
        (nearest > 0).then(|| self.nodes.get(nearest).copied()).flatten()
    }

    /// The lines from a node to where its arm ends. What was read before stands above.
    fn lines(&mut self, from: usize, until: Option<usize>, deep: usize) -> (Vec<Line>, Leads) {
        let mut lines = Vec::new();
        let mut at = from;
        loop {
            if until == Some(at) {
                return (lines, Leads::On);
            }
            if self.leads_to.contains(&at) {
                let is_step = matches!(self.graph.act(at), Some(Act::Step { .. }));
                return (lines, if is_step { Leads::Step(at) } else { Leads::Out });
            }
            if !self.read.insert(at) {
                return (lines, Leads::Back(at));
            }
            let ways = match self.graph.act(at) {
                Some(Act::End(_)) | None => Vec::new(),
                Some(_) => self.graph.ways(at),
            };
            let performs = self.graph.performs(at);
            let (from, on) = (self.graph.leaves(at), self.goes_on(at, until, &ways));
            let mut line = Line { node: at, performs, arms: Vec::new() };
            if ways.len() > 1 {
                for (ways, to) in &ways {
                    if Some(*to) == on {
                        line.arms.push(Arm { from, ways: ways.clone(), lines: Vec::new(), leads: Leads::On });
                    } else if deep >= MOST_DEEP {
                        self.later.push(*to);
                        line.arms.push(Arm {
                            from,
                            ways: ways.clone(),
                            lines: Vec::new(),
                            leads: Leads::Further(*to),
                        });
                    } else {
                        let (lines, leads) = self.lines(*to, on.or(until), deep + 1);
                        line.arms.push(Arm { from, ways: ways.clone(), lines, leads });
                    }
                }
            }
            lines.push(line);
            match on {
                Some(next) => at = next,
                None => return (lines, Leads::Ended),
            }
        }
    }

    /// Where the reading goes on below a node.
    fn goes_on(
        &self,
        at: usize,
        until: Option<usize>,
        ways: &[(Vec<dwell_card::graph::Way>, usize)],
    ) -> Option<usize> {
        match ways {
            [] => None,
            [(_, only)] => Some(*only),
            // How a decision came out: each answer is an arm of it.
            _ if is_side(self.graph.card, at) => until.filter(|_| self.joins(at).is_some()),
            _ => self.joins(at).or_else(|| {
                let soonest = ways.iter().filter_map(|(_, to)| Some((self.soonest.get(to)?, *to)));
                soonest.min().map(|(_, to)| to)
            }),
        }
    }
}

/// For each node the first of these parts that can be reached from it, by its rank.
fn soonest(
    turned: &[Vec<usize>],
    order: &[usize],
    places: &BTreeMap<usize, usize>,
) -> BTreeMap<usize, usize> {
    let nodes: BTreeMap<usize, usize> = places.iter().map(|(node, place)| (*place, *node)).collect();
    let mut found = BTreeMap::new();
    for (rank, target) in order.iter().enumerate() {
        let mut waiting: Vec<usize> = places.get(target).copied().into_iter().collect();
        while let Some(place) = waiting.pop() {
            let Some(node) = nodes.get(&place) else { continue };
            if found.contains_key(node) {
                continue;
            }
            found.insert(*node, rank);
            waiting.extend(turned.get(place).into_iter().flatten());
        }
    }
    found
}
