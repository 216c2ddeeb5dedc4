//! Readings for a way whose own do not lead along it: where the run leaves the way, the readings that decide there are chosen
//! anew, each with the others as they are, so that this comes out as on the way, and all before it still does.

mod course;
mod give;
mod knob;

use crate::follow::{Followed, follow};
use course::Course;
use dwell_card::graph::Way;
use dwell_check::finding::Reply;
use dwell_check::flow::ways::Effort;
use dwell_run::Session;
use give::{Candidate, Given};
use knob::{Knob, candidates, knobs};
use std::collections::BTreeMap;

/// How many values may be tried where the run leaves the way.
const MOST_TRIED: usize = 4_000;

/// How many values of a first reading are tried together with each of a second.
const MOST_FIRST: usize = 14;

/// How far a way could be gone.
pub(crate) struct Led {
    /// The answers that lead along it.
    pub(crate) answers: Vec<Reply>,
    /// The run with them.
    pub(crate) run: Followed,
    /// The decisions that stand against what would follow, the likeliest first; none where all of it was gone.
    pub(crate) against: Vec<(usize, Way)>,
}

/// Answers that lead along the way as far as some are found. With little effort one reading at a time is set anew.
pub(crate) fn led(begun: &Session, way: &[(usize, Way)], answers: &[Reply], effort: Effort, at: &str) -> Led {
    let mut answers = answers.to_vec();
    let mut run = follow(begun.clone(), way, &answers, at);
    while run.left.is_some() {
        match chosen_anew(way, &answers, &run, effort) {
            Ok(other) => {
                let next = follow(begun.clone(), way, &other, at);
                if next.left.is_some() && next.nodes <= run.nodes {
                    break;
                }
                (answers, run) = (other, next);
            }
            Err(against) => return Led { answers, run, against },
        }
    }
    Led { answers, run, against: Vec::new() }
}

/// Other answers, with which the run should go on where it left the way; where none are found the decisions that stand
/// against it.
fn chosen_anew(
    way: &[(usize, Way)],
    answers: &[Reply],
    run: &Followed,
    effort: Effort,
) -> Result<Vec<Reply>, Vec<(usize, Way)>> {
    let begun = Course::of(way, run).and_then(|course| Some((course.given(answers)?, course)));
    let Some((given, course)) = begun else { return Err(Vec::new()) };
    let knobs = knobs(&course);
    let mut tried = 0;
    // Where too much is zero to compute with, from values as the tools show them.
    let (usual, touched) = usual(&course, &given, &knobs);
    let mut one = |given, others: &[usize]| {
        knobs.iter().find_map(|knob| turned(&course, given, knob, others, &mut tried))
    };
    let found = one(&given, &[]).or_else(|| one(&usual, &touched));
    let found = match (found, effort) {
        (None, Effort::All) => two(&course, &given, &knobs, &[], &mut tried)
            .or_else(|| two(&course, &usual, &knobs, &touched, &mut tried)),
        (found, _) => found,
    };
    found.map(|found| course.answers(answers, &found)).ok_or_else(|| against(&course, &given, &knobs))
}

/// The decisions that come out otherwise where the one at which the run left the way comes out as it should; those that most
/// values are against first, and that one last.
fn against(course: &Course<'_>, given: &[Given], knobs: &[Knob]) -> Vec<(usize, Way)> {
    let mut counts: BTreeMap<(usize, Way), usize> = BTreeMap::new();
    for knob in knobs {
        let stops = course.stops(knob);
        for candidate in candidates(course, given, knob, &stops) {
            let Some(changed) = knob.set(course, given, &candidate) else { continue };
            if course.holds(&changed, &[course.upto]) {
                for stop in course.failing(&changed, &stops) {
                    *counts.entry(stop).or_default() += 1;
                }
            }
        }
    }
    let mut all: Vec<((usize, Way), usize)> = counts.into_iter().collect();
    all.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    all.into_iter().map(|(stop, _)| stop).chain(course.left_at()).collect()
}

/// What is given with two readings changed.
fn two(
    course: &Course<'_>,
    given: &[Given],
    knobs: &[Knob],
    others: &[usize],
    tried: &mut usize,
) -> Option<Vec<Given>> {
    let most = *tried + MOST_TRIED;
    for first in knobs {
        let mut stops = course.stops(first);
        stops.extend(others);
        stops.sort_unstable();
        stops.dedup();
        for candidate in candidates(course, given, first, &stops).into_iter().take(MOST_FIRST) {
            let Some(given) = first.set(course, given, &candidate) else { continue };
            for second in knobs.iter().filter(|second| *second != first) {
                if *tried > most {
                    return None;
                }
                if let Some(found) = turned(course, &given, second, &stops, tried) {
                    return Some(found);
                }
            }
        }
    }
    None
}

/// What is given with usual values for all that decides, and the places where something hangs on them.
fn usual(course: &Course<'_>, given: &[Given], knobs: &[Knob]) -> (Vec<Given>, Vec<usize>) {
    let mut given = given.to_vec();
    let mut stops = Vec::new();
    for knob in knobs.iter().filter(|knob| knob.taken.len() == 1) {
        stops.extend(course.stops(knob));
        let candidate = knob.usual(course).map(Candidate::Number);
        if let Some(set) = candidate.and_then(|candidate| knob.set(course, &given, &candidate)) {
            given = set;
        }
    }
    stops.sort_unstable();
    stops.dedup();
    (given, stops)
}

/// What is given with this one changed, so that all comes out that hangs on it, and at the other stops.
fn turned(
    course: &Course<'_>,
    given: &[Given],
    knob: &Knob,
    others: &[usize],
    tried: &mut usize,
) -> Option<Vec<Given>> {
    let mut stops = course.stops(knob);
    stops.extend(others);
    stops.sort_unstable();
    stops.dedup();
    candidates(course, given, knob, &stops).iter().find_map(|candidate| {
        *tried += 1;
        let changed = knob.set(course, given, candidate)?;
        course.holds(&changed, &stops).then_some(changed)
    })
}
