//! What one node does to a state of the job, which ways lead on from it, and what is wrong there.

mod deciding;
mod grouped;
mod hazard;
mod many;
mod stale;

use super::state::{Opened, State};
use crate::lower::Lowered;
use deciding::{branched, judged, limits_cover};
use dwell_card::graph::{Act, Choose, Held, Measure, Outcome, Way, Work};
use dwell_card::meaning::{States, Truth, Value, begun, guards_hold, lost, read, unready, work};
use dwell_card::vehicle::{Guard, Ready, Required, Slot};
use dwell_quantity::Band;
use hazard::{activated, covered, found, found_covered, kept, uncover};
use stale::{fresh, has_latest, is_part_of, moved_early};

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
    after.clocks.begin(done, &lowered.card.slots);
    after.clocks.follow(&lowered.card.slots, &state.slots, &after.slots);
    activated(lowered, frame, state, &mut after, out);
    kept(lowered, state, &after, out);
    out.ways.push((Way::Then, after));
}

fn taken(state: &State, reading: usize) -> bool {
    state.readings.get(reading).is_some_and(|value| *value != Value::Missing)
}

fn measured(
    lowered: &Lowered,
    chosen: &[usize],
    frame: usize,
    measure: &Measure,
    state: &State,
    out: &mut Effects,
) {
    for (place, required) in measure.needs.iter().enumerate() {
        if guards_hold(&required.when, chosen, &state.slots) != Truth::No
            && !state.slot(required.slot).within(States::these(&required.states))
        {
            out.faults.push(Fault::Unmet { need: place, required: required.clone() });
        }
    }
    if let Some(tool) = measure.tool
        && let Some(known) = lowered.card.tools.get(tool)
    {
        for slot in &known.slots {
            let several = lowered.card.slots.get(*slot).is_some_and(|slot| slot.states.len() > 1);
            if several && state.slot(*slot).has(0) {
                out.faults.push(Fault::NotConnected { tool, slot: *slot });
            }
        }
    }
    if let Some(until) = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref()) {
        limits_cover(lowered, chosen, until, out);
    }
    let mut after = state.clone();
    after.slots = asked_ready(&measure.ready, state, out);
    let left = read(measure, &mut after.slots);
    left.into_iter().for_each(|slot| after.told(slot));
    found_covered(lowered, frame, &mut after, out);
    for reading in &measure.readings {
        let span = lowered.spans.get(*reading).cloned().unwrap_or_else(Band::all);
        let band = match &measure.expected {
            Some(expected) => span.intersect(&expected.band()),
            None => span,
        };
        after.readings.set(*reading, Value::Somewhere { band, or_missing: true });
        after.moved.remove(reading);
        after.judged.remove(reading);
        if lowered.adjusted.contains(reading) {
            after.found_out.insert(*reading);
        }
    }
    out.ways.push((Way::Then, after));
}

/// A size is taken, or none fits; which, the walk does not tell apart.
fn size_taken(lowered: &Lowered, frame: usize, choose: &Choose, state: &State, out: &mut Effects) {
    let state = &fresh(state, |reading| has_latest(&choose.nearest, reading, lowered), out);
    let mut none = state.clone();
    none.readings.set(choose.reading, Value::Missing);
    let mut after = state.clone();
    found_covered(lowered, frame, &mut after, out);
    let band = Band::closed(choose.low.0.clone(), choose.high.0.clone());
    after.readings.set(choose.reading, Value::Somewhere { band, or_missing: false });
    for state in [&mut none, &mut after] {
        state.moved.remove(&choose.reading);
        state.judged.remove(&choose.reading);
    }
    out.ways.push((Way::Then, after));
    out.ways.push((Way::NoReading, none));
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

/// The slots that a frame leaves otherwise than it found them, and may not.
fn debts(lowered: &Lowered, frame: usize, opened: &Opened, state: &State) -> Vec<usize> {
    let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
    let is_owed = |place: usize, slot: &Slot| {
        let entry = opened.entry.get(place).copied().unwrap_or_default();
        let now = state.slot(place);
        let left = leaves.iter().filter(|(left, _)| *left == place).map(|(_, state)| States::only(*state));
        let fine = left.fold(entry.or(States::only(0)).or(States::these(&slot.may_stay)), States::or);
        now != entry && !now.within(fine)
    };
    let slots = lowered.card.slots.iter().enumerate();
    slots.filter(|(place, slot)| is_owed(*place, slot)).map(|(place, _)| place).collect()
}

fn closed(lowered: &Lowered, frame: usize, state: &State, out: &mut Effects) {
    let mut after = state.clone();
    let Some(opened) = after.frames.pop() else { return };
    let open = opened.failed || state.open.iter().any(|judge| frame_of(lowered, *judge) == frame);
    let outcome = match opened.outcome {
        None | Some(Outcome::Passed) if open => Outcome::Failed,
        None => Outcome::Passed,
        Some(outcome) => outcome,
    };
    let owed = debts(lowered, frame, &opened, state);
    if opened.open_list {
        // It stands in the record as open, and those who perform this do not owe it as well.
        for caller in &mut after.frames {
            for slot in &owed {
                if let Some(entry) = caller.entry.get(*slot).copied() {
                    caller.entry.set(*slot, entry.or(state.slot(*slot)));
                }
            }
        }
    } else {
        // What only waits for another thing to come off is told with that thing.
        let told_with = |slot: &usize| {
            lowered.partners.get(slot).is_some_and(|takers| takers.iter().any(|taker| owed.contains(taker)))
        };
        // What a procedure says that it leaves otherwise is told as that, where it passes.
        let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        let told_as_left =
            |slot: &usize| outcome == Outcome::Passed && leaves.iter().any(|(left, _)| left == slot);
        let own = owed.iter().copied().filter(|slot| !told_with(slot) && !told_as_left(slot));
        out.faults.extend(own.map(|slot| Fault::Owed { frame, slot, outcome }));
    }
    // A caller that passes on what this procedure has judged must not move it either.
    let own = |reading: &usize| {
        let of = lowered.card.readings.get(*reading).map_or(0, |known| known.frame);
        is_part_of(lowered, of, frame)
    };
    for reading in state.judged.iter().filter(own) {
        let stale = state.moved.contains(&reading);
        if outcome == Outcome::Passed && stale {
            out.faults.push(Fault::NoRecheck { reading });
        }
        if outcome != Outcome::Passed || stale {
            after.judged.remove(&reading);
        }
    }
    after.lasting.retain(|(of, _)| *of != frame);
    after.found.retain(|(of, ..)| *of != frame);
    if outcome == Outcome::Passed {
        let ensured = lowered.ensures.get(&frame).map(|(required, _, _)| required);
        if let Some(required) = ensured
            && !state.slot(required.slot).within(States::these(&required.states))
        {
            out.faults.push(Fault::NotEnsured { frame });
        }
        let leaves = lowered.card.frames.get(frame).map(|frame| frame.leaves.as_slice()).unwrap_or_default();
        for (slot, _) in leaves {
            // A state that `leaves` names more than once is one of several.
            let all = leaves.iter().filter(|(other, _)| other == slot);
            let said = all.fold(States::default(), |all, (_, state)| all.or(States::only(*state)));
            let told = ensured.is_some_and(|required| required.slot == *slot);
            let fault = Fault::NotLeft { frame, slot: *slot };
            if !told && !state.slot(*slot).within(said) && !out.faults.contains(&fault) {
                out.faults.push(fault);
            }
        }
    }
    after.open.retain(|judge| frame_of(lowered, *judge) != frame);
    after.covers.retain(|caution| frame_of(lowered, *caution) != frame);
    if state.stopped
        && frame > 0
        && let Some(caller) = after.frames.last_mut()
    {
        caller.outcome = Some(Outcome::Unfinished);
    }
    let way = match outcome {
        _ if frame == 0 => Way::Then,
        Outcome::Passed => Way::Passed,
        Outcome::Failed => Way::Failed,
        Outcome::Unfinished => Way::Unfinished,
        Outcome::Referred => Way::Referred,
    };
    out.ways.push((way, after));
}
