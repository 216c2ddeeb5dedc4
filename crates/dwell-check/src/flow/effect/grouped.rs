//! Many tests that belong together in groups: every combination that makes a difference, one group after the other.

use super::many::name;
use dwell_card::Card;
use dwell_card::graph::{Condition, Side};
use std::collections::BTreeMap;

/// What makes a difference of the groups so far: for each reading the sides that occur, and how groups came out.
type Key = (Vec<u8>, u8);

/// For each set of sides that the tests of one reading (at all its places) can come out on together, and each way in which
/// the condition can then come out, one combination.
pub(super) fn grouped(condition: &Condition, possible: &[Vec<Side>], card: &Card) -> Vec<Vec<Side>> {
    let mut names: Vec<Option<&str>> = condition.tests.iter().map(|test| name(test, card)).collect();
    let named = names.clone();
    names.sort_unstable();
    names.dedup();
    let row: Vec<usize> =
        named.iter().map(|of| names.iter().position(|known| known == of).unwrap_or_default()).collect();
    let often = |test: &usize| condition.groups.iter().filter(|group| group.contains(test)).count() > 1;
    let alone: Vec<usize> = (0..condition.tests.len()).filter(often).collect();
    let mut out = Vec::new();
    for fixed in combinations(&alone, possible) {
        let mut start: Vec<Option<Side>> = vec![None; condition.tests.len()];
        for (test, side) in alone.iter().zip(&fixed) {
            if let Some(place) = start.get_mut(*test) {
                *place = Some(*side);
            }
        }
        let mut known: BTreeMap<Key, Vec<Option<Side>>> = BTreeMap::new();
        known.insert((vec![0; names.len()], 0), start);
        for group in &condition.groups {
            let own: Vec<usize> = group.iter().copied().filter(|test| !alone.contains(test)).collect();
            let ways = combinations(&own, possible);
            let mut next: BTreeMap<Key, Vec<Option<Side>>> = BTreeMap::new();
            for ((sides, outcomes), came) in &known {
                for way in &ways {
                    let (mut sides, mut came) = (sides.clone(), came.clone());
                    for (test, side) in own.iter().zip(way) {
                        if let Some(set) = row.get(*test).and_then(|row| sides.get_mut(*row)) {
                            *set |= bit(*side);
                        }
                        if let Some(place) = came.get_mut(*test) {
                            *place = Some(*side);
                        }
                    }
                    let outcome = outcome(condition.any, group, &came);
                    next.entry((sides, outcomes | outcome)).or_insert(came);
                }
            }
            known = next;
        }
        out.extend(known.into_values().map(|came| came.into_iter().flatten().collect()));
    }
    out
}

/// Every choice of one side for each of these tests.
fn combinations(tests: &[usize], possible: &[Vec<Side>]) -> Vec<Vec<Side>> {
    tests.iter().fold(vec![Vec::new()], |all: Vec<Vec<Side>>, test| {
        let sides = possible.get(*test).map(Vec::as_slice).unwrap_or_default();
        all.iter()
            .flat_map(|known| {
                sides.iter().map(move |side| known.iter().copied().chain([*side]).collect::<Vec<Side>>())
            })
            .collect()
    })
}

/// How one group came out: 1 it holds, 2 it does not, 4 it cannot be decided.
fn outcome(any: bool, group: &[usize], came: &[Option<Side>]) -> u8 {
    let mut sides = group.iter().filter_map(|test| came.get(*test).copied().flatten());
    let is_out = |side: Side| !matches!(side, Side::In | Side::NoReading);
    let (holds, not) = if any {
        (sides.clone().all(|side| side == Side::In), sides.any(is_out))
    } else {
        (sides.clone().any(|side| side == Side::In), sides.all(is_out))
    };
    match (holds, not) {
        (true, _) => 1,
        (_, true) => 2,
        _ => 4,
    }
}

fn bit(side: Side) -> u8 {
    match side {
        Side::In => 1,
        Side::Low => 2,
        Side::High => 4,
        Side::NoReading => 8,
        Side::Other => 16,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use dwell_card::graph::Test;
    use dwell_card::limit::{Formula, Reading};
    use dwell_card::meaning::branch_ways;
    use std::collections::BTreeSet;

    const PLACES: usize = 3;

    fn reading(name: &str) -> Reading {
        Reading {
            name: name.to_owned(),
            at: None,
            frame: 0,
            quantity: "angle".to_owned(),
            kind: "angle".to_owned(),
            unit: "°".to_owned(),
            decimals: 1,
            possible: None,
            tool: None,
            formula: None,
            positive: None,
            negative: None,
        }
    }

    /// Two readings at three places: first the row of the one, then that of the other.
    fn condition(any: bool) -> (Condition, Card) {
        let low = Some((Formula::Value(dwell_card::number::Num(dwell_quantity::Exact::zero())), true));
        let test = |reading| Test::Within {
            value: Formula::Latest(reading),
            low: low.clone(),
            high: None,
            written: String::new(),
        };
        let tests = (0..2 * PLACES).map(test).collect();
        let groups = (0..PLACES).map(|place| vec![place, PLACES + place]).collect();
        let mut card = crate::lower::empty_card();
        card.readings =
            (0..2 * PLACES).map(|at| reading(if at < PLACES { "toe" } else { "camber" })).collect();
        (Condition { any, tests, groups, says: String::new() }, card)
    }

    /// The sides that occur for each of the two readings, and how the condition comes out.
    fn differences(condition: &Condition, all: &[Vec<Side>]) -> BTreeSet<(u8, u8, dwell_card::graph::Way)> {
        let set = |sides: &[Side]| sides.iter().fold(0, |set, side| set | bit(*side));
        all.iter()
            .map(|came| (set(&came[..PLACES]), set(&came[PLACES..]), branch_ways(condition, came)))
            .collect()
    }

    #[test]
    fn nothing_that_makes_a_difference_is_left_out_and_nothing_impossible_is_added() {
        let mut possible = vec![vec![Side::In, Side::Low, Side::High, Side::NoReading]; 2 * PLACES];
        possible[1] = vec![Side::Low];
        possible[4] = vec![Side::In, Side::NoReading];
        for any in [true, false] {
            let (condition, card) = condition(any);
            let every: Vec<usize> = (0..2 * PLACES).collect();
            let all = combinations(&every, &possible);
            let some = grouped(&condition, &possible, &card);
            assert!(some.len() < all.len() / 2, "{} of {}", some.len(), all.len());
            assert!(some.iter().all(|came| all.contains(came)));
            assert_eq!(differences(&condition, &some), differences(&condition, &all));
        }
    }
}
