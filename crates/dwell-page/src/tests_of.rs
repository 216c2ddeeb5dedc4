//! What a reading is held against: the tests of the decisions of its procedure.

use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Test};
use dwell_card::limit::Formula;

/// A test of one reading, with whether it is adjusted to.
pub(crate) struct Held<'a> {
    /// The test.
    pub(crate) test: &'a Test,
    /// Whether the bands to set to are meant.
    pub(crate) adjusting: bool,
}

/// The tests that a reading will be held against in its procedure, as the runner shows them when it is read.
pub(crate) fn of_reading(card: &Card, reading: usize) -> Vec<Held<'_>> {
    let frame = card.readings.get(reading).map(|known| known.frame);
    let nodes = card.nodes.iter().filter(|node| Some(node.frame) == frame);
    let tests = nodes.flat_map(|node| match &node.act {
        Act::Judge(judge) => all(&judge.condition).into_iter().map(|test| (test, judge.adjusting)).collect(),
        // What only leads another way is no band to be in, unless it asks after a limit.
        Act::Branch { condition } => {
            let limits = all(condition).into_iter().filter(|test| matches!(test, Test::Meets { .. }));
            limits.map(|test| (test, false)).collect()
        }
        _ => Vec::new(),
    });
    let mut held: Vec<Held<'_>> = Vec::new();
    for (test, adjusting) in tests.filter(|(test, _)| looks_at(test, reading)) {
        if !held.iter().any(|known| known.test == test && known.adjusting == adjusting) {
            held.push(Held { test, adjusting });
        }
    }
    held
}

/// The tests of a condition, those of single moments among them.
pub(crate) fn all(condition: &Condition) -> Vec<&Test> {
    let mut tests = Vec::new();
    for test in &condition.tests {
        match test {
            Test::Moments { condition, .. } => tests.extend(all(condition)),
            test => tests.push(test),
        }
    }
    tests
}

/// The readings whose own value a test looks at.
pub(crate) fn readings(test: &Test) -> Vec<usize> {
    match test {
        Test::Meets { value: Formula::Latest(reading), .. }
        | Test::Within { value: Formula::Latest(reading), .. } => {
            vec![*reading]
        }
        _ => Vec::new(),
    }
}

fn looks_at(test: &Test, reading: usize) -> bool {
    match test {
        Test::Meets { value, .. } | Test::Within { value, .. } => {
            matches!(value, Formula::Latest(of) | Formula::Samples(_, of) if *of == reading)
        }
        _ => false,
    }
}
