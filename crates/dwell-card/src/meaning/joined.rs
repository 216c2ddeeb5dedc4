//! Conditions: what several tests come to together, joined by `and`, by `or`, or over places.

use super::{Scene, Truth, sides};
use crate::graph::{Condition, Side, Way};

/// Whether a condition holds, given how its tests came out.
pub fn judge_in(condition: &Condition, came: &[Side]) -> bool {
    joined(condition, condition.any, &|test| came.get(test) == Some(&Side::In))
}

/// Which way a branch goes, given how its tests came out.
pub fn branch_ways(condition: &Condition, came: &[Side]) -> Way {
    let is_out = |test| came.get(test).is_none_or(|side| !matches!(side, Side::In | Side::NoReading));
    if judge_in(condition, came) {
        Way::Yes
    } else if joined(condition, !condition.any, &is_out) {
        Way::No
    } else {
        Way::NoReading
    }
}

/// Whether a condition holds, as far as can be told.
pub fn holds(condition: &Condition, scene: &Scene<'_>) -> Truth {
    let each: Vec<Vec<Side>> = condition.tests.iter().map(|test| sides(test, scene)).collect();
    let sure = |test: usize| each.get(test).is_some_and(|all| all.iter().all(|side| *side == Side::In));
    let never = |test: usize| each.get(test).is_none_or(|all| !all.contains(&Side::In));
    if joined(condition, condition.any, &sure) {
        Truth::Yes
    } else if joined(condition, !condition.any, &never) {
        Truth::No
    } else {
        Truth::Maybe
    }
}

/// Joins what is said of each test: with `any` one test (or one group of which all) is enough, otherwise all tests (or one
/// of each group) are asked for.
fn joined(condition: &Condition, any: bool, is: &dyn Fn(usize) -> bool) -> bool {
    let mut all = 0..condition.tests.len();
    match (condition.groups.is_empty(), any) {
        (true, true) => all.any(is),
        (true, false) => all.all(is),
        (false, true) => condition.groups.iter().any(|group| group.iter().all(|test| is(*test))),
        (false, false) => condition.groups.iter().all(|group| group.iter().any(|test| is(*test))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::graph::Test;
    use crate::vehicle::Guard;

    /// Four tests at two places: 0 and 1 are one reading, 2 and 3 another.
    fn at_two_places(any: bool) -> Condition {
        let test = Test::Guard { guard: Guard::Variant { axis: 0, values: Vec::new() }, not: false };
        let groups = vec![vec![0, 2], vec![1, 3]];
        Condition { any, tests: vec![test; 4], groups, says: String::new() }
    }

    #[test]
    fn any_asks_for_one_place_at_which_all_hold() {
        use Side::{High, In, Low, NoReading};
        let any = at_two_places(true);
        assert!(judge_in(&any, &[In, Low, In, High]));
        assert!(!judge_in(&any, &[In, Low, High, In]), "one here, the other there");
        assert_eq!(branch_ways(&any, &[In, Low, High, In]), Way::No);
        assert_eq!(branch_ways(&any, &[In, Low, NoReading, In]), Way::NoReading);
        assert_eq!(branch_ways(&any, &[Low, Low, NoReading, In]), Way::No, "out is out, whatever is missing");
    }

    #[test]
    fn every_asks_for_one_that_holds_at_each_place() {
        use Side::{High, In, Low, NoReading};
        let every = at_two_places(false);
        assert!(judge_in(&every, &[In, Low, High, In]));
        assert!(!judge_in(&every, &[In, Low, In, High]), "both here, none there");
        assert_eq!(branch_ways(&every, &[In, Low, In, High]), Way::No);
        assert_eq!(branch_ways(&every, &[In, NoReading, In, High]), Way::NoReading);
        assert_eq!(branch_ways(&every, &[Low, NoReading, High, High]), Way::No);
    }

    #[test]
    fn without_places_one_join_is_for_all() {
        use Side::{High, In, NoReading};
        let flat = |any| Condition { groups: Vec::new(), ..at_two_places(any) };
        assert_eq!(branch_ways(&flat(true), &[High, NoReading, High, In]), Way::Yes);
        assert_eq!(branch_ways(&flat(true), &[High, NoReading, High, High]), Way::NoReading);
        assert_eq!(branch_ways(&flat(false), &[In, NoReading, In, In]), Way::NoReading);
        assert_eq!(branch_ways(&flat(false), &[In, NoReading, High, In]), Way::No);
    }
}
