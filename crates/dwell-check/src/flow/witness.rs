//! A way through the card as a witness: its nodes, the answers that make the runner take it, and its words.

mod shape;
mod values;

use super::explore::{Link, Reached};
use super::state::State;
use super::vehicles::Vehicles;
use crate::finding::{Reply, Witness};
use crate::lower::Lowered;
use dwell_card::graph::{Act, Hold, Measure, Side, Way};
use dwell_card::meaning::{States, Truth, is_sampled, work};
use dwell_card::words::as_written;
pub use shape::moved;
use values::{listed, samples};

/// The way that led to one entry of the walk.
pub(super) struct Trail<'a> {
    /// All entries.
    pub(super) entries: &'a [Reached],
    /// The last one of the way.
    pub(super) last: usize,
    /// The vehicles that are meant at the last one.
    pub(super) vehicles: &'a Vehicles,
}

/// An entry on a way, with the step that led to it.
#[derive(Clone, Copy)]
struct Passed<'a> {
    entry: &'a Reached,
    link: Option<&'a Link>,
}

impl<'a> Trail<'a> {
    /// The entries from the first to the last, on a way that some of the vehicles really take; and which of them do.
    fn walked(&self) -> (Vec<Passed<'a>>, Vehicles) {
        let mut path = Vec::new();
        let mut vehicles = self.vehicles.clone();
        let mut now = self.entries.get(self.last);
        while let Some(entry) = now {
            let link = entry.links.iter().find_map(|link| Some((link, vehicles.both(&link.vehicles)?)));
            path.push(Passed { entry, link: link.as_ref().map(|(link, _)| *link) });
            now = link.and_then(|(link, those)| {
                vehicles = those;
                self.entries.get(link.from)
            });
        }
        path.reverse();
        (path, vehicles)
    }

    fn path(&self) -> Vec<Passed<'a>> {
        self.walked().0
    }

    /// The values of the variants of one vehicle that takes the way.
    pub(super) fn chosen(&self) -> Vec<usize> {
        self.walked().1.first()
    }

    /// The state before the last node.
    pub(super) fn state(&self) -> &'a State {
        static NOTHING: std::sync::OnceLock<State> = std::sync::OnceLock::new();
        match self.entries.get(self.last) {
            Some(entry) => &entry.state,
            None => NOTHING.get_or_init(empty),
        }
    }

    /// The last node on the way that changed a slot.
    pub(super) fn last_change(&self, slot: usize) -> Option<usize> {
        let path = self.path();
        path.windows(2)
            .rev()
            .find(|pair| match pair {
                [Passed { entry: before, .. }, Passed { entry: after, .. }] => {
                    before.state.slot(slot) != after.state.slot(slot)
                }
                _ => false,
            })
            .and_then(|pair| pair.first().map(|passed| passed.entry.node))
    }

    /// Whether a slot was surely in one of these states anywhere on the way.
    pub(super) fn held(&self, slot: usize, states: States) -> bool {
        self.path().iter().any(|passed| surely(&passed.entry.state, slot, states))
    }

    /// The node at which a slot last came out of these states.
    pub(super) fn lost(&self, slot: usize, states: States) -> Option<usize> {
        let path = self.path();
        path.windows(2)
            .rev()
            .find(|pair| match pair {
                [Passed { entry: before, .. }, Passed { entry: after, .. }] => {
                    surely(&before.state, slot, states) && !surely(&after.state, slot, states)
                }
                _ => false,
            })
            .and_then(|pair| pair.first().map(|passed| passed.entry.node))
    }

    fn last_node(&self, fits: impl Fn(usize) -> bool) -> Option<usize> {
        self.path().iter().rev().map(|passed| passed.entry.node).find(|node| fits(*node))
    }

    /// The last node that settled an outcome, or the last that a statement stands for before `restore`.
    pub(super) fn last_end(&self, lowered: &Lowered) -> Option<usize> {
        let act = |node: usize| lowered.card.nodes.get(node).map(|node| &node.act);
        let path = self.path();
        let restore = path.iter().rposition(|passed| matches!(act(passed.entry.node), Some(Act::Restore)))?;
        path.iter()
            .take(restore)
            .rev()
            .map(|passed| passed.entry.node)
            .find(|node| lowered.made.get(*node) == Some(&false) || matches!(act(*node), Some(Act::End(_))))
    }

    /// The last node that judged.
    pub(super) fn last_judge(&self, lowered: &Lowered) -> Option<usize> {
        self.last_node(|node| {
            matches!(lowered.card.nodes.get(node).map(|node| &node.act), Some(Act::Judge(_)))
        })
    }

    /// The last node that judged something to be out, not counting the tries of an adjustment.
    pub(super) fn last_out(&self, lowered: &Lowered) -> Option<usize> {
        self.path().windows(2).rev().find_map(|pair| match pair {
            [this, next] if next.link.is_some_and(|link| link.way == Way::Out) => {
                let node = this.entry.node;
                let act = lowered.card.nodes.get(node).map(|node| &node.act);
                matches!(act, Some(Act::Judge(judge)) if !judge.adjusting).then_some(node)
            }
            _ => None,
        })
    }

    /// The last node that may have moved a reading.
    pub(super) fn last_mover(&self, reading: usize, lowered: &Lowered) -> Option<usize> {
        let path = self.path();
        path.iter()
            .rev()
            .map(|passed| passed.entry)
            .find(|entry| moves(entry, reading, lowered))
            .map(|entry| entry.node)
    }

    /// The node after which a reading counts as moved before it was first taken.
    pub(super) fn first_mover(&self, reading: usize, lowered: &Lowered) -> Option<usize> {
        let path = self.path();
        let after = path.iter().position(|passed| passed.entry.state.early.contains(&reading))?;
        let before = path.get(..after)?.last()?;
        moves(before.entry, reading, lowered).then_some(before.entry.node)
    }

    /// The last node at which something was done that this check must follow.
    pub(super) fn last_to_check(&self, check: usize, lowered: &Lowered) -> Option<usize> {
        let path = self.path();
        let follows = |node: usize| lowered.checked_after.get(&node).is_some_and(|all| all.contains(&check));
        let done = path.iter().rev().map(|passed| passed.entry).find(|entry| {
            follows(entry.node)
                && matches!(lowered.card.nodes.get(entry.node).map(|node| &node.act), Some(Act::Work(done))
                    if work(done, &[], &entry.state.slots).skipped != Truth::Yes)
        });
        done.map(|entry| entry.node)
    }

    /// The last node that took a reading.
    pub(super) fn last_measure(&self, reading: usize, lowered: &Lowered) -> Option<usize> {
        self.last_node(|node| match lowered.card.nodes.get(node).map(|node| &node.act) {
            Some(Act::Measure(measure)) => measure.readings.contains(&reading),
            _ => false,
        })
    }
}

/// Whether something at this node may have moved a reading; what was skipped because nothing was owed moved nothing.
fn moves(entry: &Reached, reading: usize, lowered: &Lowered) -> bool {
    match lowered.card.nodes.get(entry.node).map(|node| &node.act) {
        Some(Act::Work(done)) => {
            done.disturbs.contains(&reading) && work(done, &[], &entry.state.slots).skipped != Truth::Yes
        }
        _ => false,
    }
}

fn surely(state: &State, slot: usize, states: States) -> bool {
    let now = state.slot(slot);
    !now.is_empty() && now.within(states)
}

fn empty() -> State {
    State {
        slots: Vec::new(),
        known: Default::default(),
        touched: Default::default(),
        readings: Default::default(),
        moved: Default::default(),
        judged: Default::default(),
        found_out: Default::default(),
        early: Default::default(),
        unchecked: Default::default(),
        untaken: Default::default(),
        unsigned: Default::default(),
        answers: Default::default(),
        last: None,
        open: Default::default(),
        frames: Vec::new(),
        covers: Default::default(),
        lasting: Default::default(),
        keeps: Default::default(),
        rounds: Default::default(),
        found: Default::default(),
        clocks: Default::default(),
        stopped: false,
    }
}

/// One node of the way with the state before it and the way taken.
#[derive(Clone, Copy)]
struct Stop<'a> {
    node: usize,
    state: &'a State,
    way: Way,
    /// What it decided.
    decided: Option<&'a State>,
}

/// The witness of a way. Where somebody stops, it leads to that node; the rest is `restore`.
pub(super) fn witness(trail: &Trail<'_>, chosen: &[usize], lowered: &Lowered) -> Witness {
    traced(trail, chosen, lowered).0
}

/// The witness of a way, and what is answered and read on it, each in words.
pub(super) fn traced(trail: &Trail<'_>, chosen: &[usize], lowered: &Lowered) -> (Witness, Vec<String>) {
    let mut path = trail.path();
    let stopped = path.iter().position(|passed| passed.entry.state.stopped);
    if let Some(at) = stopped {
        path.truncate(at);
    }
    let mut stops: Vec<Stop<'_>> = path
        .windows(2)
        .filter_map(|pair| match pair {
            [this, next] => Some(Stop {
                node: this.entry.node,
                state: &this.entry.state,
                way: next.link.map_or(Way::Then, |link| link.way),
                decided: next.link.and_then(|link| link.decided.as_deref()),
            }),
            _ => None,
        })
        .collect();
    if let Some(Passed { entry: last, .. }) = path.last() {
        stops.push(Stop { node: last.node, state: &last.state, way: Way::Then, decided: None });
    }
    let stops = rounds(stops, lowered);
    let axes = lowered.card.axes.iter().zip(chosen);
    let variants: Vec<(String, String)> = axes
        .filter_map(|(axis, value)| Some((axis.name.clone(), axis.values.get(*value)?.clone())))
        .collect();
    let mut answers = Vec::new();
    let mut told: Vec<String> = Vec::new();
    for (at, stop) in stops.iter().enumerate() {
        let rest = stops.get(at + 1..).unwrap_or_default();
        reply(stop, rest, lowered, &mut answers, &mut told);
    }
    if stopped.is_some() {
        told.push(match path.last().and_then(|passed| asked(passed.entry.node, lowered)) {
            Some(says) => {
                format!("somebody stops at “{}”", as_written(says, &lowered.card).trim_end_matches('.'))
            }
            None => "somebody stops".to_owned(),
        });
    }
    let says = in_words(&told);
    let procedure = lowered.card.procedure.clone();
    let nodes = stops.iter().map(|stop| (stop.node, stop.way)).collect();
    (Witness { procedure, variants, nodes, answers, says }, told)
}

/// What is held at a node that has a way for its being lost.
fn held_at(node: usize, lowered: &Lowered) -> Option<&Hold> {
    let nodes = &lowered.card.nodes;
    let Act::Release { hold, .. } = &nodes.get(*nodes.get(node)?.next.get(&Way::Lost)?)?.act else {
        return None;
    };
    match &nodes.get(*hold)?.act {
        Act::Hold(hold) => Some(hold),
        _ => None,
    }
}

/// What a node asks to be done or read, in words.
fn asked(node: usize, lowered: &Lowered) -> Option<&str> {
    match &lowered.card.nodes.get(node)?.act {
        Act::Work(work) => Some(&work.says),
        Act::Measure(measure) => Some(&measure.says),
        Act::Wait { says, .. } | Act::Need { says, .. } => Some(says),
        Act::Note { text } => Some(text),
        Act::Sign { .. } => Some("signature"),
        Act::Ask { question } => lowered.card.questions.get(*question).map(|known| known.text.as_str()),
        _ => None,
    }
}

/// Loops that end because they may not go round once more really go round that often.
fn rounds<'a>(stops: Vec<Stop<'a>>, lowered: &Lowered) -> Vec<Stop<'a>> {
    let mut out: Vec<Stop<'a>> = Vec::new();
    for stop in stops {
        if let (Some(Act::Count { counter }), Way::Spent) =
            (lowered.card.nodes.get(stop.node).map(|node| &node.act), stop.way)
        {
            let most = lowered.card.counters.get(*counter).copied().unwrap_or(0) as usize;
            let begin = out
                .iter()
                .rposition(|known| {
                    matches!(lowered.card.nodes.get(known.node).map(|node| &node.act), Some(Act::Begin { counter: of }) if of == counter)
                })
                .unwrap_or(0);
            let again: Vec<usize> = (begin..out.len())
                .filter(|at| {
                    out.get(*at).is_some_and(|known| known.node == stop.node && known.way == Way::Again)
                })
                .collect();
            if let Some(from) = again.last().copied() {
                let to = out.len();
                for _ in again.len()..most {
                    for at in from..to {
                        if let Some(known) = out.get(at).copied() {
                            out.push(known);
                        }
                    }
                }
            }
        }
        out.push(stop);
    }
    out
}

fn reply(
    stop: &Stop<'_>,
    rest: &[Stop<'_>],
    lowered: &Lowered,
    answers: &mut Vec<Reply>,
    told: &mut Vec<String>,
) {
    let Some(node) = lowered.card.nodes.get(stop.node) else { return };
    if stop.way == Way::Lost {
        let Some(hold) = held_at(stop.node, lowered) else { return };
        let says = asked(stop.node, lowered).unwrap_or("this");
        let says = as_written(says, &lowered.card);
        let held = hold.says.trim_end_matches('.');
        told.push(format!("“{held}” is lost at “{}”", says.trim_end_matches('.')));
        return answers.push(Reply::Lost(hold.name.clone()));
    }
    match &node.act {
        Act::Need { required, proved: false, says } if !stop.state.known.contains(&required.slot) => {
            answers.push(Reply::Need { node: stop.node, holds: stop.way == Way::Yes });
            if stop.way == Way::No {
                told.push(format!("“{}” is answered with no", says.trim_end_matches('.')));
            }
        }
        Act::Ask { question } => {
            let Some(known) = lowered.card.questions.get(*question) else { return };
            let choice = rest
                .iter()
                .take_while(|later| later.node != stop.node)
                .filter_map(|later| later.decided.and_then(|state| state.answers.get(*question)))
                .filter(|states| !states.is_empty())
                .last()
                .and_then(|states| states.iter().next())
                .unwrap_or(0);
            let choice = known.values.get(choice).cloned().unwrap_or_default();
            told.push(format!("{} is {choice}", known.name));
            answers.push(Reply::Choice(known.name.clone(), choice));
        }
        Act::Measure(measure) => measured(measure, rest, lowered, answers, told),
        Act::Sign { persons } => {
            answers.extend(
                ["first person", "second person"]
                    .iter()
                    .take(*persons as usize)
                    .map(|person| Reply::Signature((*person).to_owned())),
            );
        }
        Act::Work(work) if stop.way == Way::NoReading => {
            told.extend(work.worked_out.iter().map(|set| format!("`{}` cannot be worked out", set.name)));
        }
        Act::Count { .. } if stop.way == Way::Spent => told.push("it cannot be brought in".into()),
        _ => {}
    }
}

fn measured(
    measure: &Measure,
    rest: &[Stop<'_>],
    lowered: &Lowered,
    answers: &mut Vec<Reply>,
    told: &mut Vec<String>,
) {
    let values: Vec<Option<Vec<(String, String)>>> =
        measure.readings.iter().map(|reading| samples(*reading, measure, rest, lowered)).collect();
    if is_sampled(measure) {
        for (reading, samples) in measure.readings.iter().zip(&values) {
            let Some(known) = lowered.card.readings.get(*reading) else { continue };
            let name = known.name.clone();
            answers.push(match samples.as_ref().and_then(|samples| listed(samples)) {
                Some((number, unit)) => Reply::Value { name, number, unit },
                None => Reply::NoReading(name),
            });
        }
    }
    let rounds = if is_sampled(measure) { 0 } else { measure.times.max(1) };
    for round in 0..rounds as usize {
        for (reading, samples) in measure.readings.iter().zip(&values) {
            let Some(known) = lowered.card.readings.get(*reading) else { continue };
            match samples.as_ref().and_then(|samples| samples.get(round)) {
                Some((number, unit)) => answers.push(Reply::Value {
                    name: known.name.clone(),
                    number: number.clone(),
                    unit: unit.clone(),
                }),
                None => answers.push(Reply::NoReading(known.name.clone())),
            }
        }
    }
    for (reading, samples) in measure.readings.iter().zip(&values) {
        let Some(known) = lowered.card.readings.get(*reading) else { continue };
        let name = match &known.at {
            Some(at) => format!("{} ({at})", known.name),
            None => known.name.clone(),
        };
        let Some(side) = next_side(*reading, rest, lowered) else { continue };
        match samples.as_ref().and_then(|samples| samples.last()) {
            Some((number, unit)) => told.push(format!("{name} is {number} {unit} ({side})")),
            None => told.push(format!("there is no reading of {name}")),
        }
    }
}

/// How the reading comes out when it is next judged.
fn next_side(reading: usize, rest: &[Stop<'_>], lowered: &Lowered) -> Option<&'static str> {
    let at = rest.iter().position(|stop| {
        lowered.card.nodes.get(stop.node).is_some_and(|node| {
            super::live::tests_of(node)
                .iter()
                .any(|test| super::live::all_readings(test, lowered).contains(&reading))
        })
    })?;
    let judged = rest.get(at)?;
    let node = lowered.card.nodes.get(judged.node)?;
    let test = super::live::tests_of(node)
        .iter()
        .position(|test| super::live::all_readings(test, lowered).contains(&reading))?;
    let came = judged.decided.and_then(|state| state.last.as_ref()).filter(|(of, _)| *of == judged.node);
    match came.and_then(|(_, all)| all.get(test)) {
        Some(Side::In) => Some("in band"),
        Some(Side::Low) => Some("low"),
        Some(Side::High) => Some("high"),
        Some(Side::NoReading) => Some("not decided"),
        Some(Side::Other) => Some("out"),
        None => match judged.way {
            Way::In => Some("in band"),
            Way::Out => Some("out"),
            _ => None,
        },
    }
}

fn in_words(told: &[String]) -> String {
    let from = told.len().saturating_sub(4);
    let mut parts: Vec<String> = Vec::new();
    for part in told.get(from..).unwrap_or_default() {
        if parts.last() != Some(part) {
            parts.push(part.clone());
        }
    }
    match parts.split_last() {
        None => "This happens on every way through.".to_owned(),
        Some((last, [])) => format!("This happens when {last}."),
        Some((last, first)) => format!("This happens when {} and {last}.", first.join(", ")),
    }
}
