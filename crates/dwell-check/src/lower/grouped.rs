//! Which tests of a condition belong together: those of one place of several.

use super::Lowerer;
use dwell_card::graph::Test;
use dwell_card::limit::Formula;
use dwell_card::vehicle::Guard;
use dwell_syntax::tree::{self, Joint, Quantifier};
use std::ops::Range;

/// The most tests of a condition over places, by how many are asked at one place: what follows from each combination of
/// them is worked out, and with three readings there are many more than with two.
const MOST_TESTS: [(usize, usize); 2] = [(2, 48), (3, 12)];

/// The most tests without places that may stand beside them.
const MOST_ALONE: usize = 2;

impl<'a> Lowerer<'a> {
    /// How the tests of a condition are joined: whether one is enough, and which belong together. `each` has for each test
    /// of the text its tests on the card: one, or one for each place.
    pub(super) fn grouped(
        &mut self,
        condition: &tree::Condition,
        tests: &[Test],
        each: Vec<Range<usize>>,
    ) -> (bool, Vec<Vec<usize>>) {
        let or = condition.joint == Joint::Or && each.len() > 1;
        let Some((quantifier, span)) = condition.quantifier else {
            // A state or steadiness without a place must hold at each of them, also beside an `or`.
            let rows = or && each.iter().any(|row| row.len() > 1);
            return (or, if rows { each.into_iter().map(Range::collect).collect() } else { Vec::new() });
        };
        let any = quantifier == Quantifier::Any;
        let rows: Vec<Range<usize>> = each.iter().filter(|row| row.len() > 1).cloned().collect();
        let Some(first) = rows.first() else { return (or, Vec::new()) };
        if each.len() < 2 || any == or {
            return (any, Vec::new());
        }
        let places = |row: &Range<usize>| -> Vec<Option<(usize, usize)>> {
            row.clone().map(|test| tests.get(test).and_then(|test| self.place_of_test(test))).collect()
        };
        let there = places(first);
        let word = if any { "any" } else { "every" };
        if there.contains(&None) || rows.iter().any(|row| places(row) != there) {
            let place = self.place(span);
            self.cannot(
                place,
                format!("`{word}` over values that do not stand at the same places"),
                "put only what is there at the same places into one condition",
            );
            return (any, Vec::new());
        }
        let alone: Vec<usize> = each.iter().filter(|row| row.len() == 1).flat_map(Range::clone).collect();
        let groups: Vec<Vec<usize>> = (0..there.len())
            .map(|at| rows.iter().map(|row| row.start + at).chain(alone.iter().copied()).collect())
            .collect();
        let spread = rows.len() * there.len();
        let fits = MOST_TESTS.iter().any(|(together, most)| rows.len() <= *together && spread <= *most);
        if !fits || alone.len() > MOST_ALONE {
            let place = self.place(span);
            self.cannot(
                place,
                format!("`{word}` over {} tests at {} places is too much for one", each.len(), there.len()),
                "split it into two conditions, one inside the other or one after the other",
            );
        }
        (any, groups)
    }

    /// The place that a test looks at: positions and value.
    fn place_of_test(&self, test: &Test) -> Option<(usize, usize)> {
        match test {
            Test::Guard { guard: Guard::State { slot, .. }, .. } => {
                let ((item, at, _), _) = self.slots.iter().find(|(_, known)| *known == slot)?;
                Some((self.model.items.get(*item)?.at_each?, (*at)?))
            }
            Test::Meets { value: Formula::Latest(reading), .. }
            | Test::Within { value: Formula::Latest(reading), .. }
            | Test::Steady { reading, .. }
            | Test::Fluctuating { reading, .. } => *self.reading_at.get(*reading)?,
            _ => None,
        }
    }
}
