//! What the ways of a flow say by their shape alone: what can be reached, from where it goes on, what cannot be passed by.
//!
//! One node *dominates* another if every way from the first node of the flow to the other goes through it. The dominators
//! are found as Cooper, Harvey and Kennedy describe in "A Simple, Fast Dominance Algorithm" (2001): go round in reverse
//! postorder and meet, in the tree that has been found so far, until nothing changes.

use crate::graph::Node;

/// The ways between the nodes of a flow that begins at node 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ways {
    /// For each node those that it leads to.
    after: Vec<Vec<usize>>,
    /// For each node those that lead to it.
    before: Vec<Vec<usize>>,
}

/// For each node that can be reached the nearest of those that dominate it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Dominators(Vec<Option<usize>>);

impl Ways {
    /// The ways of these nodes. What leads to a node that is not there is left out.
    pub fn of(nodes: &[Node]) -> Ways {
        Ways::new(nodes.iter().map(|node| node.next.values().copied().collect()).collect())
    }

    /// For each node those that it leads to.
    pub fn new(mut after: Vec<Vec<usize>>) -> Ways {
        let count = after.len();
        let mut before = vec![Vec::new(); count];
        for (from, next) in after.iter_mut().enumerate() {
            next.retain(|to| *to < count);
            for to in next {
                if let Some(known) = before.get_mut(*to) {
                    known.push(from);
                }
            }
        }
        Ways { after, before }
    }

    /// Which nodes can be reached from node 0, itself among them.
    pub fn reachable(&self) -> Vec<bool> {
        spread(&self.after, [0])
    }

    /// From which nodes one of these can be reached, themselves among them.
    pub fn leading_to(&self, ends: &[usize]) -> Vec<bool> {
        spread(&self.before, ends.iter().copied())
    }

    /// The dominators of all nodes that can be reached.
    pub fn dominators(&self) -> Dominators {
        let postorder = self.postorder();
        let mut rank = vec![0; self.after.len()];
        for (place, node) in postorder.iter().enumerate() {
            if let Some(known) = rank.get_mut(*node) {
                *known = place;
            }
        }
        let mut nearest = vec![None; self.after.len()];
        if let Some(first) = nearest.first_mut() {
            *first = Some(0);
        }
        let mut changed = true;
        while changed {
            changed = false;
            for node in postorder.iter().rev().copied().filter(|node| *node > 0) {
                let known = self.before.get(node).into_iter().flatten().copied();
                let known = known.filter(|from| nearest.get(*from).is_some_and(Option::is_some));
                let met = known.reduce(|one, other| meet(&nearest, &rank, one, other));
                if let Some(place) = nearest.get_mut(node)
                    && *place != met
                {
                    *place = met;
                    changed = true;
                }
            }
        }
        Dominators(nearest)
    }

    /// The nodes that can be reached, each after all that were first reached from it.
    fn postorder(&self) -> Vec<usize> {
        let mut seen = vec![false; self.after.len()];
        let mut order = Vec::new();
        let mut open: Vec<(usize, usize)> = Vec::new();
        if let Some(first) = seen.first_mut() {
            *first = true;
            open.push((0, 0));
        }
        while let Some((node, tried)) = open.pop() {
            match self.after.get(node).and_then(|next| next.get(tried)) {
                Some(to) => {
                    open.push((node, tried + 1));
                    if let Some(new) = seen.get_mut(*to).filter(|new| !**new) {
                        *new = true;
                        open.push((*to, 0));
                    }
                }
                None => order.push(node),
            }
        }
        order
    }
}

impl Dominators {
    /// The nearest other node that dominates this one; none for node 0 and for what cannot be reached.
    pub fn nearest(&self, node: usize) -> Option<usize> {
        self.0.get(node).copied().flatten().filter(|_| node > 0)
    }

    /// Whether every way from node 0 to `node` goes through `gate`. Each node dominates itself; what cannot be reached is
    /// dominated by nothing.
    pub fn dominates(&self, gate: usize, node: usize) -> bool {
        if self.0.get(node).copied().flatten().is_none() {
            return false;
        }
        let mut at = Some(node);
        while let Some(here) = at {
            if here == gate {
                return true;
            }
            at = self.nearest(here);
        }
        false
    }
}

/// The nearest node that dominates both, in the tree found so far: the one with the lower rank goes up.
fn meet(nearest: &[Option<usize>], rank: &[usize], mut one: usize, mut other: usize) -> usize {
    let rank_of = |node: usize| rank.get(node).copied().unwrap_or_default();
    let up = |node: usize| nearest.get(node).copied().flatten().unwrap_or_default();
    while one != other {
        if rank_of(one) < rank_of(other) {
            one = up(one);
        } else {
            other = up(other);
        }
    }
    one
}

/// Everything that can be reached along these ways.
fn spread(ways: &[Vec<usize>], from: impl IntoIterator<Item = usize>) -> Vec<bool> {
    let mut seen = vec![false; ways.len()];
    let mut waiting: Vec<usize> = from.into_iter().collect();
    while let Some(node) = waiting.pop() {
        if let Some(new) = seen.get_mut(node).filter(|new| !**new) {
            *new = true;
            waiting.extend(ways.get(node).into_iter().flatten());
        }
    }
    seen
}
