//! Whether a vehicle can pass at all.

use super::effect::outcome;
use super::explore::Reached;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Outcome};

/// Whether some way ends passed, or is meant to end otherwise: it refers on, or nothing is judged. States are joined only where they
/// agree in what is open and how they ended, so nothing that can pass is lost.
pub(super) fn can_pass(lowered: &Lowered, entries: &[Reached]) -> bool {
    let judges = |act: &Act| matches!(act, Act::Judge(judge) if judge.proves.is_empty());
    if !lowered.card.nodes.iter().any(|node| node.frame == 0 && judges(&node.act)) {
        return true;
    }
    entries.iter().filter(|entry| !entry.state.stopped).any(|entry| {
        let closes = lowered
            .card
            .nodes
            .get(entry.node)
            .is_some_and(|node| node.frame == 0 && matches!(node.act, Act::Close));
        let opened = entry.state.frames.last().filter(|_| closes);
        let ended = opened.map(|opened| outcome(lowered, 0, opened, &entry.state));
        matches!(ended, Some(Outcome::Passed | Outcome::Referred))
    })
}
