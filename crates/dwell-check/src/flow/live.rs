//! What is still looked at after each node, so that states that differ in nothing that matters are one.

use crate::lower::Lowered;
use crate::lower::readings_in;
use dwell_card::graph::{Act, Node, Test, Way, WorkedOut};
use dwell_card::limit::Formula;
use std::collections::BTreeSet;

/// For each node what is looked at there or after it, before it is taken anew.
pub(super) struct Live {
    /// Readings.
    pub(super) readings: Vec<BTreeSet<usize>>,
    /// Questions.
    pub(super) answers: Vec<BTreeSet<usize>>,
    /// Judging nodes whose sides an arm looks at.
    pub(super) judges: Vec<BTreeSet<usize>>,
    /// Judging nodes that something there or later can still settle.
    pub(super) settled: Vec<BTreeSet<usize>>,
    /// Counters that are still counted before they begin anew.
    pub(super) counters: Vec<BTreeSet<usize>>,
    /// Slots that are still asked for, so that it counts whether they are known.
    pub(super) slots: Vec<BTreeSet<usize>>,
    /// Readings that something can still move.
    pub(super) movable: Vec<BTreeSet<usize>>,
    /// Readings that are still adjusted.
    pub(super) adjusted: Vec<BTreeSet<usize>>,
}

impl Live {
    /// Works backwards until nothing changes.
    pub(super) fn of(lowered: &Lowered) -> Live {
        let nodes = &lowered.card.nodes;
        let empty = || vec![BTreeSet::new(); nodes.len()];
        let mut live = Live {
            readings: empty(),
            answers: empty(),
            judges: empty(),
            settled: empty(),
            counters: empty(),
            slots: empty(),
            movable: empty(),
            adjusted: empty(),
        };
        let mut changed = true;
        while changed {
            changed = false;
            for (at, node) in nodes.iter().enumerate().rev() {
                let mut readings = after(&live.readings, node);
                let mut answers = after(&live.answers, node);
                let mut judges = after(&live.judges, node);
                let mut settled = after(&live.settled, node);
                let mut counters = after(&live.counters, node);
                let mut slots = after(&live.slots, node);
                let mut movable = after(&live.movable, node);
                let mut adjusted = after(&live.adjusted, node);
                match &node.act {
                    Act::Measure(measure) => {
                        let until = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref());
                        for test in until.iter().flat_map(|until| &until.tests) {
                            readings.extend(all_readings(test, lowered));
                        }
                        for reading in &measure.readings {
                            readings.remove(reading);
                        }
                        slots.extend(measure.needs.iter().map(|required| required.slot));
                    }
                    Act::Choose(choose) => {
                        readings.remove(&choose.reading);
                        readings.extend(through(in_formula(&choose.nearest), lowered));
                    }
                    Act::Ask { question } => {
                        answers.remove(question);
                    }
                    Act::Judge(judge) => {
                        judges.clear();
                        settled.extend(&judge.settles);
                        let tests = judge.condition.tests.iter().filter(|_| judge.adjusting);
                        adjusted.extend(tests.flat_map(|test| all_readings(test, lowered)));
                    }
                    Act::Begin { counter } => {
                        counters.remove(counter);
                    }
                    Act::Count { counter } => {
                        counters.insert(*counter);
                    }
                    Act::Need { required, .. } => {
                        slots.insert(required.slot);
                    }
                    Act::Work(work) => {
                        movable.extend(&work.disturbs);
                        for band in work.worked_out.iter().map(WorkedOut::band) {
                            readings.extend(all_readings(&band, lowered));
                        }
                    }
                    _ => {}
                }
                // Where something is lost while this is asked, it is not answered: what was known before still counts.
                if let Some(lost) = node.next.get(&Way::Lost) {
                    readings.extend(live.readings.get(*lost).into_iter().flatten());
                    answers.extend(live.answers.get(*lost).into_iter().flatten());
                }
                for test in tests_of(node) {
                    readings.extend(all_readings(test, lowered));
                    match test {
                        Test::Answer { question, .. } => {
                            answers.insert(*question);
                        }
                        Test::Side { judge, .. } => {
                            judges.insert(*judge);
                        }
                        _ => {}
                    }
                }
                changed |= put(&mut live.readings, at, readings);
                changed |= put(&mut live.answers, at, answers);
                changed |= put(&mut live.judges, at, judges);
                changed |= put(&mut live.settled, at, settled);
                changed |= put(&mut live.counters, at, counters);
                changed |= put(&mut live.slots, at, slots);
                changed |= put(&mut live.movable, at, movable);
                changed |= put(&mut live.adjusted, at, adjusted);
            }
        }
        live
    }
}

fn after(sets: &[BTreeSet<usize>], node: &Node) -> BTreeSet<usize> {
    node.next.values().filter_map(|to| sets.get(*to)).flatten().copied().collect()
}

fn put(sets: &mut [BTreeSet<usize>], at: usize, set: BTreeSet<usize>) -> bool {
    match sets.get_mut(at) {
        Some(known) if *known != set => {
            *known = set;
            true
        }
        _ => false,
    }
}

/// The tests of a node.
pub(super) fn tests_of(node: &Node) -> &[Test] {
    match &node.act {
        Act::Judge(judge) => &judge.condition.tests,
        Act::Branch { condition } => &condition.tests,
        _ => &[],
    }
}

/// The readings that a test looks at, through formulas down to what is measured.
pub(super) fn all_readings(test: &Test, lowered: &Lowered) -> BTreeSet<usize> {
    through(readings_in(test), lowered)
}

/// These readings, and those that they are computed from.
pub(super) fn through(mut waiting: Vec<usize>, lowered: &Lowered) -> BTreeSet<usize> {
    let mut all = BTreeSet::new();
    while let Some(reading) = waiting.pop() {
        if all.insert(reading)
            && let Some(formula) =
                lowered.card.readings.get(reading).and_then(|reading| reading.formula.as_ref())
        {
            waiting.extend(in_formula(formula));
        }
    }
    all
}

/// The readings of a formula.
pub(super) fn in_formula(formula: &Formula) -> Vec<usize> {
    let probe = Test::Meets { value: formula.clone(), limit: 0, adjusting: false, misses: false, at: None };
    readings_in(&probe)
}
