//! Where a session stands: states of things, readings, answers, frames, counters.

use crate::prompt::{CautionWords, Prompt};
use dwell_card::Card;
use dwell_card::graph::{Act, Node, Outcome, Side};
use dwell_card::meaning::{Clocks, States, Value};
use dwell_quantity::Exact;
use dwell_record::event::Sample;
use std::collections::{BTreeMap, BTreeSet};

/// A value that a reading has.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Stored {
    /// The value, in base units.
    pub value: Value,
    /// The decimals that it is shown with.
    pub decimals: u32,
    /// The samples that counted for it.
    pub samples: Vec<Value>,
}

/// A value of a measurement that is not complete.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Taken {
    /// The value, in base units.
    pub value: Value,
    /// The decimals that were typed.
    pub decimals: u32,
    /// What was typed.
    pub sample: Sample,
    /// When, in seconds since the measurement began, as typed and exactly.
    pub time: Option<(String, Exact)>,
}

/// One frame.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct FrameState {
    /// How it ended, once it has.
    pub outcome: Option<Outcome>,
    /// Whether something was adjusted in it, or in one that it performed.
    pub adjusted: bool,
    /// Whether it is putting things back.
    pub restoring: bool,
}

/// What a reading was before the measurement at hand.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Half {
    /// Its latest value.
    pub latest: Option<Stored>,
    /// Its value as found.
    pub first: Option<Stored>,
}

/// Where a session stands.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct State {
    /// The node that is next, or that waits for its answer.
    pub at: usize,
    /// What is asked.
    pub prompt: Prompt,
    /// The state of each slot, as far as it is known.
    pub slots: Vec<States>,
    /// What each slot was in when the job began, as far as its needs told.
    pub entry: Vec<States>,
    /// The slots whose state was asked, brought about or proved in this job.
    pub known: BTreeSet<usize>,
    /// The latest value of each reading.
    pub latest: Vec<Option<Stored>>,
    /// The value of each reading as found.
    pub first: Vec<Option<Stored>>,
    /// The values of the measurement at hand, for each of its readings.
    pub taken: Vec<Vec<Taken>>,
    /// Readings of the measurement at hand that have their value already, with what they were before: half of a
    /// measurement is none.
    pub half: Vec<(usize, Half)>,
    /// The answer to each question; none before it was asked.
    pub answers: Vec<States>,
    /// The nodes of what is held just now, outermost first.
    pub holds: Vec<usize>,
    /// Who has signed at the node at hand.
    pub signed: Vec<String>,
    /// The last judging.
    pub judged: Option<(usize, Vec<Side>)>,
    /// Judging nodes that were out and are not settled.
    pub open: BTreeSet<usize>,
    /// How often each loop has gone round.
    pub counters: Vec<u32>,
    /// The frames.
    pub frames: Vec<FrameState>,
    /// Nodes of the cautions in reach.
    pub cautions: BTreeSet<usize>,
    /// Nodes of cautions whose block has ended while their hazard lasts.
    pub lasting: BTreeSet<usize>,
    /// Nodes of the cautions that were shown in this step.
    pub shown: BTreeSet<usize>,
    /// The things of which it was told where they are.
    pub located: BTreeSet<String>,
    /// Cautions that were shown since the last answer.
    pub before: Vec<CautionWords>,
    /// How long the states that do not last have been running down.
    pub clocks: Clocks,
    /// The slots that were changed at the vehicle after a place to which the technician went back: the text is gone through
    /// once more with them as they are.
    pub again: BTreeSet<usize>,
    /// The frames in which something was adjusted after such a place.
    pub adjusted_before: BTreeSet<usize>,
    /// Since when each slot is as it is, where that was done in this job.
    pub since: BTreeMap<usize, String>,
    /// Whether the technician has stopped.
    pub stopped: bool,
    /// The result, once frame 0 is closed.
    pub result: Option<dwell_record::Outcome>,
}

impl State {
    /// Before anything: everything in its normal state, nothing read.
    pub(super) fn first(card: &Card) -> State {
        State {
            at: 0,
            prompt: Prompt::Done { result: dwell_record::Outcome::Unfinished },
            slots: card.slots.iter().map(|_| States::only(0)).collect(),
            entry: card.slots.iter().map(|_| States::only(0)).collect(),
            known: BTreeSet::new(),
            latest: card.readings.iter().map(|_| None).collect(),
            first: card.readings.iter().map(|_| None).collect(),
            taken: Vec::new(),
            half: Vec::new(),
            answers: card.questions.iter().map(|_| States::default()).collect(),
            holds: Vec::new(),
            signed: Vec::new(),
            judged: None,
            open: BTreeSet::new(),
            counters: card.counters.iter().map(|_| 0).collect(),
            frames: card.frames.iter().map(|_| FrameState::default()).collect(),
            cautions: BTreeSet::new(),
            lasting: BTreeSet::new(),
            shown: BTreeSet::new(),
            located: BTreeSet::new(),
            before: Vec::new(),
            clocks: Clocks::default(),
            again: BTreeSet::new(),
            adjusted_before: BTreeSet::new(),
            since: BTreeMap::new(),
            stopped: false,
            result: None,
        }
    }

    /// The measurement at hand is left before it is whole: its readings are what they were before it.
    pub(super) fn leave_measurement(&mut self) {
        self.taken.clear();
        for (reading, was) in std::mem::take(&mut self.half) {
            if let Some(place) = self.latest.get_mut(reading) {
                *place = was.latest;
            }
            if let Some(place) = self.first.get_mut(reading) {
                *place = was.first;
            }
        }
    }

    /// The possible states of a slot.
    pub(super) fn slot(&self, slot: usize) -> States {
        self.slots.get(slot).copied().unwrap_or_default()
    }

    /// Sets the state of a slot.
    pub(super) fn set(&mut self, slot: usize, states: States) {
        if let Some(place) = self.slots.get_mut(slot) {
            *place = states;
        }
    }

    /// Takes over the states after some work on these slots.
    pub(super) fn moved(&mut self, after: Vec<States>, slots: impl Iterator<Item = usize>) {
        self.slots = after;
        self.known.extend(slots);
    }

    /// What a need told of a slot that was not known before.
    pub(super) fn told(&mut self, slot: usize, states: States) {
        self.set(slot, states);
        if let Some(place) = self.entry.get_mut(slot) {
            *place = states;
        }
        self.known.insert(slot);
    }

    /// What this job changed and has not put back, in words.
    pub(super) fn left_open(&self, card: &Card) -> Vec<String> {
        self.not_settled(card).into_iter().map(|slot| self.in_words(card, slot)).collect()
    }

    /// The same, each with the time since when it is so, where that is known.
    pub(super) fn open_since(&self, card: &Card) -> Vec<String> {
        let since = |slot: usize| self.since.get(&slot).map(|at| format!(", since {at}")).unwrap_or_default();
        let open = self.not_settled(card).into_iter();
        open.map(|slot| format!("{}{}", self.in_words(card, slot), since(slot))).collect()
    }

    /// The same, and what is known to be in a state with a hazard, in the order in which it is put back.
    pub(super) fn at_hand(&self, card: &Card) -> Vec<String> {
        let hazardous = |slot: &usize| {
            let known = card.slots.get(*slot);
            known.is_some_and(|known| known.hazards.iter().any(|(state, _)| self.slot(*slot).has(*state)))
        };
        let mut all: BTreeSet<usize> = self.known.iter().copied().filter(hazardous).collect();
        all.extend(self.not_settled(card));
        // What is performed just now is put back before what performs it.
        let here = card.nodes.get(self.at).map_or(0, |node| node.frame);
        let put_back = |slot: &usize| {
            let places = [here, 0].into_iter().enumerate().find_map(|(outer, frame)| {
                let own = |node: &Node| node.frame == frame;
                let restore =
                    card.nodes.iter().position(|node| own(node) && matches!(node.act, Act::Restore))?;
                let place = card.nodes.iter().skip(restore).position(|node| match &node.act {
                    Act::Work(work) => own(node) && work.moves.iter().any(|moved| moved.slot == *slot),
                    _ => false,
                })?;
                Some((outer, place))
            });
            (places.unwrap_or((usize::MAX, 0)), *slot)
        };
        // Where something is connected it is that which is seen to; the place that it is on is free with it.
        let port = |slot: &usize| card.slots.get(*slot).is_some_and(|known| known.handling == "port");
        if !all.iter().all(port) {
            all.retain(|slot| !port(slot));
        }
        let mut all: Vec<usize> = all.into_iter().collect();
        all.sort_by_key(put_back);
        all.into_iter().map(|slot| self.in_words(card, slot)).collect()
    }

    fn in_words(&self, card: &Card, slot: usize) -> String {
        let Some(known) = card.slots.get(slot) else { return String::new() };
        let now = self.slot(slot);
        let names: Vec<&str> =
            now.iter().filter_map(|state| known.states.get(state)).map(String::as_str).collect();
        format!("The {} is {}", known.label, names.join(" or ").replace('-', " "))
    }

    fn not_settled(&self, card: &Card) -> Vec<usize> {
        let leaves = card.frames.first().map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        let mut all = Vec::new();
        for slot in &self.known {
            let Some(known) = card.slots.get(*slot) else { continue };
            let entry = self.entry.get(*slot).copied().unwrap_or_default();
            let mut settled = States::these(&known.may_stay).or(States::only(0)).or(entry);
            for (_, state) in leaves.iter().filter(|(left, _)| left == slot) {
                settled = settled.or(States::only(*state));
            }
            let now = self.slot(*slot);
            if now.within(settled) {
                continue;
            }
            all.push(*slot);
        }
        all
    }
}
