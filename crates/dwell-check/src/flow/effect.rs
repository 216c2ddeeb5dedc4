//! What one node does to a state of the job, which ways lead on from it, and what is wrong there.

mod checking;
mod deciding;
mod ending;
mod grouped;
mod hazard;
mod many;
mod reading;
mod setting;
mod signing;
mod stale;

use super::state::{Opened, State};
use crate::lower::Lowered;
use checking::{check_owed, taken_for_checks};
use deciding::{branched, judged};
use dwell_card::graph::{Act, Held, Outcome, Way, Work};
use dwell_card::meaning::{States, Truth, Value, begun, lost, unready, work};
use dwell_card::vehicle::{Guard, Ready, Required};
use ending::closed;
pub(super) use ending::{debts, outcome};
pub(super) use hazard::covered;
use hazard::{activated, found, found_covered, kept, uncover};
use reading::{measured, size_taken};
pub(super) use setting::reach;
use signing::{sign, to_sign};
use stale::moved_early;

/// What can follow.
#[derive(Default)]
pub(super) struct Effects {
    /// The ways on, each with the state after.
    pub(super) ways: Vec<(Way, State)>,
    /// What is wrong.
    pub(super) faults: Vec<Fault>,
    /// Whether work was left out because nothing is owed.
    pub(super) left_out: bool,
}

/// Something that is wrong at a node in a state.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Fault {
    /// One of the node's needs may not hold.
    Unmet { need: usize, required: Required },
    /// A performed procedure asks for a state that is known not to be.
    CalledUnready { required: Required, says: String },
    /// A procedure that should have brought a state about did not.
    NotEnsured { frame: usize },
    /// A procedure ends passed, and a state that it says it leaves may not be.
    NotLeft { frame: usize, slot: usize },
    /// A verb that does not start from here.
    Wrong { slot: usize },
    /// A `keep` is broken.
    Kept { keep: usize, slot: usize },
    /// A debt is left.
    Owed { frame: usize, slot: usize, outcome: Outcome },
    /// Something is decided by readings that have been moved since.
    Stale { readings: Vec<usize> },
    /// A reading is adjusted that was moved before it was first taken.
    AsFoundLost { reading: usize },
    /// Passed on a reading that has been moved since.
    NoRecheck { reading: usize },
    /// Passed without what must be judged after something that was done.
    Unchecked { check: usize },
    /// Done without the signatures that are asked for.
    Unsigned { node: usize },
    /// The tool is not connected.
    NotConnected { tool: usize, slot: usize },
    /// A tool may not be warm, set to zero or settled.
    Unready { ready: Ready },
    /// A hazard that no caution covers.
    Exposed { hazard: usize, slot_state: Option<(usize, usize)> },
    /// Nothing says what to do.
    Unhandled,
    /// `end passed` while this judging is open.
    PassedWhileOut { judge: Option<usize> },
    /// A tool cannot be set to all that a band may be worked out to.
    OutOfReach { with: usize },
    /// The limit has no value for the variant.
    Uncovered { limit: usize },
}

/// Does the node.
pub(super) fn effects(lowered: &Lowered, chosen: &[usize], node: usize, state: &State) -> Effects {
    let mut out = Effects::default();
    let Some(this) = lowered.card.nodes.get(node) else { return out };
    match &this.act {
        Act::Open => {
            let mut after = state.clone();
            after.frames.push(Opened {
                frame: this.frame,
                entry: state.slots.clone().into(),
                outcome: None,
                open_list: false,
                failed: false,
                restoring: false,
            });
            if let Some(frame) = lowered.card.frames.get(this.frame) {
                let told = begun(frame, &mut after.slots);
                told.into_iter().for_each(|slot| after.told(slot));
            }
            out.ways.push((Way::Then, after));
        }
        Act::Caution { .. } => {
            let mut after = state.clone();
            after.covers.insert(node);
            out.ways.push((Way::Then, after));
        }
        Act::Uncover { cautions } => {
            let mut after = state.clone();
            for caution in cautions {
                uncover(lowered, *caution, &mut after);
            }
            out.ways.push((Way::Then, after));
        }
        Act::Need { required, proved, .. } => need(lowered, node, required, *proved, state, &mut out),
        Act::Keep { slot, state: kept } => {
            let mut after = state.clone();
            after.keeps.insert(node);
            if !state.slot(*slot).within(States::only(*kept)) {
                out.faults.push(Fault::Kept { keep: node, slot: *slot });
            }
            out.ways.push((Way::Then, after));
        }
        Act::Hold(hold) => {
            let mut after = state.clone();
            after.keeps.insert(node);
            let not_so = |held: &&Held| !state.slot(held.slot).within(States::only(held.state));
            let broken = hold.states.iter().filter(not_so);
            out.faults.extend(broken.map(|held| Fault::Kept { keep: node, slot: held.slot }));
            out.ways.push((Way::Then, after));
        }
        Act::Release { hold, lost } => released(lowered, this.frame, *hold, *lost, state, &mut out),
        Act::Work(done) => worked(lowered, chosen, node, done, state, &mut out),
        Act::Measure(measure) => measured(lowered, chosen, this.frame, measure, state, &mut out),
        Act::Judge(judge) => judged(lowered, chosen, node, judge, state, &mut out),
        Act::Branch { condition } => branched(lowered, chosen, condition, state, &mut out),
        Act::Choose(choose) => size_taken(lowered, this.frame, choose, state, &mut out),
        Act::Ask { question } => {
            let mut after = state.clone();
            let count = lowered.card.questions.get(*question).map_or(0, |question| question.values.len());
            found_covered(lowered, this.frame, &mut after, &mut out);
            after.answers.set(*question, States::these(&(0..count).collect::<Vec<_>>()));
            out.ways.push((Way::Then, after));
        }
        Act::Begin { counter } => {
            let mut after = state.clone();
            after.rounds.remove(counter);
            out.ways.push((Way::Then, after));
        }
        Act::Count { counter } => {
            let mut after = state.clone();
            let most = lowered.card.counters.get(*counter).copied().unwrap_or(0);
            if most == 0 || state.rounds.contains(counter) {
                out.ways.push((Way::Spent, state.clone()));
            }
            if most > 0 {
                after.rounds.insert(*counter);
                out.ways.push((Way::Again, after));
            }
        }
        Act::Unhandled => {
            let after = state.clone();
            out.faults.push(Fault::Unhandled);
            out.ways.push((Way::Then, after));
        }
        Act::End(end) => {
            let mut after = state.clone();
            let judge = state.open.iter().copied().find(|judge| frame_of(lowered, *judge) == this.frame);
            let failed = state.frames.last().is_some_and(|frame| frame.failed);
            if end.outcome == Outcome::Passed && (failed || judge.is_some()) {
                out.faults.push(Fault::PassedWhileOut { judge });
            }
            if let Some(frame) = after.frames.last_mut() {
                if frame.outcome.is_none() || end.outcome != Outcome::Passed {
                    frame.outcome = Some(end.outcome);
                }
                frame.open_list = end.in_restore;
            }
            out.ways.push((Way::Then, after));
        }
        Act::Restore => {
            let mut after = state.clone();
            if let Some(frame) = after.frames.last_mut() {
                frame.restoring = true;
            }
            after.keeps.retain(|keep| frame_of(lowered, *keep) != this.frame);
            out.ways.push((Way::Then, after));
        }
        Act::Close => closed(lowered, this.frame, state, &mut out),
        Act::Finish => {}
        Act::Note { .. } | Act::Sign { .. } | Act::Wait { .. } => {
            let mut after = state.clone();
            found_covered(lowered, this.frame, &mut after, &mut out);
            if let Act::Sign { persons } = &this.act {
                sign(lowered, this, *persons, &mut after);
            }
            if let Act::Wait { seconds, since, ripens, .. } = &this.act {
                let State { clocks, slots, .. } = &mut after;
                let since = since.as_ref().map(|_| ripens.as_slice());
                let passed = clocks.pass(&seconds.0, since, &lowered.card.slots, slots);
                passed.over.iter().for_each(|slot| {
                    after.known.remove(slot);
                });
                passed.ripe.into_iter().for_each(|slot| after.told(slot));
                activated(lowered, this.frame, state, &mut after, &mut out);
                kept(lowered, state, &after, &mut out);
            }
            out.ways.push((Way::Then, after));
        }
        Act::Step { .. } | Act::Cause { .. } => out.ways.push((Way::Then, state.clone())),
    }
    out
}

fn frame_of(lowered: &Lowered, node: usize) -> usize {
    lowered.card.nodes.get(node).map_or(0, |node| node.frame)
}

fn need(lowered: &Lowered, node: usize, required: &Required, proved: bool, state: &State, out: &mut Effects) {
    let Some(this) = lowered.card.nodes.get(node) else { return };
    let frame = this.frame;
    let now = state.slot(required.slot);
    let asked = States::these(&required.states);
    let mut yes = state.clone();
    yes.set(required.slot, asked);
    yes.told(required.slot);
    found(lowered, frame, required.slot, &mut yes);
    if proved || state.touched.contains(&required.slot) {
        // The job knows it: nobody is asked, and the state is what it is.
        if !now.and(asked).is_empty() {
            out.ways.push((Way::Yes, yes.clone()));
        }
        if !now.within(asked) {
            let to = this.next.get(&Way::No).and_then(|to| lowered.card.nodes.get(*to));
            let brought = to.is_some_and(|to| matches!(to.act, Act::Open));
            if !proved && frame > 0 && !brought && state.known.contains(&required.slot) {
                let says = if let Act::Need { says, .. } = &this.act { says.clone() } else { String::new() };
                out.faults.push(Fault::CalledUnready { required: required.clone(), says });
            }
            let mut no = state.clone();
            let others = now.iter().filter(|state| !asked.has(*state));
            no.set(required.slot, others.fold(States::default(), |all, state| all.or(States::only(state))));
            out.ways.push((Way::No, no));
        }
        if proved || state.known.contains(&required.slot) {
            return;
        }
    }
    for frame in &mut yes.frames {
        frame.entry.set(required.slot, asked);
    }
    out.ways.push((Way::Yes, yes));
    let mut no = state.clone();
    let count = lowered.card.slots.get(required.slot).map_or(0, |slot| slot.states.len());
    let others: Vec<usize> = (0..count).filter(|state| !required.states.contains(state)).collect();
    let otherwise = if required.states.contains(&0) { States::these(&others) } else { States::only(0) };
    no.set(required.slot, otherwise);
    no.told(required.slot);
    for frame in &mut no.frames {
        frame.entry.set(required.slot, otherwise);
    }
    out.ways.push((Way::No, no));
}

/// A span ends; where it is lost, what was held is in one of the states that follow.
fn released(lowered: &Lowered, frame: usize, at: usize, is_lost: bool, state: &State, out: &mut Effects) {
    let mut after = state.clone();
    after.keeps.remove(&at);
    if let (true, Some(Act::Hold(hold))) = (is_lost, lowered.card.nodes.get(at).map(|node| &node.act)) {
        let before = after.clone();
        let (slots, told) = lost(hold, &state.slots);
        after.slots = slots;
        after.known.extend(&told);
        after.touched.extend(&told);
        after.clocks.follow(&lowered.card.slots, &before.slots, &after.slots);
        activated(lowered, frame, &before, &mut after, out);
        kept(lowered, &before, &after, out);
    }
    out.ways.push((Way::Then, after));
}

fn worked(lowered: &Lowered, chosen: &[usize], node: usize, done: &Work, state: &State, out: &mut Effects) {
    let result = work(done, chosen, &state.slots);
    let frame = frame_of(lowered, node);
    for slot in &result.wrong {
        out.faults.push(Fault::Wrong { slot: *slot });
    }
    for need in &result.unmet {
        if let Some(required) = done.needs.get(*need) {
            out.faults.push(Fault::Unmet { need: *need, required: required.clone() });
        }
    }
    if let Some(limit) = done.limit {
        uncovered(lowered, chosen, limit, out);
    }
    let mut after = state.clone();
    if result.skipped == Truth::Yes {
        out.left_out = result.wrong.is_empty();
        out.ways.push((Way::Then, after));
        return;
    }
    if let Some(known) = &done.worked_out
        && !setting::set(lowered, chosen, node, known, &mut after, out)
    {
        return;
    }
    asked_ready(&done.ready, state, out);
    found_covered(lowered, frame, &mut after, out);
    for hazard in &done.hazards {
        if !covered(lowered, &after, frame, *hazard) {
            out.faults.push(Fault::Exposed { hazard: *hazard, slot_state: None });
        }
    }
    after.slots = result.after;
    after.known.extend(&result.told);
    after.touched.extend(done.moves.iter().chain(&done.brings).map(|step| step.slot));
    let moved: Vec<usize> = done.disturbs.iter().copied().filter(|reading| taken(&after, *reading)).collect();
    after.moved.extend(moved);
    moved_early(lowered, frame, &done.disturbs, &mut after);
    check_owed(lowered, node, &mut after);
    to_sign(lowered, node, &mut after, out);
    after.clocks.begin(done, &lowered.card.slots);
    after.clocks.follow(&lowered.card.slots, &state.slots, &after.slots);
    activated(lowered, frame, state, &mut after, out);
    kept(lowered, state, &after, out);
    out.ways.push((Way::Then, after));
}

fn taken(state: &State, reading: usize) -> bool {
    state.readings.get(reading).is_some_and(|value| *value != Value::Missing)
}

/// The slots as if the tools were ready; where they may not be it is told, once.
fn asked_ready(asked: &[Ready], state: &State, out: &mut Effects) -> Vec<States> {
    let mut slots = state.slots.clone();
    for ready in unready(asked, &state.slots) {
        out.faults.push(Fault::Unready { ready: ready.clone() });
        if let Some(place) = slots.get_mut(ready.slot) {
            *place = States::only(ready.state);
        }
    }
    slots
}

fn uncovered(lowered: &Lowered, chosen: &[usize], limit: usize, out: &mut Effects) {
    let Some(known) = lowered.card.limits.get(limit) else { return };
    let covers = |when: &[Guard]| {
        when.iter().all(|guard| match guard {
            Guard::Variant { axis, values } => chosen.get(*axis).is_some_and(|value| values.contains(value)),
            Guard::State { .. } => true,
        })
    };
    let any = known.check.iter().any(|choice| covers(&choice.when))
        || known.rows.iter().any(|group| covers(&group.when));
    let has_bands = !known.check.is_empty() || !known.rows.is_empty();
    if has_bands && !any {
        out.faults.push(Fault::Uncovered { limit });
    }
}
