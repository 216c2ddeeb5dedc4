//! The flow of a card as a person reads it: parts with lines one under the other, and under a line the ways that leave it
//! for a while or for good.
//!
//! A line that has several ways on stands once; what all its ways come to again goes on below it, and each way that is
//! something of its own is an *arm* of it. Where that is so says the graph itself: the place that no way can pass by is the
//! nearest post-dominator, the nearest dominator of the graph with its ways turned round.

mod region;

use crate::vehicle::Vehicle;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::meaning::Truth;
use region::Region;
use std::collections::BTreeSet;

/// The parts of each procedure of a card, in the order of its frames.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Outline {
    /// For each frame its parts.
    pub frames: Vec<Frame>,
}

/// The parts of a procedure.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Frame {
    /// What comes before the first step: needs, and what holds for all of it.
    pub before: Vec<Line>,
    /// Where that leads.
    pub before_leads: Leads,
    /// The steps, in order. One that is performed in the middle of another stands between the two halves of it.
    pub steps: Vec<Step>,
    /// The node at which putting back begins.
    pub restore_at: Option<usize>,
    /// What is put back.
    pub restore: Vec<Line>,
}

/// A step.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Step {
    /// Its node.
    pub node: usize,
    /// Its place among the steps of the card.
    pub step: usize,
    /// Its lines.
    pub lines: Vec<Line>,
    /// Where the last of them leads.
    pub leads: Leads,
}

/// One node, with the ways that leave it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// The node.
    pub node: usize,
    /// The procedure that is performed here, by its frame.
    pub performs: Option<usize>,
    /// The ways on that are something of their own; none where there is only one way.
    pub arms: Vec<Arm>,
}

/// A way that leaves a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Arm {
    /// The node whose way it is: the end of what is performed, for a line that performs.
    pub from: usize,
    /// Which ways.
    pub ways: Vec<Way>,
    /// What stands on it.
    pub lines: Vec<Line>,
    /// Where it leads.
    pub leads: Leads,
}

/// Where lines lead when there is no more to read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Leads {
    /// To what stands below the line that was left.
    On,
    /// Back to a node above.
    Back(usize),
    /// To a node that stands below, because it would lie too deep.
    Further(usize),
    /// To a step, by its node.
    Step(usize),
    /// To the end of the procedure, where what is owed is put back.
    #[default]
    Out,
    /// Nowhere: it has ended.
    Ended,
}

impl Outline {
    /// The outline of a card for a vehicle: what that vehicle never comes to is left out.
    pub fn of(card: &Card, vehicle: &Vehicle) -> Outline {
        let graph = Graph { card, vehicle };
        let frames = (0..card.frames.len()).map(|frame| graph.frame(frame));
        Outline { frames: frames.collect() }
    }
}

impl Frame {
    /// All its lines, those on arms among them.
    pub fn all_lines(&self) -> Vec<&Line> {
        let mut all = Vec::new();
        let steps = self.steps.iter().map(|step| &step.lines);
        for lines in [&self.before].into_iter().chain(steps).chain([&self.restore]) {
            gather(lines, &mut all);
        }
        all
    }
}

/// These lines and those on their arms, in the order in which they are read.
pub(crate) fn gather<'a>(lines: &'a [Line], all: &mut Vec<&'a Line>) {
    for line in lines {
        all.push(line);
        line.arms.iter().for_each(|arm| gather(&arm.lines, all));
    }
}

/// The flow as this vehicle goes it.
pub(crate) struct Graph<'a> {
    pub(crate) card: &'a Card,
    vehicle: &'a Vehicle,
}

impl<'a> Graph<'a> {
    pub(crate) fn new(card: &'a Card, vehicle: &'a Vehicle) -> Graph<'a> {
        Graph { card, vehicle }
    }

    pub(crate) fn act(&self, node: usize) -> Option<&'a Act> {
        self.card.nodes.get(node).map(|node| &node.act)
    }

    /// The ways on from a node, those that lead to one node together. What is performed counts as one node.
    pub(crate) fn ways(&self, node: usize) -> Vec<(Vec<Way>, usize)> {
        let from = self.leaves(node);
        let Some(known) = self.card.nodes.get(from) else { return Vec::new() };
        let only = match &known.act {
            Act::Branch { condition } => match self.vehicle.decides(condition) {
                Truth::Yes => Some(Way::Yes),
                Truth::No => Some(Way::No),
                Truth::Maybe => None,
            },
            Act::Need { required, .. } if self.vehicle.holds(&required.when) == Truth::No => Some(Way::Yes),
            _ => None,
        };
        let mut all: Vec<(Vec<Way>, usize)> = Vec::new();
        for (way, to) in known.next.iter().filter(|(way, _)| only.is_none_or(|only| only == **way)) {
            match all.iter_mut().find(|(_, known)| known == to) {
                Some((ways, _)) => ways.push(*way),
                None => all.push((vec![*way], *to)),
            }
        }
        all
    }

    /// The node whose ways on those of a node are: the end of what is performed there.
    pub(crate) fn leaves(&self, node: usize) -> usize {
        let performed = self.performs(node);
        let end = performed.and_then(|frame| {
            let is_end =
                |known: &dwell_card::graph::Node| known.frame == frame && matches!(known.act, Act::Close);
            self.card.nodes.iter().position(is_end)
        });
        end.unwrap_or(node)
    }

    /// The frame that is performed at a node.
    pub(crate) fn performs(&self, node: usize) -> Option<usize> {
        let known = self.card.nodes.get(node)?;
        (known.frame > 0 && matches!(known.act, Act::Open)).then_some(known.frame)
    }

    /// Whether a node is the way to what is put back at the end of a procedure.
    pub(crate) fn is_out(&self, node: usize) -> bool {
        let mut at = node;
        // A card that goes round in such nodes is damaged.
        for _ in 0..self.card.nodes.len() {
            match self.card.nodes.get(at) {
                Some(known) if matches!(known.act, Act::Restore | Act::Close) => return true,
                Some(known) if matches!(known.act, Act::Uncover { .. }) => match known.next.get(&Way::Then) {
                    Some(next) => at = *next,
                    None => return false,
                },
                _ => return false,
            }
        }
        false
    }

    fn frame(&self, frame: usize) -> Frame {
        let nodes = || self.card.nodes.iter().enumerate().filter(move |(_, node)| node.frame == frame);
        let opens = nodes().find(|(_, node)| matches!(node.act, Act::Open)).map(|(at, _)| at);
        let mut parts = Frame::default();
        let mut reached = BTreeSet::new();
        if let Some(first) = opens.and_then(|at| self.card.nodes.get(at)?.next.get(&Way::Then)) {
            let (lines, leads) = Region::of(self, *first, &mut reached).read();
            (parts.before, parts.before_leads) = (lines, leads);
        }
        let steps: Vec<(usize, usize)> = nodes()
            .filter_map(|(at, node)| match node.act {
                Act::Step { step } => Some((at, step)),
                _ => None,
            })
            .collect();
        // A step that this vehicle never comes to is left out; one that is reached only from a later one is not.
        let mut read: Vec<Step> = Vec::new();
        while let Some((node, step)) = steps
            .iter()
            .find(|(at, _)| reached.contains(at) && !read.iter().any(|known| known.node == *at))
            .copied()
        {
            let (lines, leads) = match self.ways(node).first() {
                Some((_, first)) => Region::after(self, node, *first, &mut reached).read(),
                None => (Vec::new(), Leads::Ended),
            };
            read.push(Step { node, step, lines, leads });
        }
        read.sort_by_key(|step| step.node);
        parts.steps = read;
        let restore = nodes().find(|(_, node)| matches!(node.act, Act::Restore)).map(|(at, _)| at);
        if let Some(first) = restore.and_then(|at| self.card.nodes.get(at)?.next.get(&Way::Then)) {
            parts.restore_at = restore;
            parts.restore = Region::of(self, *first, &mut reached).read().0;
        }
        parts
    }
}
