//! One state of the job, as far as the analysis tells states apart.

use super::bits::Bits;
use super::set::Set;
use super::shared::Shared;
use crate::lower::Lowered;
use dwell_card::graph::{Outcome, Side};
use dwell_card::meaning::{Clocks, States, Value};

/// What may be so at one moment.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub(super) struct State {
    /// The possible states of each slot.
    pub(super) slots: Vec<States>,
    /// Slots whose state was asked or brought about in this job.
    pub(super) known: Bits,
    /// Slots whose state may have been asked or brought about: where states were joined, more than those that surely were.
    pub(super) touched: Bits,
    /// What is known of each reading; `Missing` before it was taken.
    pub(super) readings: Shared<Value>,
    /// Readings that something has moved since they were taken.
    pub(super) moved: Bits,
    /// Readings that something was decided by.
    pub(super) judged: Bits,
    /// Readings that will be adjusted and were taken at least once.
    pub(super) found_out: Bits,
    /// Readings that will be adjusted and were moved before they were first taken.
    pub(super) early: Bits,
    /// What must be judged since something was done, by its place in the list of checks.
    pub(super) unchecked: Bits,
    /// Readings that were not taken since something was done that they check: by check and reading.
    pub(super) untaken: Set<(usize, usize)>,
    /// Nodes that were done and that nobody has signed for yet, although somebody must.
    pub(super) unsigned: Bits,
    /// The possible answers to each question; none before it was asked.
    pub(super) answers: Shared<States>,
    /// The last judging, as long as an arm looks at it.
    pub(super) last: Option<(usize, Vec<Side>)>,
    /// Judging nodes that were out and are not settled.
    pub(super) open: Set<usize>,
    /// The frames that are open, innermost last.
    pub(super) frames: Vec<Opened>,
    /// Cautions that are in reach.
    pub(super) covers: Set<usize>,
    /// Hazards that last since they were covered, each with the frame whose caution covered it.
    pub(super) lasting: Set<(usize, usize)>,
    /// Hazards that were there when a frame began, by a need of it: frame, slot, state, hazard.
    pub(super) found: Set<(usize, usize, usize, usize)>,
    /// The `keep`s in force.
    pub(super) keeps: Set<usize>,
    /// Counters whose loop went round at least once.
    pub(super) rounds: Bits,
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
    pub(super) entry: Shared<States>,
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
            known: Bits::default(),
            touched: Bits::default(),
            readings: lowered.card.readings.iter().map(|_| Value::Missing).collect(),
            moved: Bits::default(),
            judged: Bits::default(),
            found_out: Bits::default(),
            early: Bits::default(),
            unchecked: Bits::default(),
            untaken: Set::new(),
            unsigned: Bits::default(),
            answers: lowered.card.questions.iter().map(|_| States::default()).collect(),
            last: None,
            open: Set::new(),
            frames: Vec::new(),
            covers: Set::new(),
            lasting: Set::new(),
            found: Set::new(),
            keeps: Set::new(),
            rounds: Bits::default(),
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
        self.unchecked.clear();
        self.untaken.clear();
        self.unsigned.clear();
        self.open.clear();
    }

    /// Takes in what is possible in `other` as well. Both are at the same node, so their frames are the same. What is
    /// permitted is what both permit: a state that only one of them began in counts as owed.
    pub(super) fn join(&mut self, other: &State) {
        for (here, there) in self.slots.iter_mut().zip(&other.slots) {
            *here = here.or(*there);
        }
        for (place, there) in other.answers.iter().enumerate() {
            if let Some(here) = self.answers.get(place).copied() {
                self.answers.set(place, here.or(*there));
            }
        }
        for (place, there) in other.readings.iter().enumerate() {
            let hull = self.readings.get(place).filter(|here| *here != there);
            if let Some(hull) = hull.map(|here| here.room().joined(&there.room())) {
                self.readings.set(place, Value::of(hull));
            }
        }
        for (here, there) in self.frames.iter_mut().zip(&other.frames) {
            for (place, b) in there.entry.iter().enumerate() {
                if let Some(a) = here.entry.get(place).copied() {
                    here.entry.set(place, a.and(*b));
                }
            }
        }
        self.known = self.known.both(&other.known);
        self.found_out = self.found_out.both(&other.found_out);
        self.covers = self.covers.both(&other.covers);
        self.lasting = self.lasting.both(&other.lasting);
        self.touched.join(&other.touched);
        self.found.extend(&other.found);
        self.moved.join(&other.moved);
        self.judged.join(&other.judged);
        self.early.join(&other.early);
        self.unchecked.join(&other.unchecked);
        self.untaken.extend(&other.untaken);
        self.unsigned.join(&other.unsigned);
        self.open.extend(&other.open);
        self.keeps.extend(&other.keeps);
        self.rounds.join(&other.rounds);
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
