//! What can be asked of samples: whether they were steady, whether they went up and down, what held at their moments.

use super::Samples;
use super::ending::{Moments, surest};
use crate::card::Card;
use crate::graph::{Act, Condition, Side, Way};
use crate::limit::Fold;
use crate::meaning::{Scene, Value, branch_ways, sides};
use crate::number::Num;
use dwell_quantity::Exact;

/// The sides of a test of the samples of a reading: no reading where there are too few to tell.
pub(in crate::meaning) fn of_samples(
    reading: usize,
    not: bool,
    scene: &Scene<'_>,
    is_so: &dyn Fn(&[Value]) -> Option<bool>,
) -> Vec<Side> {
    match ((scene.read)(reading, false), (scene.samples)(reading)) {
        (Value::Missing, _) => vec![Side::NoReading],
        (_, Samples::Counted(values)) => vec![match is_so(&values) {
            None => Side::NoReading,
            Some(so) if so != not => Side::In,
            Some(_) => Side::Other,
        }],
        (value, Samples::Unknown) => {
            let mut all = vec![Side::In, Side::Other];
            // Of samples one of which is an interval nothing can be told, as of none.
            if value.may_be_missing() || value.may_be_interval() || is_last_taken(scene.card, reading) {
                all.push(Side::NoReading);
            }
            all
        }
    }
}

/// Whether a reading may be there although one of its samples is no number: only the last one is not made of the others.
fn is_last_taken(card: &Card, reading: usize) -> bool {
    card.nodes.iter().any(|node| match &node.act {
        Act::Measure(measure) => measure.take == Fold::Last && measure.readings.contains(&reading),
        _ => false,
    })
}

/// The sides of a condition at every moment of a measurement, or at one of them.
pub(in crate::meaning) fn at_moments(
    readings: &[usize],
    every: bool,
    condition: &Condition,
    scene: &Scene<'_>,
) -> Vec<Side> {
    let mut series = Vec::new();
    for reading in readings {
        match ((scene.read)(*reading, false), (scene.samples)(*reading)) {
            (Value::Missing, _) => return vec![Side::NoReading],
            (_, Samples::Counted(values)) => series.push(values),
            (_, Samples::Unknown) => return vec![Side::In, Side::Other, Side::NoReading],
        }
    }
    let moments = series.iter().map(Vec::len).min().unwrap_or_default();
    let ways: Vec<Way> = (0..moments)
        .map(|at| {
            let here: Vec<Value> = series.iter().filter_map(|values| values.get(at).cloned()).collect();
            let moment = Moments { readings, values: &here, samples: &series };
            moment.look(scene, |scene| {
                let tests = condition.tests.iter();
                let came: Vec<Side> = tests.map(|test| surest(&sides(test, scene))).collect();
                branch_ways(condition, &came)
            })
        })
        .collect();
    let (decides, side) = if every { (Way::No, Side::Other) } else { (Way::Yes, Side::In) };
    vec![if ways.contains(&decides) {
        side
    } else if ways.is_empty() || ways.contains(&Way::NoReading) {
        Side::NoReading
    } else if every {
        Side::In
    } else {
        Side::Other
    }]
}

/// What lies between steady and not, in base units: as stated, or one step of the tool's resolution; nothing where neither is
/// known.
pub(in crate::meaning) fn sampling_limit(card: &Card, reading: usize, within: Option<&Num>) -> Exact {
    let step = || {
        let known = card.readings.get(reading)?;
        let tool = card.tools.get(known.tool?)?;
        tool.measures.iter().find(|ability| ability.kind == known.kind)?.resolution.clone()
    };
    within.cloned().or_else(step).map_or_else(Exact::zero, |limit| limit.0)
}
