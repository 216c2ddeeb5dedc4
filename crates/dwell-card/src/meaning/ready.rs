//! Whether tools are ready to be read: warmed up, set to zero, their display settled.

use super::States;
use crate::card::Frame;
use crate::graph::Measure;
use crate::vehicle::Ready;

/// What may not be so of that which is asked for.
pub fn unready<'a>(asked: &'a [Ready], slots: &[States]) -> Vec<&'a Ready> {
    let is = |ready: &&Ready| {
        let now = slots.get(ready.slot).copied().unwrap_or_default();
        !now.within(States::only(ready.state))
    };
    asked.iter().filter(is).collect()
}

/// After a measurement: the states that it leaves its tool in. Gives the slots.
pub fn read(measure: &Measure, slots: &mut [States]) -> Vec<usize> {
    let left = measure.leaves.iter().map(|step| (step.slot, step.to));
    set(left, slots)
}

/// When a procedure begins: the tools that are to be set to zero for each procedure are not. Gives the slots.
pub fn begun(frame: &Frame, slots: &mut [States]) -> Vec<usize> {
    set(frame.unzeroes.iter().copied(), slots)
}

fn set(all: impl Iterator<Item = (usize, usize)>, slots: &mut [States]) -> Vec<usize> {
    let mut told = Vec::new();
    for (slot, state) in all {
        if let Some(place) = slots.get_mut(slot) {
            *place = States::only(state);
            told.push(slot);
        }
    }
    told
}
