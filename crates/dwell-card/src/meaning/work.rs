//! What work by hand does to the states of things.

use super::{States, Truth, guards_hold};
use crate::graph::{Stage, Work};
use crate::vehicle::Move;

/// What work did, or what stood against it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Worked {
    /// The possible states after it.
    pub after: Vec<States>,
    /// Slots in a state that the verb does not start from.
    pub wrong: Vec<usize>,
    /// Which of its needs may not be met.
    pub unmet: Vec<usize>,
    /// The slots whose state is known now, because it was brought about; what is brought only under a condition is not.
    pub told: Vec<usize>,
    /// Whether it was skipped because nothing is owed: `Maybe` where only some of the possible states owe it.
    pub skipped: Truth,
}

/// Does the work in every state that is possible.
///
/// A slot whose state does not fit the verb is reported in `wrong` and then taken as if it had fitted, so that one slip does
/// not bring others after it. Work marked `if_owed` is left out in states that it does not fit, or that it would lead to.
/// A stage of a tightening that others follow asks all this in the same way and leaves the states as they are: loose stays
/// loose until the last stage is done, and all stages are skipped together or none.
pub fn work(work: &Work, chosen: &[usize], slots: &[States]) -> Worked {
    let mut after = slots.to_vec();
    let (skipped, never) = owed(work, slots);
    if skipped == Truth::Yes {
        let wrong = if never { work.own.clone() } else { Vec::new() };
        return Worked { after, wrong, unmet: Vec::new(), told: Vec::new(), skipped };
    }
    let mut wrong = Vec::new();
    let goes_on = work.stage.is_some_and(Stage::goes_on);
    for slot in slots_of(&work.moves) {
        let now = slots.get(slot).copied().unwrap_or_default();
        let mut then = States::default();
        let mut fits = true;
        for state in now.iter() {
            match step_from(&work.moves, slot, state, chosen, slots) {
                Some(to) => then = then.or(States::only(if goes_on { state } else { to })),
                None if work.if_owed => then = then.or(States::only(state)),
                None => fits = false,
            }
        }
        if !fits {
            wrong.push(slot);
            if then.is_empty()
                && let Some(first) = work.moves.iter().find(|step| step.slot == slot)
            {
                then = if goes_on { now } else { States::only(first.to) };
            }
        }
        // The thing's own states tell each for itself whether it is owed; what goes along with it may be left as it is.
        if skipped == Truth::Maybe && !work.own.contains(&slot) {
            then = then.or(now);
        }
        if let Some(place) = after.get_mut(slot) {
            *place = then;
        }
    }
    let mut told = if goes_on { Vec::new() } else { slots_of(&work.moves) };
    for brought in &work.brings {
        bring(brought, chosen, slots, skipped, &mut after);
        let sure = guards_hold(&brought.when, chosen, slots) == Truth::Yes;
        if sure && !told.contains(&brought.slot) {
            told.push(brought.slot);
        }
    }
    let unmet = work
        .needs
        .iter()
        .enumerate()
        .filter(|(_, need)| {
            guards_hold(&need.when, chosen, slots) != Truth::No
                && !slots.get(need.slot).copied().unwrap_or_default().within(States::these(&need.states))
        })
        .map(|(place, _)| place)
        .collect();
    Worked { after, wrong, unmet, told, skipped }
}

/// Whether the work is skipped because nothing is owed, as [`Worked::skipped`] says it.
pub fn skipped(work: &Work, slots: &[States]) -> Truth {
    owed(work, slots).0
}

/// Whether it is skipped, and whether it is so because it could never have been done.
fn owed(work: &Work, slots: &[States]) -> (Truth, bool) {
    if !work.if_owed || work.moves.is_empty() {
        return (Truth::No, false);
    }
    let mut owed = Truth::No;
    let mut never = true;
    for slot in &work.own {
        let now = slots.get(*slot).copied().unwrap_or_default();
        let some = now.iter().filter(|state| is_owed(&work.moves, *slot, *state)).count();
        if some > 0 && some == now.iter().count() {
            owed = Truth::Yes;
        } else if some > 0 && owed == Truth::No {
            owed = Truth::Maybe;
        }
        never &= some == 0 && !now.has(0) && !now.iter().any(|state| leads_to(&work.moves, *slot, state));
    }
    let skipped = match owed {
        Truth::No => Truth::Yes,
        Truth::Maybe => Truth::Maybe,
        Truth::Yes => Truth::No,
    };
    (skipped, never)
}

fn bring(brought: &Move, chosen: &[usize], before: &[States], skipped: Truth, after: &mut [States]) {
    let mut truth = guards_hold(&brought.when, chosen, before);
    if truth == Truth::Yes && skipped == Truth::Maybe {
        truth = Truth::Maybe;
    }
    let Some(place) = after.get_mut(brought.slot) else { return };
    let fits = |state: usize| brought.from.is_empty() || brought.from.contains(&state);
    let moved = place.iter().fold(States::default(), |all, state| {
        all.or(States::only(if fits(state) { brought.to } else { state }))
    });
    match truth {
        Truth::Yes => *place = moved,
        Truth::Maybe => *place = place.or(moved),
        Truth::No => {}
    }
}

fn slots_of(moves: &[Move]) -> Vec<usize> {
    let mut slots: Vec<usize> = Vec::new();
    for step in moves {
        if !slots.contains(&step.slot) {
            slots.push(step.slot);
        }
    }
    slots
}

fn step_from(moves: &[Move], slot: usize, state: usize, chosen: &[usize], slots: &[States]) -> Option<usize> {
    moves
        .iter()
        .filter(|step| step.slot == slot && guards_hold(&step.when, chosen, slots) != Truth::No)
        .find(|step| step.from.is_empty() || step.from.contains(&state))
        .map(|step| step.to)
}

fn leads_to(moves: &[Move], slot: usize, state: usize) -> bool {
    moves.iter().any(|step| step.slot == slot && step.to == state)
}

fn is_owed(moves: &[Move], slot: usize, state: usize) -> bool {
    !leads_to(moves, slot, state)
        && moves.iter().any(|step| step.slot == slot && (step.from.is_empty() || step.from.contains(&state)))
}
