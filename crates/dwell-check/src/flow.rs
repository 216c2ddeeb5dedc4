//! The analysis: every way through a card, for every variant, on what is possible at each node. Where something is asked,
//! somebody may also stop.
//!
//! It explores states of the job (what may be in which state, what may have been read, what is covered, what is owed) node by
//! node, with the meaning that the runner has too. Where a node has been reached in many different ways, states are joined,
//! so that the cost stays bounded; what is then said of a join holds for each of its members.

mod alike;
mod bits;
mod effect;
mod endless;
mod explore;
mod kept;
mod live;
mod passing;
mod possible;
mod quick;
mod reachable;
mod report;
mod set;
mod shared;
mod standing;
mod state;
#[cfg(test)]
mod tests;
mod variants;
mod vehicles;
pub mod ways;
mod witness;

use crate::finding::Place;
use crate::lower::Lowered;
use crate::trouble::Trouble;
use dwell_card::graph::{Act, Node, Side, Test, Way};
use std::collections::HashSet;

pub use kept::Walks;
pub use possible::{Possible, Seen, possible};
pub use reachable::Reachable;
pub use standing::{Spot, Standing, standing};
pub use witness::moved;

/// Walks all ways for all variants and says what is wrong on them; what was reached comes back. `kept` are the walks of
/// earlier checks of the same file.
pub fn analyse(lowered: &Lowered, kept: Option<&Walks>, troubles: &mut Vec<Trouble>) -> Reachable {
    let Walked { found, reached, all, complete, passes } =
        kept.map_or_else(|| walked_alike(lowered), |kept| kept.walked(lowered));
    if !complete {
        let place = lowered.places.first().copied().unwrap_or_default();
        let what = "this procedure has too many combinations of variants".to_owned();
        let help = format!("cut it into procedures with at most {} combinations each", variants::MOST);
        troubles.push(Trouble::NotExecutable { place, what, help });
    }
    found.into_troubles(lowered, &all, reached.nodes(), troubles);
    let before = troubles.len();
    endless::endless(lowered, troubles);
    // What follows a loop without an end is never come to: that is said of the loop.
    if complete && !passes && troubles.len() == before {
        let place = lowered.places.first().copied().unwrap_or_default();
        troubles.push(Trouble::NeverPasses { place, name: lowered.card.procedure.clone() });
    }
    unreachable(lowered, reached.nodes(), troubles);
    reached
}

/// Which nodes and ways on can be reached for some variant, as [`analyse`] finds them.
pub fn reached(lowered: &Lowered) -> Reachable {
    walked(alike::merged(lowered).as_ref().unwrap_or(lowered)).reached
}

/// A walk, for vehicles that are alike together where that shows nothing wrong.
fn walked_alike(lowered: &Lowered) -> Walked {
    match alike::merged(lowered).map(|alike| walked(&alike)) {
        // Readings that lead to a finding are told for a vehicle with its own numbers.
        Some(walked) if walked.complete && walked.found.is_empty() => walked,
        _ => walked(lowered),
    }
}

/// What a walk for all vehicles came to.
struct Walked {
    found: report::Report,
    reached: Reachable,
    /// All vehicles.
    all: vehicles::Vehicles,
    /// Whether all ways could be walked.
    complete: bool,
    /// Whether some vehicle passes, or none is meant to.
    passes: bool,
}

fn walked(lowered: &Lowered) -> Walked {
    let live = live::Live::of(lowered);
    let variants = variants::Variants::of(lowered, &explore::exits(lowered));
    let mut reached = Reachable::nothing(lowered.card.nodes.len());
    let mut found = report::Report::default();
    let (entries, complete) = explore::explore(lowered, &live, &variants, &mut reached, &mut found);
    let passes = passing::can_pass(lowered, &entries);
    Walked { found, reached, all: variants.all, complete, passes }
}

/// The first node of each stretch that nothing leads to. An arm for no reading may stand where there always is one: nobody has to
/// work out whether an instrument can show nothing.
fn unreachable(lowered: &Lowered, reached: &[bool], troubles: &mut Vec<Trouble>) {
    let nodes = &lowered.card.nodes;
    let mut led_to = vec![false; nodes.len()];
    for (at, node) in nodes.iter().enumerate() {
        let from_dead_text = reached.get(at) == Some(&false) && lowered.made.get(at) == Some(&false);
        for to in node.next.values() {
            if let Some(led) = led_to.get_mut(*to) {
                *led |= from_dead_text;
            }
        }
    }
    // A block that is written out for each place is one text: it is dead only where all of its copies are.
    let alive: HashSet<Place> = reached
        .iter()
        .zip(&lowered.places)
        .filter(|(reached, _)| **reached)
        .map(|(_, place)| *place)
        .collect();
    let safeguards: HashSet<usize> = nodes.iter().filter_map(|node| no_reading(node, reached)).collect();
    let mut said: Vec<Place> = Vec::new();
    for (at, node) in nodes.iter().enumerate() {
        let dead = reached.get(at) == Some(&false) && lowered.made.get(at) == Some(&false);
        let dead = dead && !safeguards.contains(&at);
        if !dead || led_to.get(at) == Some(&true) {
            continue;
        }
        let Some(place) = lowered.places.get(at).copied().filter(|place| !alive.contains(place)) else {
            continue;
        };
        if said.iter().any(|known| known.file == place.file && known.span.holds(place.span)) {
            continue;
        }
        said.push(place);
        let what = match &node.act {
            Act::Step { step } => match lowered.card.steps.get(*step) {
                Some(step) => format!("the step “{}”", step.title),
                None => "this step".to_owned(),
            },
            Act::End(_) => "this end".to_owned(),
            _ => "this".to_owned(),
        };
        troubles.push(Trouble::Unreachable { place, what });
    }
}

/// Where an arm for no reading begins, for the node that asks whether it is taken after something that was really judged.
fn no_reading(node: &Node, reached: &[bool]) -> Option<usize> {
    let Act::Branch { condition } = &node.act else { return None };
    let [Test::Side { side: Side::NoReading, judge, .. }] = condition.tests.as_slice() else { return None };
    node.next.get(&Way::Yes).copied().filter(|_| reached.get(*judge) == Some(&true))
}
