//! What somebody must sign for: where the step has no such signature, and where it is left before it comes to one.

use super::{Effects, Fault, frame_of};
use crate::flow::state::State;
use crate::lower::Lowered;
use dwell_card::graph::Node;

/// Something is done that somebody must sign for.
pub(super) fn to_sign(lowered: &Lowered, node: usize, state: &mut State, out: &mut Effects) {
    let Some(asked) = lowered.signatures.get(&node) else { return };
    let here = lowered.card.nodes.get(node).map(|node| (node.frame, node.step));
    let signed = here.and_then(|here| lowered.signing.get(&here)).copied().unwrap_or(0);
    if signed < asked.persons {
        out.faults.push(Fault::Unsigned { node });
    } else {
        state.unsigned.insert(node);
    }
}

/// The signatures of a step are given: for all that was done in it.
pub(super) fn sign(lowered: &Lowered, this: &Node, persons: u32, state: &mut State) {
    state.unsigned.retain(|node| {
        let same = lowered
            .card
            .nodes
            .get(*node)
            .is_some_and(|node| (node.frame, node.step) == (this.frame, this.step));
        let asked = lowered.signatures.get(node).map_or(0, |asked| u32::from(asked.persons));
        !same || persons < asked
    });
}

/// A procedure is over; where it passes, nothing may be left that nobody has signed for.
pub(super) fn never_signed(
    lowered: &Lowered,
    frame: usize,
    passes: bool,
    state: &mut State,
    out: &mut Effects,
) {
    let own: Vec<usize> = state.unsigned.iter().filter(|node| frame_of(lowered, *node) == frame).collect();
    for node in own {
        state.unsigned.remove(&node);
        if passes {
            out.faults.push(Fault::Unsigned { node });
        }
    }
}
