//! The boxes and ways of a chart: the nodes at which something begins, is decided or ends; what is merely done is passed over.

use crate::bands::against;
use crate::ends::{Computed, computed, ends_alike, is_not_ready};
use crate::outline::{Arm, Frame, Graph, Line};
use crate::vehicle::Vehicle;
use crate::words::{condition, is_side, outcome, plain, text, way};
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Way};
use std::collections::{BTreeMap, BTreeSet};

/// A chart.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Chart {
    /// The boxes, from top to bottom.
    pub(crate) boxes: Vec<Box>,
    /// The ways between them, by their places.
    pub(crate) edges: Vec<Edge>,
}

/// A box.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Box {
    /// The node that it stands for; none for what is told of all of them.
    pub(crate) node: Option<usize>,
    /// What it is.
    pub(crate) kind: Kind,
    /// Its first words.
    pub(crate) title: String,
    /// More words, smaller.
    pub(crate) more: String,
    /// How deep in decisions it stands.
    pub(crate) depth: usize,
}

/// What a box is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// Where it begins.
    Start,
    /// What must hold.
    Ready,
    /// A step.
    Step,
    /// A decision.
    Decision,
    /// A loop.
    Loop,
    /// Something that is done, with more than one way on.
    Doing,
    /// Another procedure.
    Performed,
    /// What is put back.
    Restore,
    /// An end, with its result.
    Ended(&'static str),
}

/// A way between two boxes.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Edge {
    /// From which box,
    pub(crate) from: usize,
    /// to which.
    pub(crate) to: usize,
    /// What it is called.
    pub(crate) label: String,
}

/// The work of making one.
struct Making<'a> {
    card: &'a Card,
    vehicle: &'a Vehicle,
    graph: Graph<'a>,
    chart: Chart,
    /// For each node the box that it is drawn as.
    drawn: BTreeMap<usize, usize>,
    /// What is put back, or the result where there is nothing to put back.
    last: Option<usize>,
    /// The result that is worked out.
    result: Option<usize>,
    /// The ends that are those of what is performed.
    alike: BTreeSet<usize>,
}

impl Chart {
    /// The chart of a procedure.
    pub(crate) fn of(card: &Card, vehicle: &Vehicle, parts: &Frame) -> Chart {
        let mut making = Making {
            card,
            vehicle,
            graph: Graph::new(card, vehicle),
            chart: Chart::default(),
            drawn: BTreeMap::new(),
            last: None,
            result: None,
            alike: BTreeSet::new(),
        };
        let first = making.add(Some(0), Kind::Start, card.title.clone(), String::new(), 0);
        making.ready(parts);
        making.lines(&parts.before, 0);
        for step in &parts.steps {
            let title = card.steps.get(step.step).map(|known| known.title.clone()).unwrap_or_default();
            making.add(Some(step.node), Kind::Step, title, String::new(), 0);
            making.lines(&step.lines, 1);
        }
        let last = computed(card, vehicle, parts);
        if last.reached {
            let is_told = |line: &Line| matches!(making.act(line.node), Some(Act::Work(_) | Act::Judge(_)));
            if parts.restore.iter().any(is_told) {
                let restore =
                    making.add(parts.restore_at, Kind::Restore, "Put back".into(), String::new(), 0);
                making.last = Some(restore);
                making.lines(&parts.restore, 1);
            }
            making.results(last);
        }
        making.edges(first);
        making.chart
    }
}

impl<'a> Making<'a> {
    fn act(&self, node: usize) -> Option<&'a Act> {
        self.card.nodes.get(node).map(|node| &node.act)
    }

    fn add(&mut self, node: Option<usize>, kind: Kind, title: String, more: String, depth: usize) -> usize {
        let place = self.chart.boxes.len();
        self.chart.boxes.push(Box { node, kind, title, more, depth });
        if let Some(node) = node {
            self.drawn.entry(node).or_insert(place);
        }
        place
    }

    /// The results that are worked out from what was read.
    fn results(&mut self, last: Computed) {
        let failed = "failed: something stayed out";
        let (first, other) = match (last.adjusted, last.failed) {
            (true, true) => ("passed, or adjusted and passed", Some(failed)),
            (true, false) => ("passed, or adjusted and passed", None),
            (false, true) => ("passed", Some(failed)),
            (false, false) => ("passed", None),
        };
        let asks = other.map(|_| self.add(None, Kind::Decision, "All in?".into(), String::new(), 0));
        let depth = usize::from(asks.is_some());
        let passed = self.add(None, Kind::Ended("passed"), first.into(), String::new(), depth);
        if let (Some(asks), Some(words)) = (asks, other) {
            let failed = self.add(None, Kind::Ended("failed"), words.into(), String::new(), depth);
            self.edge(asks, passed, "yes".to_owned());
            self.edge(asks, failed, "no".to_owned());
        }
        self.result = asks.or(Some(passed));
        self.last = self.last.or(self.result);
    }

    fn edge(&mut self, from: usize, to: usize, label: String) {
        let label = if self.alike.contains(&to) { "not passed".to_owned() } else { label };
        let same = |edge: &&mut Edge| edge.from == from && edge.to == to;
        match self.chart.edges.iter_mut().find(same) {
            Some(edge) if edge.label != label && !label.is_empty() => {
                edge.label = format!("{} or {label}", edge.label)
            }
            Some(_) => {}
            None => self.chart.edges.push(Edge { from, to, label }),
        }
    }

    /// The needs that nothing is done about, in one box.
    fn ready(&mut self, parts: &Frame) {
        let plain_need = |line: &&Line| self.is_plain_need(line.node);
        let nodes: Vec<usize> = parts.before.iter().filter(plain_need).map(|line| line.node).collect();
        let says: Vec<&str> = nodes
            .iter()
            .filter_map(|node| match self.act(*node) {
                Some(Act::Need { says, .. }) => Some(says.as_str()),
                _ => None,
            })
            .collect();
        let Some(first) = nodes.first() else { return };
        let place = self.add(Some(*first), Kind::Ready, "Ready?".into(), says.join(" "), 0);
        for node in &nodes {
            self.drawn.insert(*node, place);
        }
        let end = self.add(None, Kind::Ended("unfinished"), "unfinished: not ready".into(), String::new(), 1);
        for node in &nodes {
            for (_, to) in self.graph.ways(*node) {
                if is_not_ready(self.card, to) {
                    self.drawn.insert(to, end);
                }
            }
        }
    }

    /// Whether a need is one that nothing is done about.
    fn is_plain_need(&self, node: usize) -> bool {
        matches!(self.act(node), Some(Act::Need { .. }))
            && self.graph.ways(node).iter().any(|(_, to)| is_not_ready(self.card, *to))
    }

    fn lines(&mut self, lines: &[Line], depth: usize) {
        for line in lines {
            let boxed = self.line(line, depth);
            let inner = depth + usize::from(boxed);
            let (alike, others): (Vec<&Arm>, Vec<&Arm>) =
                line.arms.iter().partition(|arm| line.performs.is_some() && ends_alike(self.card, arm));
            if !alike.is_empty() {
                let words = "not passed: this ends the same way".to_owned();
                let place = self.add(None, Kind::Ended("unfinished"), words, String::new(), inner);
                self.alike.insert(place);
                for end in alike.iter().flat_map(|arm| &arm.lines) {
                    self.drawn.insert(end.node, place);
                }
            }
            for arm in others {
                self.lines(&arm.lines, inner);
            }
        }
    }

    /// Draws a line as a box, where it is one; says whether.
    fn line(&mut self, line: &Line, depth: usize) -> bool {
        if self.drawn.contains_key(&line.node) {
            return true;
        }
        let several = self.graph.ways(line.node).len() > 1;
        let says = |words: &str| text(words, self.card);
        let made = match self.act(line.node) {
            Some(Act::Open) if line.performs.is_some() => {
                let frame = line.performs.and_then(|frame| self.card.frames.get(frame));
                Some((
                    Kind::Performed,
                    frame.map(|frame| frame.title.clone()).unwrap_or_default(),
                    String::new(),
                ))
            }
            Some(Act::Judge(judge)) => {
                let lead = if judge.adjusting { "set: " } else { "" };
                {
                    let limits = self.limits(&judge.condition, judge.adjusting);
                    Some((
                        Kind::Decision,
                        format!("{lead}{}?", condition(self.card, &judge.condition)),
                        limits,
                    ))
                }
            }
            Some(Act::Branch { condition: asked }) if several && !is_side(self.card, line.node) => {
                Some((Kind::Decision, format!("{}?", condition(self.card, asked)), self.limits(asked, false)))
            }
            Some(Act::Count { counter }) if several => {
                let times = self.card.counters.get(*counter).copied().unwrap_or_default();
                let words =
                    if times == 1 { "once more".to_owned() } else { format!("at most {times} times") };
                Some((Kind::Loop, words, String::new()))
            }
            Some(Act::Need { says: words, .. }) if several => {
                Some((Kind::Decision, words.clone(), String::new()))
            }
            Some(Act::Measure(measure)) if several => Some((Kind::Doing, says(&measure.says), String::new())),
            Some(Act::Work(work)) if several => Some((Kind::Doing, says(&work.says), String::new())),
            Some(Act::Choose(choose)) if several => {
                Some((Kind::Doing, format!("Choose from {}", plain(&choose.series)), String::new()))
            }
            Some(Act::End(end)) => {
                let result = outcome(end.outcome);
                let refer = end.refer.as_ref().map(|refer| format!("go on with {}", plain(refer)));
                let words = refer.into_iter().chain(end.text.as_ref().map(|words| says(words)));
                Some((Kind::Ended(result), result.to_owned(), words.collect::<Vec<_>>().join(": ")))
            }
            Some(Act::Unhandled) => {
                Some((Kind::Ended("unfinished"), "the text does not say".to_owned(), String::new()))
            }
            _ => None,
        };
        let Some((kind, title, more)) = made else { return false };
        self.add(Some(line.node), kind, title, more, depth);
        true
    }

    /// The limits that decide, in few words.
    fn limits(&self, asked: &Condition, adjusting: bool) -> String {
        let mut all: Vec<String> = Vec::new();
        let tests = crate::tests_of::all(asked).into_iter();
        for found in tests.filter_map(|test| against(self.card, self.vehicle, test, adjusting)) {
            // What stands on the spot is in the condition already.
            for case in found.cases.iter().filter(|_| found.name.is_some()) {
                let words =
                    if adjusting { case.set.as_ref().or(case.check.as_ref()) } else { case.check.as_ref() };
                let lead = if case.when.is_empty() { String::new() } else { format!("{}: ", case.when) };
                all.extend(
                    words.map(|words| format!("{lead}{}", words.ends)).filter(|words| !all.contains(words)),
                );
            }
        }
        all.join("; ")
    }

    /// The ways from box to box.
    fn edges(&mut self, first: usize) {
        if let Some(begins) = self.card.nodes.first().and_then(|node| node.next.get(&Way::Then).copied())
            && let Some(to) = self.box_after(begins)
        {
            self.edge(first, to, String::new());
        }
        let drawn: Vec<(usize, usize)> = self.drawn.iter().map(|(node, place)| (*node, *place)).collect();
        for (node, from) in drawn {
            if from == first || matches!(self.act(node), Some(Act::End(_) | Act::Unhandled)) {
                continue;
            }
            for (ways, to) in self.graph.ways(node) {
                let label = self.label(node, &ways);
                self.leads(from, to, label);
            }
        }
        self.chart.edges.sort();
    }

    /// What a way is called; the needs of one box say it once.
    fn label(&self, node: usize, ways: &[Way]) -> String {
        match self.act(node) {
            Some(Act::Need { .. }) if ways == [Way::Yes] => "yes".to_owned(),
            Some(Act::Need { .. }) => "no".to_owned(),
            Some(Act::Measure(_) | Act::Work(_) | Act::Choose(_)) if ways == [Way::Then] => String::new(),
            _ if self.graph.ways(node).len() < 2 => String::new(),
            Some(Act::Count { .. }) if ways == [Way::Again] => "again".to_owned(),
            Some(Act::Count { .. }) => "after that".to_owned(),
            _ => way(self.card, self.graph.leaves(node), ways),
        }
    }

    /// A way from a box to whatever comes next on it. What asks how a decision came out is no box: its answers lead on.
    fn leads(&mut self, from: usize, to: usize, label: String) {
        let mut waiting = vec![(to, label)];
        let mut seen = 0;
        while let Some((at, label)) = waiting.pop() {
            seen += 1;
            let asks =
                is_side(self.card, at) && !self.drawn.contains_key(&at) && seen < self.card.nodes.len();
            if asks {
                let ways = self.graph.ways(at).into_iter();
                waiting.extend(ways.map(|(ways, to)| (to, way(self.card, at, &ways))));
            } else if let Some(to) = self.box_after(at).filter(|to| *to != from || self.is_loop(at, from)) {
                self.edge(from, to, label);
            }
        }
    }

    /// Whether a way that leads to its own box is a loop: needs that share a box lead to each other.
    fn is_loop(&self, _: usize, place: usize) -> bool {
        self.chart.boxes.get(place).is_some_and(|known| known.kind != Kind::Ready)
    }

    /// The box that a way comes to, past all that is merely done.
    fn box_after(&self, node: usize) -> Option<usize> {
        let mut at = node;
        for _ in 0..=self.card.nodes.len() {
            if let Some(place) = self.drawn.get(&at) {
                return Some(*place);
            }
            if matches!(self.act(at), Some(Act::Close)) {
                return self.result;
            }
            if self.graph.is_out(at) && !matches!(self.act(at), Some(Act::Restore)) {
                return self.last;
            }
            at = self.graph.ways(at).first()?.1;
        }
        None
    }
}
