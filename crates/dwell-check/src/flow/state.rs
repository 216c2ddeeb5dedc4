//! One state of the job, as far as the analysis tells states apart.

use crate::lower::Lowered;
use dwell_card::graph::{Outcome, Side};
use dwell_card::meaning::{Clocks, States, Value};
use dwell_quantity::Band;
use std::collections::BTreeSet;

/// What may be so at one moment.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct State {
    /// The possible states of each slot.
    pub(super) slots: Vec<States>,
    /// Slots whose state was asked or brought about in this job.
    pub(super) known: BTreeSet<usize>,
    /// Slots whose state may have been asked or brought about: where states were joined, more than those that surely were.
    pub(super) touched: BTreeSet<usize>,
    /// What is known of each reading; `Missing` before it was taken.
    pub(super) readings: Vec<Value>,
    /// Readings that something has moved since they were taken.
    pub(super) moved: BTreeSet<usize>,
    /// Readings that something was decided by.
    pub(super) judged: BTreeSet<usize>,
    /// Readings that will be adjusted and were taken at least once.
    pub(super) found_out: BTreeSet<usize>,
    /// Readings that will be adjusted and were moved before they were first taken.
    pub(super) early: BTreeSet<usize>,
    /// The possible answers to each question; none before it was asked.
    pub(super) answers: Vec<States>,
    /// The last judging, as long as an arm looks at it.
    pub(super) last: Option<(usize, Vec<Side>)>,
    /// Judging nodes that were out and are not settled.
    pub(super) open: BTreeSet<usize>,
    /// The frames that are open, innermost last.
    pub(super) frames: Vec<Opened>,
    /// Cautions that are in reach.
    pub(super) covers: BTreeSet<usize>,
    /// Hazards that last since they were covered, each with the frame whose caution covered it.
    pub(super) lasting: BTreeSet<(usize, usize)>,
    /// Hazards that were there when a frame began, by a need of it: frame, slot, state, hazard.
    pub(super) found: BTreeSet<(usize, usize, usize, usize)>,
    /// The `keep`s in force.
    pub(super) keeps: BTreeSet<usize>,
    /// Counters whose loop went round at least once.
    pub(super) rounds: BTreeSet<usize>,
    /// How long the states that do not last have been running down.
    pub(super) clocks: Clocks,
    /// Whether somebody stopped; every frame then ends unfinished after its `restore`.
    pub(super) stopped: bool,
}

/// A frame that is open.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct Opened {
    /// The frame.
    pub(super) frame: usize,
    /// The states of the slots when it was opened, as far as `needs` told.
    pub(super) entry: Vec<States>,
    /// How it ended, once it has.
    pub(super) outcome: Option<Outcome>,
    /// Whether it was ended inside `restore`: what is left there is an open list.
    pub(super) open_list: bool,
    /// Whether something in it was out that nothing can settle any more.
    pub(super) failed: bool,
    /// Whether its `restore` has begun.
    pub(super) restoring: bool,
}

impl State {
    /// Before anything: everything in its normal state, nothing read.
    pub(super) fn first(lowered: &Lowered) -> State {
        State {
            slots: lowered.card.slots.iter().map(|_| States::only(0)).collect(),
            known: BTreeSet::new(),
            touched: BTreeSet::new(),
            readings: lowered.card.readings.iter().map(|_| Value::Missing).collect(),
            moved: BTreeSet::new(),
            judged: BTreeSet::new(),
            found_out: BTreeSet::new(),
            early: BTreeSet::new(),
            answers: lowered.card.questions.iter().map(|_| States::default()).collect(),
            last: None,
            open: BTreeSet::new(),
            frames: Vec::new(),
            covers: BTreeSet::new(),
            lasting: BTreeSet::new(),
            found: BTreeSet::new(),
            keeps: BTreeSet::new(),
            rounds: BTreeSet::new(),
            clocks: Clocks::default(),
            stopped: false,
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

    /// Notes that a slot was asked or brought about.
    pub(super) fn told(&mut self, slot: usize) {
        self.known.insert(slot);
        self.touched.insert(slot);
    }

    /// Somebody stops: all frames will end unfinished, whatever was out. What was decided does not matter any more.
    pub(super) fn stop(&mut self) {
        self.stopped = true;
        if let Some(frame) = self.frames.last_mut() {
            frame.outcome = Some(Outcome::Unfinished);
        }
        self.found.clear();
        self.moved.clear();
        self.judged.clear();
        self.found_out.clear();
        self.early.clear();
        self.open.clear();
    }

    /// Takes in what is possible in `other` as well. Both are at the same node, so their frames are the same. What is
    /// permitted is what both permit: a state that only one of them began in counts as owed.
    pub(super) fn join(&mut self, other: &State) {
        for (here, there) in self.slots.iter_mut().zip(&other.slots) {
            *here = here.or(*there);
        }
        for (here, there) in self.answers.iter_mut().zip(&other.answers) {
            *here = here.or(*there);
        }
        for (here, there) in self.readings.iter_mut().zip(&other.readings) {
            if here != there {
                *here = hull(here, there);
            }
        }
        for (here, there) in self.frames.iter_mut().zip(&other.frames) {
            for (a, b) in here.entry.iter_mut().zip(&there.entry) {
                *a = a.and(*b);
            }
        }
        self.known = both(&self.known, &other.known);
        self.found_out = both(&self.found_out, &other.found_out);
        self.covers = both(&self.covers, &other.covers);
        self.lasting = both(&self.lasting, &other.lasting);
        self.touched.extend(&other.touched);
        self.found.extend(&other.found);
        self.moved.extend(&other.moved);
        self.judged.extend(&other.judged);
        self.early.extend(&other.early);
        self.open.extend(&other.open);
        self.keeps.extend(&other.keeps);
        self.rounds.extend(&other.rounds);
        self.clocks.join(&other.clocks);
    }

    /// Whether two states may be joined: what decides the ways on must be the same, and as long as not too many are apart
    /// (`closely`) also what the things are in now, and were in when the frames began.
    pub(super) fn joins(&self, other: &State, closely: bool) -> bool {
        self.last == other.last
            && self.stopped == other.stopped
            && self.open == other.open
            && (!closely || self.slots == other.slots)
            && self.frames.len() == other.frames.len()
            && self.frames.iter().zip(&other.frames).all(|(a, b)| {
                (a.outcome, a.open_list, a.failed, a.restoring)
                    == (b.outcome, b.open_list, b.failed, b.restoring)
                    && (!closely || a.entry == b.entry)
            })
    }
}

fn both<T: Copy + Ord>(one: &BTreeSet<T>, other: &BTreeSet<T>) -> BTreeSet<T> {
    one.intersection(other).copied().collect()
}

/// The smallest value that holds both.
fn hull(one: &Value, other: &Value) -> Value {
    let parts = |value: &Value| match value {
        Value::Missing => (None, true),
        Value::Read(band) => (Some(band.clone()), false),
        Value::Somewhere { band, or_missing } => (Some(band.clone()), *or_missing),
    };
    let ((a, missing), (b, absent)) = (parts(one), parts(other));
    let band = match (a, b) {
        (Some(a), Some(b)) => widest(&a, &b),
        (Some(band), None) | (None, Some(band)) => band,
        (None, None) => return Value::Missing,
    };
    Value::Somewhere { band, or_missing: missing || absent }
}

fn widest(a: &Band, b: &Band) -> Band {
    let low = match (&a.low, &b.low) {
        (Some(x), Some(y)) if x.value < y.value || (x.value == y.value && x.closed) => Some(x.clone()),
        (Some(_), Some(y)) => Some(y.clone()),
        _ => None,
    };
    let high = match (&a.high, &b.high) {
        (Some(x), Some(y)) if x.value > y.value || (x.value == y.value && x.closed) => Some(x.clone()),
        (Some(_), Some(y)) => Some(y.clone()),
        _ => None,
    };
    Band { low, high }
}
