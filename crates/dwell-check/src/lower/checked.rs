//! What must be judged after something was done: `connect checked by rail-pressure`.

use super::{Bound, Lowerer};
use crate::finding::Place;
use dwell_card::graph::{Act, Condition, Test};

/// A verb of one thing, and the spec that something must be judged by once it was done.
#[derive(Clone, Debug)]
pub struct Check {
    /// The spec, by its place in the model.
    pub spec: usize,
    /// Its name.
    pub spec_name: String,
    /// The slot of the thing.
    pub slot: usize,
    /// The thing's place, where it has one.
    at: Option<Bound>,
    /// Where that is declared.
    pub declared: Place,
    /// What is measured for the readings that are judged by the spec here.
    pub readings: Vec<usize>,
}

impl Check {
    /// Whether both ask the same, wherever that is declared.
    pub(super) fn asks_what(&self, other: &Check) -> bool {
        let Check { spec, spec_name, slot, at, declared: _, readings } = self;
        *spec == other.spec
            && *spec_name == other.spec_name
            && *slot == other.slot
            && *at == other.at
            && *readings == other.readings
    }
}

impl<'a> Lowerer<'a> {
    /// Notes what must be judged after a node that does this verb.
    pub(super) fn note_checked(&mut self, node: usize, verb: &str, item: usize, places: &[Option<usize>]) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        let has_verb = |known: &usize| model.handlings.get(*known).is_some_and(|known| known.has_verb(verb));
        let Some(handling) = thing.handlings.iter().position(has_verb) else { return };
        for checked in thing.checked.iter().filter(|checked| checked.verb == verb) {
            let Some(spec_name) = model.specs.get(checked.spec).map(|spec| spec.name.clone()) else {
                continue;
            };
            for at in places {
                let Some(slot) = self.slot(item, *at, handling) else { continue };
                let known = self.out.checks.iter().position(|known| {
                    (known.spec, known.slot, known.declared) == (checked.spec, slot, checked.place)
                });
                let check = known.unwrap_or_else(|| {
                    self.out.checks.push(Check {
                        spec: checked.spec,
                        spec_name: spec_name.clone(),
                        slot,
                        at: thing.at_each.zip(*at),
                        declared: checked.place,
                        readings: Vec::new(),
                    });
                    self.out.checks.len().saturating_sub(1)
                });
                self.out.checked_after.entry(node).or_default().push(check);
            }
        }
    }

    /// Finds the readings that are judged by each of these specs, at the place of the thing.
    pub(super) fn judged_by(&mut self) {
        let mut checks = std::mem::take(&mut self.out.checks);
        for check in &mut checks {
            for node in &self.out.card.nodes {
                let (Act::Judge(dwell_card::graph::Judge { condition, .. }) | Act::Branch { condition }) =
                    &node.act
                else {
                    continue;
                };
                for test in tests(condition) {
                    if self.out.limit_specs.get(&limit_of(test).unwrap_or(usize::MAX)) == Some(&check.spec) {
                        let read = super::readings_in(test).into_iter();
                        check.readings.extend(read.flat_map(|reading| self.measured_for(reading)));
                    }
                }
            }
            let apart = |reading: &usize| {
                let there = self.reading_at.get(*reading).copied().flatten();
                matches!((check.at, there), (Some((set, here)), Some((other, value)))
                    if set == other && here != value)
            };
            check.readings.retain(|reading| !apart(reading));
            check.readings.sort_unstable();
            check.readings.dedup();
        }
        self.out.checks = checks;
    }
}

/// The limit that a test asks for.
pub(crate) fn limit_of(test: &Test) -> Option<usize> {
    match test {
        Test::Meets { limit, .. } => Some(*limit),
        _ => None,
    }
}

/// The tests of a condition, those of one moment as well.
pub(crate) fn tests<'c>(condition: &'c Condition) -> Vec<&'c Test> {
    let inner = |test: &'c Test| match test {
        Test::Moments { condition, .. } => tests(condition),
        other => vec![other],
    };
    condition.tests.iter().flat_map(inner).collect()
}
