//! The limits of a procedure, and on which of their sides the values of the cases came out.

use super::{LimitTried, Sides};
use dwell_card::Card;
use dwell_card::graph::{Act, Node, Side, Test};
use dwell_check::check::Compiled;
use dwell_run::{Came, Session};

/// What makes two tests tests of one limit.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Key {
    /// A limit of the card, by its name; the band to set to is another one.
    Named(String, bool),
    /// A band that stands on the spot: the text, and the number of the test.
    OnTheSpot(dwell_check::finding::Place, usize),
}

/// The limits that are judged by, in the order of the text, with what came out.
pub(super) fn limits(compiled: &Compiled, card: &Card, runs: &[Session]) -> Vec<LimitTried> {
    let mut all: Vec<(Key, LimitTried)> = Vec::new();
    for (at, node) in card.nodes.iter().enumerate() {
        if node.frame != 0 || !compiled.reached.node(at) {
            continue;
        }
        for (number, test) in tests_of(node).iter().enumerate() {
            let Some((key, tried)) = tried(compiled, card, at, number, test) else { continue };
            match all.iter_mut().find(|(known, _)| *known == key) {
                Some((_, known)) => {
                    known.sides.low = known.sides.low.or(tried.sides.low);
                    known.sides.high = known.sides.high.or(tried.sides.high);
                }
                None => all.push((key, tried)),
            }
        }
    }
    for moment in runs.iter().flat_map(Session::moments) {
        let Some(node) = card.nodes.get(moment.node).filter(|node| node.frame == 0) else { continue };
        for ((number, test), came) in tests_of(node).iter().enumerate().zip(&moment.came) {
            let Some((key, _)) = tried(compiled, card, moment.node, number, test) else { continue };
            if let Some((_, known)) = all.iter_mut().find(|(known, _)| *known == key) {
                count(&mut known.sides, came);
            }
        }
    }
    let mut all: Vec<LimitTried> = all.into_iter().map(|(_, tried)| tried).collect();
    all.sort_by_key(|tried| (tried.place, tried.adjusting));
    all
}

fn count(sides: &mut Sides, came: &Came) {
    match came.in_band {
        Some(Side::In) => sides.inside += 1,
        Some(Side::Low) => sides.low = sides.low.map(|count| count + 1),
        Some(Side::High) => sides.high = sides.high.map(|count| count + 1),
        Some(Side::NoReading) => sides.no_reading += 1,
        Some(Side::Other) | None => {}
    }
    sides.at_the_limit += usize::from(came.at_the_limit);
}

fn tests_of(node: &Node) -> &[Test] {
    match &node.act {
        Act::Judge(judge) => &judge.condition.tests,
        Act::Branch { condition } => &condition.tests,
        _ => &[],
    }
}

/// The limit of a test, with nothing that came out yet; none for a test of no value.
fn tried(
    compiled: &Compiled,
    card: &Card,
    at: usize,
    number: usize,
    test: &Test,
) -> Option<(Key, LimitTried)> {
    let place = compiled.places.get(at).copied().unwrap_or_default();
    let there = |is: bool| is.then_some(0);
    match test {
        Test::Meets { limit, adjusting, .. } => {
            let known = card.limits.get(*limit)?;
            let choices = if *adjusting && !known.adjust.is_empty() { &known.adjust } else { &known.check };
            let rows = known.rows.iter().flat_map(|group| &group.rows).map(|row| &row.band);
            let bands: Vec<_> = choices.iter().map(|choice| &choice.band).chain(rows).collect();
            let sides = Sides {
                low: there(bands.iter().any(|band| band.low.is_some())),
                high: there(bands.iter().any(|band| band.high.is_some())),
                ..Sides::default()
            };
            let adjusting = *adjusting && !known.adjust.is_empty();
            let tried = LimitTried { name: known.name.clone(), adjusting, place, sides };
            Some((Key::Named(known.name.clone(), adjusting), tried))
        }
        Test::Within { low, high, written, .. } => {
            let sides = Sides { low: there(low.is_some()), high: there(high.is_some()), ..Sides::default() };
            let tried = LimitTried { name: written.clone(), adjusting: false, place, sides };
            Some((Key::OnTheSpot(place, number), tried))
        }
        _ => None,
    }
}
