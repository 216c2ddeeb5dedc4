//! How a procedure can end, read from the ways of its card.

use crate::outline::{Arm, Frame, Graph, Leads};
use crate::vehicle::Vehicle;
use crate::words::{outcome, text};
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use std::collections::BTreeSet;

/// How a procedure comes out where no line of it says so.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Computed {
    /// Whether a way comes there at all.
    pub(crate) reached: bool,
    /// Whether all may be in there.
    pub(crate) passed: bool,
    /// Whether something may have been adjusted.
    pub(crate) adjusted: bool,
    /// Whether something may have stayed out.
    pub(crate) failed: bool,
}

impl Computed {
    /// The results in words.
    pub(crate) fn words(self) -> Vec<&'static str> {
        let all = [
            (self.passed, "passed"),
            (self.passed && self.adjusted, "adjusted and passed"),
            (self.failed, "failed, where something stayed out"),
        ];
        all.into_iter().filter(|(may, _)| *may).map(|(_, word)| word).collect()
    }
}

/// How frame 0 comes out where its last line is reached, and nothing ended it before.
pub(crate) fn computed(card: &Card, vehicle: &Vehicle, parts: &Frame) -> Computed {
    let graph = Graph::new(card, vehicle);
    let lines = parts.all_lines();
    let outs = |lead: &Leads| *lead == Leads::Out;
    let arms = lines.iter().flat_map(|line| &line.arms);
    let reached = arms.clone().any(|arm| outs(&arm.leads))
        || parts.steps.iter().any(|step| outs(&step.leads))
        || (parts.steps.is_empty() && outs(&parts.before_leads));
    let judges = lines.iter().filter_map(|line| match graph.act(line.node) {
        Some(Act::Judge(judge)) => Some((line.node, judge)),
        _ => None,
    });
    let judges: Vec<_> = judges.collect();
    let failed = judges.iter().any(|(node, _)| stays_out(&graph, *node));
    Computed { reached, passed: reached, adjusted: judges.iter().any(|(_, judge)| judge.adjusting), failed }
}

/// Whether a way leads from where a decision is out to the end, past everything that would settle it.
fn stays_out(graph: &Graph<'_>, judge: usize) -> bool {
    let out = graph.card.nodes.get(judge).and_then(|node| node.next.get(&Way::Out));
    let mut waiting: Vec<usize> = out.copied().into_iter().collect();
    let mut seen = BTreeSet::new();
    while let Some(node) = waiting.pop() {
        if graph.is_out(node) {
            return true;
        }
        if !seen.insert(node) || matches!(graph.act(node), Some(Act::End(_))) {
            continue;
        }
        let settles = matches!(graph.act(node), Some(Act::Judge(other)) if other.settles.contains(&judge));
        let ways = graph.ways(node).into_iter();
        waiting.extend(ways.filter(|(ways, _)| !(settles && ways.as_slice() == [Way::In])).map(|(_, to)| to));
    }
    false
}

/// The ends that lines of a procedure say: result and words, each once.
pub(crate) fn said(card: &Card, parts: &Frame) -> Vec<(&'static str, String, usize)> {
    let mut all: Vec<(&'static str, String, usize)> = Vec::new();
    let lines = parts.all_lines();
    // Where what is performed ends unlike passed, this one ends in the same way: said where it is performed.
    let alike = lines.iter().flat_map(|line| &line.arms).filter(|arm| ends_alike(card, arm));
    let alike: BTreeSet<usize> = alike.flat_map(|arm| &arm.lines).map(|line| line.node).collect();
    for line in lines.into_iter().filter(|line| !alike.contains(&line.node)) {
        let Some(Act::End(end)) = card.nodes.get(line.node).map(|node| &node.act) else { continue };
        if is_not_ready(card, line.node) {
            continue;
        }
        let result = outcome(end.outcome);
        let words = match &end.refer {
            Some(refer) => format!("Go on with {}.", crate::words::plain(refer)),
            None => String::new(),
        };
        let words = match (&end.text, words.is_empty()) {
            (Some(said), true) => text(said, card),
            (Some(said), false) => format!("{words} {}", text(said, card)),
            (None, _) => words,
        };
        if !all.iter().any(|(known, same, _)| *known == result && *same == words) {
            all.push((result, words, line.node));
        }
    }
    all
}

/// Whether an end stands for a need that is not met.
pub(crate) fn is_not_ready(card: &Card, node: usize) -> bool {
    let needs = card.nodes.iter().filter(|known| matches!(known.act, Act::Need { .. }));
    needs.into_iter().any(|need| need.next.get(&Way::No) == Some(&node))
        && matches!(card.nodes.get(node).map(|node| &node.act), Some(Act::End(_)))
}

/// Whether what is performed ends the procedure that performs it in its own way.
pub(crate) fn ends_alike(card: &Card, arm: &Arm) -> bool {
    let [line] = arm.lines.as_slice() else { return false };
    let Some(Act::End(end)) = card.nodes.get(line.node).map(|node| &node.act) else { return false };
    let way = match arm.ways.as_slice() {
        [way] => *way,
        _ => return false,
    };
    end.refer.is_none()
        && matches!(
            (way, outcome(end.outcome)),
            (Way::Failed, "failed") | (Way::Unfinished, "unfinished") | (Way::Referred, "referred")
        )
}
