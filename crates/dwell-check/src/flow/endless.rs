//! Loops that go back to a step and read nothing on their way round.

use crate::lower::Lowered;
use crate::trouble::Trouble;
use dwell_card::graph::{Act, Way};

/// Says which loops measure and ask nothing on some way round: nothing could end them but their count.
pub(super) fn endless(lowered: &Lowered, troubles: &mut Vec<Trouble>) {
    for count in &lowered.loops {
        let Some(node) = lowered.card.nodes.get(*count) else { continue };
        let Some(first) = node.next.get(&Way::Again) else { continue };
        if comes_back_blind(lowered, *first, *count) {
            let place = lowered.places.get(*count).copied().unwrap_or_default();
            let why = "nothing is measured or asked on the way round".to_owned();
            troubles.push(Trouble::Endless { place, why });
        }
    }
}

fn comes_back_blind(lowered: &Lowered, from: usize, to: usize) -> bool {
    let mut seen = vec![false; lowered.card.nodes.len()];
    let mut waiting = vec![from];
    while let Some(at) = waiting.pop() {
        if at == to {
            return true;
        }
        match seen.get_mut(at) {
            Some(seen) if !*seen => *seen = true,
            _ => continue,
        }
        let Some(node) = lowered.card.nodes.get(at) else { continue };
        if !matches!(node.act, Act::Measure(_) | Act::Ask { .. }) {
            waiting.extend(node.next.values());
        }
    }
    false
}
