//! Samples that drift or swing as a way needs them to, and still come to the value that it needs.

use super::Stop;
use crate::flow::live::tests_of;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Measure, Side, Test, Way};
use dwell_card::limit::Fold;
use dwell_card::meaning::least;
use dwell_quantity::Exact;

/// How the samples of a reading have to move.
enum Shape {
    /// One way, by more than this.
    Drift(Exact),
    /// Up and down, by more than this.
    Swing(Exact),
}

/// The samples of a reading, in base units, where a test of the way asks them to move; nothing where they may stand still.
pub(super) fn shaped(
    reading: usize,
    measure: &Measure,
    rest: &[Stop<'_>],
    lowered: &Lowered,
    value: &Exact,
    step: &Exact,
) -> Option<Vec<Exact>> {
    let wanted = rest
        .iter()
        .take_while(|stop| {
            !matches!(lowered.card.nodes.get(stop.node).map(|node| &node.act),
                Some(Act::Measure(again)) if again.readings.contains(&reading))
        })
        .find_map(|stop| shape(reading, stop, lowered, step))?;
    match wanted {
        Shape::Drift(by) => moved(measure, value, &by, false),
        Shape::Swing(by) => moved(measure, value, &by, true),
    }
}

/// Samples that come to a value and move by so much: one way, or up and down. In base units; nothing where no such samples are known.
pub fn moved(measure: &Measure, value: &Exact, by: &Exact, swings: bool) -> Option<Vec<Exact>> {
    let twice = by * &Exact::whole(2);
    let count = usize::try_from(least(measure)).unwrap_or(usize::MAX);
    if let (Fold::Mean, false) = (measure.take, swings) {
        let mut all = vec![value.clone(); count.max(2)];
        if let [first, .., last] = all.as_mut_slice() {
            (*first, *last) = (value - by, value + by);
        }
        return Some(all);
    }
    // How far the first samples lie from the value; the others are the value itself.
    let moves: Vec<Exact> = match (measure.take, swings) {
        (Fold::Mean, _) => vec![-by, twice, -by],
        (Fold::Lowest, false) => vec![twice],
        (Fold::Lowest | Fold::Last, true) => vec![Exact::zero(), twice],
        (Fold::Highest | Fold::Last, false) => vec![-&twice],
        (Fold::Highest, true) => vec![Exact::zero(), -&twice],
        (Fold::Spread | Fold::Sum | Fold::Furthest, _) => return None,
    };
    let all = (0..count.max(moves.len()))
        .map(|place| moves.get(place).map_or_else(|| value.clone(), |by| value + by));
    Some(all.collect())
}

/// What a stop asks of the samples: its test came out so that they moved.
fn shape(reading: usize, stop: &Stop<'_>, lowered: &Lowered, step: &Exact) -> Option<Shape> {
    let node = lowered.card.nodes.get(stop.node)?;
    let tests = tests_of(node);
    let came = stop.decided.and_then(|state| state.last.as_ref()).filter(|(of, _)| *of == stop.node);
    let limit = |within: &Option<dwell_card::Num>| {
        let stated = within.as_ref().map_or_else(|| step.clone(), |limit| limit.0.clone());
        &stated + step
    };
    tests.iter().enumerate().find_map(|(place, test)| {
        let side = match came.and_then(|(_, all)| all.get(place)) {
            Some(side) => *side,
            None if tests.len() == 1 && stop.way == Way::Yes => Side::In,
            None if tests.len() == 1 && stop.way == Way::No => Side::Other,
            None => return None,
        };
        let so = |not: &bool| matches!((side, not), (Side::In, false) | (Side::Other, true));
        match test {
            Test::Steady { reading: of, not, within } if *of == reading => {
                (side != Side::NoReading && !so(not)).then(|| Shape::Drift(limit(within)))
            }
            Test::Fluctuating { reading: of, not, within } if *of == reading => {
                (side != Side::NoReading && so(not)).then(|| Shape::Swing(limit(within)))
            }
            _ => None,
        }
    })
}
