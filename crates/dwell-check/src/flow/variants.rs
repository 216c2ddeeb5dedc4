//! Which variants each node asks for: what tells vehicles apart there, and whether anything later does.

use super::bits::Bits;
use super::vehicles::Vehicles;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Condition, Test};
use dwell_card::limit::Limit;
use dwell_card::vehicle::{Guard, Move, Required};

/// The most sets of vehicles that may be apart at one node.
pub(super) const MOST: usize = 1024;

/// What the nodes of a card ask of the variants.
pub(super) struct Variants {
    /// All vehicles.
    pub(super) all: Vehicles,
    /// Whether any node tells vehicles apart.
    pub(super) tell: bool,
    /// For each node the axes that it asks for, each with its values in groups: those of one group are alike to it.
    groups: Vec<Vec<(usize, Vec<Bits>)>>,
    /// For each node the axes that nothing asks for there or later.
    over: Vec<Vec<usize>>,
}

impl Variants {
    /// Looks at every node. `exits` has for each frame the node at which one goes on who stops.
    pub(super) fn of(lowered: &Lowered, exits: &[Option<usize>]) -> Variants {
        let axes = &lowered.card.axes;
        let all = Vehicles::all(axes.iter().map(|axis| axis.values.len()));
        let nodes = &lowered.card.nodes;
        let asked: Vec<Vec<(usize, Bits)>> = nodes
            .iter()
            .map(|node| {
                let mut asked = Asked { limits: &lowered.card.limits, sets: Vec::new() };
                asked.act(&node.act);
                asked.sets
            })
            .collect();
        let groups: Vec<_> = asked.iter().map(|sets| grouped(sets, &all)).collect();
        let tell = groups.iter().flatten().any(|(_, groups)| groups.len() > 1);
        let mut live: Vec<Bits> = vec![Bits::default(); nodes.len()];
        let mut changed = !axes.is_empty();
        while changed {
            changed = false;
            for (at, node) in nodes.iter().enumerate().rev() {
                let mut wanted = Bits::default();
                wanted.extend(asked.get(at).into_iter().flatten().map(|(axis, _)| *axis));
                let exit = exits.get(node.frame).copied().flatten();
                for next in node.next.values().copied().chain(exit) {
                    if let Some(later) = live.get(next) {
                        wanted.join(later);
                    }
                }
                if let Some(known) = live.get_mut(at)
                    && *known != wanted
                {
                    *known = wanted;
                    changed = true;
                }
            }
        }
        let over =
            live.iter().map(|live| (0..axes.len()).filter(|axis| !live.contains(axis)).collect()).collect();
        Variants { all, tell, groups, over }
    }

    /// Whether anything at all asks for an axis.
    pub(super) fn asks(&self, axis: usize) -> bool {
        self.over.first().is_none_or(|over| !over.contains(&axis))
    }

    /// The same for fewer vehicles.
    #[cfg(test)]
    pub(super) fn alone(&self, vehicles: Vehicles) -> Variants {
        Variants { all: vehicles, tell: self.tell, groups: self.groups.clone(), over: self.over.clone() }
    }

    /// These vehicles, parted by what a node asks for: those of one part are alike to it.
    pub(super) fn parted(&self, vehicles: &Vehicles, node: usize) -> Vec<Vehicles> {
        let mut parts = vec![vehicles.clone()];
        for (axis, groups) in self.groups.get(node).into_iter().flatten() {
            let here = |group: &Bits| vehicles.of(*axis).map(|values| values.both(group));
            let groups: Vec<Bits> =
                groups.iter().filter_map(here).filter(|group| !group.is_empty()).collect();
            if groups.len() > 1 {
                let with =
                    |part: &Vehicles| groups.iter().map(|group| part.with(*axis, group.clone())).collect();
                parts = parts.iter().flat_map::<Vec<Vehicles>, _>(with).take(MOST + 1).collect();
            }
        }
        parts
    }

    /// These vehicles, with all values of the axes that nothing asks for at a node or after it.
    pub(super) fn forgotten(&self, vehicles: &Vehicles, node: usize) -> Vehicles {
        let mut widened = vehicles.clone();
        for axis in self.over.get(node).into_iter().flatten() {
            if let Some(values) = self.all.of(*axis)
                && widened.of(*axis) != Some(values)
            {
                widened = widened.with(*axis, values.clone());
            }
        }
        widened
    }
}

/// For each axis that these sets are of, all its values in groups of those that no set tells apart.
fn grouped(sets: &[(usize, Bits)], all: &Vehicles) -> Vec<(usize, Vec<Bits>)> {
    let mut out: Vec<(usize, Vec<Bits>)> = Vec::new();
    for (axis, set) in sets {
        if !out.iter().any(|(known, _)| known == axis) {
            out.push((*axis, all.of(*axis).cloned().into_iter().collect()));
        }
        let Some((_, groups)) = out.iter_mut().find(|(known, _)| known == axis) else { continue };
        let parts = groups.iter().flat_map(|group| [group.both(set), group.without(set)]);
        *groups = parts.filter(|part| !part.is_empty()).collect();
    }
    out
}

struct Asked<'a> {
    limits: &'a [Limit],
    sets: Vec<(usize, Bits)>,
}

impl Asked<'_> {
    fn guard(&mut self, guard: &Guard) {
        if let Guard::Variant { axis, values } = guard {
            let mut set = Bits::default();
            set.extend(values);
            self.sets.push((*axis, set));
        }
    }

    fn guards(&mut self, guards: &[Guard]) {
        guards.iter().for_each(|guard| self.guard(guard));
    }

    fn moves(&mut self, moves: &[Move]) {
        moves.iter().for_each(|step| self.guards(&step.when));
    }

    fn needs(&mut self, needs: &[Required]) {
        needs.iter().for_each(|need| self.guards(&need.when));
    }

    fn limit(&mut self, limit: usize) {
        let Some(limit) = self.limits.get(limit) else { return };
        limit.check.iter().chain(&limit.adjust).for_each(|choice| self.guards(&choice.when));
        limit.rows.iter().for_each(|group| self.guards(&group.when));
    }

    fn condition(&mut self, condition: &Condition) {
        for test in &condition.tests {
            match test {
                Test::Guard { guard, .. } => self.guard(guard),
                Test::Moments { condition, .. } => self.condition(condition),
                Test::Meets { limit, .. } => self.limit(*limit),
                Test::Within { .. }
                | Test::Steady { .. }
                | Test::Fluctuating { .. }
                | Test::Answer { .. }
                | Test::Side { .. } => {}
            }
        }
    }

    fn act(&mut self, act: &Act) {
        match act {
            Act::Need { required, .. } => self.guards(&required.when),
            Act::Work(work) => {
                self.moves(&work.moves);
                self.moves(&work.brings);
                self.needs(&work.needs);
                work.limit.into_iter().for_each(|limit| self.limit(limit));
            }
            Act::Measure(measure) => {
                self.needs(&measure.needs);
                self.moves(&measure.leaves);
                let until = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref());
                until.into_iter().for_each(|until| self.condition(until));
            }
            Act::Judge(judge) => {
                self.condition(&judge.condition);
                self.moves(&judge.proves);
            }
            Act::Branch { condition } => self.condition(condition),
            Act::Open
            | Act::Step { .. }
            | Act::Caution { .. }
            | Act::Uncover { .. }
            | Act::Note { .. }
            | Act::Keep { .. }
            | Act::Hold(_)
            | Act::Release { .. }
            | Act::Choose(_)
            | Act::Ask { .. }
            | Act::Sign { .. }
            | Act::Wait { .. }
            | Act::Begin { .. }
            | Act::Count { .. }
            | Act::Cause { .. }
            | Act::End(_)
            | Act::Unhandled
            | Act::Restore
            | Act::Close
            | Act::Finish => {}
        }
    }
}
