//! Many tests at once, such as a row of readings: not every combination of their sides, but every one that makes a difference.

use dwell_card::Card;
use dwell_card::graph::{Side, Test};
use dwell_card::limit::Formula;

/// From how many combinations on only representatives are looked at.
pub(super) const MANY: usize = 1024;

const SIDES: [Side; 5] = [Side::In, Side::Low, Side::High, Side::NoReading, Side::Other];

/// For each set of sides that the tests of one reading (at all its places) can come out on together, one combination in
/// which just those occur: what a judging, a branch or an arm looks at is which sides occur for a reading, not how often.
pub(super) fn representatives(tests: &[Test], possible: &[Vec<Side>], card: &Card) -> Vec<Vec<Side>> {
    let mut names: Vec<Option<&str>> = tests.iter().map(|test| name(test, card)).collect();
    names.sort_unstable();
    names.dedup();
    let mut all: Vec<Vec<Option<Side>>> = vec![vec![None; tests.len()]];
    for wanted in names {
        let group: Vec<usize> = tests
            .iter()
            .enumerate()
            .filter(|(_, test)| name(test, card) == wanted)
            .map(|(place, _)| place)
            .collect();
        let ways: Vec<Vec<Side>> = (1..1_usize << SIDES.len())
            .filter_map(|set| {
                let sides: Vec<Side> = SIDES
                    .iter()
                    .enumerate()
                    .filter(|(bit, _)| set & (1 << bit) != 0)
                    .map(|(_, side)| *side)
                    .collect();
                assigned(&group, possible, &sides)
            })
            .collect();
        all = all
            .into_iter()
            .flat_map(|known| {
                let group = &group;
                ways.iter().map(move |way| {
                    let mut next = known.clone();
                    for (place, side) in group.iter().zip(way) {
                        if let Some(slot) = next.get_mut(*place) {
                            *slot = Some(*side);
                        }
                    }
                    next
                })
            })
            .collect();
    }
    all.into_iter().map(|came| came.into_iter().flatten().collect()).collect()
}

/// A side for each test of the group, each of `sides` at least once; nothing where that cannot be.
fn assigned(group: &[usize], possible: &[Vec<Side>], sides: &[Side]) -> Option<Vec<Side>> {
    let can = |place: &usize, side: &Side| possible.get(*place).is_some_and(|all| all.contains(side));
    let mut came: Vec<Option<Side>> = vec![None; group.len()];
    if !each_once(group, sides, &can, &mut came) {
        return None;
    }
    group
        .iter()
        .zip(came)
        .map(|(place, side)| side.or_else(|| sides.iter().copied().find(|side| can(place, side))))
        .collect()
}

/// Gives each side a test of its own; tries others where that fails.
fn each_once(
    group: &[usize],
    sides: &[Side],
    can: &dyn Fn(&usize, &Side) -> bool,
    came: &mut Vec<Option<Side>>,
) -> bool {
    let Some((side, rest)) = sides.split_first() else { return true };
    for (at, place) in group.iter().enumerate() {
        if came.get(at) != Some(&None) || !can(place, side) {
            continue;
        }
        if let Some(slot) = came.get_mut(at) {
            *slot = Some(*side);
        }
        if each_once(group, rest, can, came) {
            return true;
        }
        if let Some(slot) = came.get_mut(at) {
            *slot = None;
        }
    }
    false
}

/// The name of the reading that a test is about.
pub(super) fn name<'a>(test: &Test, card: &'a Card) -> Option<&'a str> {
    match test {
        Test::Meets { value: Formula::Latest(reading), .. }
        | Test::Within { value: Formula::Latest(reading), .. }
        | Test::Steady { reading, .. }
        | Test::Fluctuating { reading, .. } => card.readings.get(*reading).map(|known| known.name.as_str()),
        _ => None,
    }
}
