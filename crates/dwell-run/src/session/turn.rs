//! One turn: from an answer to the next prompt, on a copy of the state.

use super::state::State;
use super::view::View;
use super::watched::{Came, Moment};
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_card::graph::{Act, Node, Outcome, Way};
use dwell_card::meaning::States;
use dwell_record::event::Words;
use dwell_record::{Event, What};

/// The most nodes that are gone through without asking anything.
const MOST_AUTOMATIC: usize = 100_000;

/// What is done with a value that looks like a slip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Belief {
    /// It is asked back.
    Ask,
    /// It was asked back and is given again: it is taken and marked.
    Keep,
    /// It stands in a record: it is taken with the mark that it has there.
    Recorded,
}

/// From an answer to the next prompt.
pub(super) struct Turn<'a> {
    /// The card.
    pub card: &'a Card,
    /// For each axis the place of its value.
    pub chosen: &'a [usize],
    /// The state, a copy.
    pub state: State,
    /// The events before this turn.
    pub before: &'a [Event],
    /// What is done with a value that looks like a slip.
    pub belief: Belief,
    /// What gave the value by itself, an instrument or a file; none for a person.
    pub source: Option<String>,
    /// The events of this turn.
    pub events: Vec<Event>,
    /// The nodes gone through in this turn.
    pub trace: Vec<(usize, Way)>,
    /// What was so after each of them, where somebody wants to know.
    pub moments: Option<Vec<Moment>>,
    /// How the tests of the node at hand came out, where somebody wants to know.
    pub came: Vec<Came>,
    /// The slots that were changed at the vehicle in this turn: by work, by a wait, by what was lost.
    pub hands: Vec<usize>,
    /// The last node gone through.
    pub last: Option<(usize, Way)>,
    /// The time.
    pub at: String,
}

impl<'a> Turn<'a> {
    /// A look at the state.
    pub(super) fn view(&self) -> View<'_> {
        View { card: self.card, chosen: self.chosen, state: &self.state }
    }

    /// Notes what happened.
    pub(super) fn happened(&mut self, node: Option<usize>, what: What) {
        let before = self.before.last().map_or(0, |last| last.seq);
        let seq = self.events.last().map_or(before, |last| last.seq).saturating_add(1);
        self.events.push(Event { seq, at: self.at.clone(), node, what });
    }

    /// Notes which slots are otherwise than they were: that was done at the vehicle, and no going back undoes it.
    pub(super) fn by_hand(&mut self, before: &[States]) {
        let pairs = before.iter().zip(&self.state.slots).enumerate();
        let changed: Vec<usize> =
            pairs.filter(|(_, (before, now))| before != now).map(|(slot, _)| slot).collect();
        self.state.since.extend(changed.iter().map(|slot| (*slot, self.at.clone())));
        self.hands.extend(changed);
    }

    /// Notes what does not fit.
    pub(super) fn doubt(&mut self, text: String) {
        self.happened(Some(self.state.at), What::Doubt(Words { text }));
    }

    /// The node at hand.
    pub(super) fn node(&self) -> Result<&'a Node, Refusal> {
        let at = self.state.at;
        self.card.nodes.get(at).ok_or_else(|| Refusal::BrokenCard(format!("node {at} is not there")))
    }

    /// Goes on from the node at hand.
    pub(super) fn take(&mut self, way: Way) -> Result<(), Refusal> {
        let node = self.node()?;
        let at = self.state.at;
        let to = node.next.get(&way).copied();
        let to = to.ok_or_else(|| Refusal::BrokenCard(format!("node {at} has no way on for {way:?}")))?;
        self.watch(way);
        self.trace.push((at, way));
        self.last = Some((at, way));
        self.state.at = to;
        Ok(())
    }

    /// Goes through all nodes that ask nothing, to the next prompt.
    pub(super) fn advance(&mut self) -> Result<(), Refusal> {
        for _ in 0..MOST_AUTOMATIC {
            if !self.pass()? {
                return Ok(());
            }
        }
        Err(Refusal::BrokenCard("it goes round without ever asking anything".into()))
    }

    /// STOP: the outcome is unfinished, and the restore of the frame at hand begins, or goes on.
    pub(super) fn stop(&mut self, why: &str) -> Result<(), Refusal> {
        if self.state.result.is_some() {
            return Err(Refusal::Over);
        }
        let frame = self.node()?.frame;
        self.happened(Some(self.state.at), What::Stopped(Words { text: why.to_owned() }));
        self.state.stopped = true;
        self.state.before.clear();
        self.abandon(frame)?;
        self.advance()
    }

    /// Ends a frame unfinished and goes to its restore, unless it is there already.
    pub(super) fn abandon(&mut self, frame: usize) -> Result<bool, Refusal> {
        let Some(known) = self.state.frames.get_mut(frame) else { return Ok(false) };
        known.outcome = Some(Outcome::Unfinished);
        if known.restoring {
            return Ok(false);
        }
        let restore =
            self.card.nodes.iter().position(|node| node.frame == frame && matches!(node.act, Act::Restore));
        let restore = restore
            .ok_or_else(|| Refusal::BrokenCard(format!("frame {frame} has no list of what is put back")))?;
        self.state.leave_measurement();
        self.state.signed.clear();
        self.state.at = restore;
        Ok(true)
    }
}
