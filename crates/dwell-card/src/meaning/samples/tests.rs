//! Samples by worked examples, each computed by hand, and what holds for every series.

mod ending;
mod window;

use super::*;
use crate::graph::Sampling;
use crate::number::Num;
use proptest::prelude::*;

/// A number as typed: `14.1`.
fn number(text: &str) -> Exact {
    text.parse().unwrap_or_else(|_| panic!("{text}"))
}

/// Values parted by blanks; `-` is no reading, `>5` is above 5.
fn values(text: &str) -> Vec<Value> {
    text.split_whitespace()
        .map(|word| match word.strip_prefix('>') {
            _ if word == "-" => Value::Missing,
            Some(end) => Value::Read(dwell_quantity::Band::above(number(end))),
            None => Value::point(number(word)),
        })
        .collect()
}

/// A measurement: `take` and its clauses as `after=10 every=1 averaging=5 over=20 most needed=2`.
fn measure(take: Fold, clauses: &str) -> Measure {
    let value = |name: &str| {
        let found =
            clauses.split_whitespace().find_map(|clause| clause.strip_prefix(name)?.strip_prefix('='));
        found.map(|text| Num(number(text)))
    };
    let sampling = Sampling {
        after: value("after"),
        every: value("every"),
        averaging: value("averaging"),
        at_most: clauses.contains("most"),
        until: None,
        least: 1,
        needed: value("needed").map_or(0, |needed| needed.0.to_string().parse().unwrap_or(0)),
    };
    Measure {
        readings: vec![0],
        says: String::new(),
        text: None,
        tool: None,
        times: 1,
        take,
        over: value("over"),
        sampling: Some(sampling),
        needs: Vec::new(),
        ready: Vec::new(),
        leaves: Vec::new(),
        expected: None,
    }
}

#[test]
fn several_values_become_one() {
    let one = |fold, text: &str| taken(fold, &values(text)).exact().map(ToString::to_string);
    for (fold, wanted) in [
        (Fold::Lowest, "-4"),
        (Fold::Highest, "3"),
        (Fold::Mean, "0"),
        (Fold::Spread, "7"),
        (Fold::Sum, "0"),
        (Fold::Furthest, "-4"),
        (Fold::Last, "1"),
    ] {
        // -4, 3, 0, 1: lowest -4, highest 3, sum 0, mean 0, spread 3 - -4 = 7.
        assert_eq!(one(fold, "-4 3 0 1").as_deref(), Some(wanted), "{fold:?}");
        assert_eq!(taken(fold, &[]), Value::Missing, "{fold:?} of nothing");
        assert_eq!(taken(fold, &values("1 -")), Value::Missing, "{fold:?} of one that is missing");
    }
    assert_eq!(one(Fold::Mean, "7").as_deref(), Some("7"));
    // The trap: highest minus lowest of one value is 0 whatever was measured.
    assert_eq!(taken(Fold::Spread, &values("7")), Value::Missing);
    // An interval is no number to calculate with; but it can be the last of several, and the only one.
    assert_eq!(taken(Fold::Highest, &values("1 >5")), Value::Missing);
    assert_eq!(taken(Fold::Last, &values("1 >5")), values(">5")[0]);
    assert_eq!(taken(Fold::Highest, &values(">5")), values(">5")[0]);
    assert_eq!(taken(Fold::Last, &values("- 5")), values("5")[0]);
}

#[test]
fn steady_is_a_spread_of_at_most_the_limit() {
    let steady = |text, limit| steady(&values(text), &number(limit));
    assert_eq!(steady("14.1 14.2 14.1", "0.1"), Some(true)); // on the limit is in
    assert_eq!(steady("14.1 14.2 14.0", "0.1"), Some(false)); // 0.2
    assert_eq!(steady("14.1 14.1", "0"), Some(true));
    assert_eq!(steady("1 1.5 2 2.5 3", "0.5"), Some(false)); // each step is small, the drift is not
    assert_eq!(steady("14.1", "1"), None);
    assert_eq!(steady("", "1"), None);
    assert_eq!(steady("14.1 -", "1"), None);
    assert_eq!(steady("14.1 >14", "1"), None);
}

#[test]
fn fluctuating_goes_up_and_down_by_more_than_the_limit() {
    let so = |text, limit| fluctuating(&values(text), &number(limit));
    assert_eq!(so("4 6 4", "1"), Some(true)); // up 2, down 2
    assert_eq!(so("6 4 6", "1"), Some(true));
    assert_eq!(so("4 5 4", "1"), Some(false)); // exactly the limit is not more
    assert_eq!(so("1 2 3 4 5", "1"), Some(false)); // a rise is a drift
    assert_eq!(so("5 4 3 2 1", "1"), Some(false)); // so is a fall
    assert_eq!(so("1 4 3.5 6", "1"), Some(false)); // down by 0.5 only
    assert_eq!(so("1 2 3 2.4 1.8 1.2", "1"), Some(true)); // up 2 and down 1.8, both in small steps
    assert_eq!(so("4 6", "1"), None);
    assert_eq!(so("4 6 -", "1"), None);
    assert_eq!(so("4 6 >6", "1"), None);
}

#[test]
fn what_must_be_given_and_what_must_count() {
    let mut plain = measure(Fold::Mean, "");
    assert_eq!((is_sampled(&plain), least(&plain), needed(&plain)), (true, 1, 1));
    plain.take = Fold::Spread;
    assert_eq!((least(&plain), needed(&plain)), (2, 2));
    if let Some(sampling) = &mut plain.sampling {
        (sampling.least, sampling.needed) = (10, 3);
    }
    assert_eq!((least(&plain), needed(&plain)), (10, 3));
    // Without sampling there are as many as said, but for a spread of one.
    plain.sampling = None;
    (plain.times, plain.take) = (3, Fold::Mean);
    assert_eq!((is_sampled(&plain), least(&plain)), (false, 3));
    plain.times = 1;
    assert_eq!((is_sampled(&plain), least(&plain)), (false, 1));
    plain.take = Fold::Spread;
    assert_eq!((is_sampled(&plain), least(&plain)), (true, 2));
}

fn series() -> impl Strategy<Value = Vec<i64>> {
    proptest::collection::vec(-20_i64..20, 0..12)
}

fn points(numbers: &[i64]) -> Vec<Value> {
    numbers.iter().map(|number| Value::point(Exact::whole(*number))).collect()
}

/// Up and down by looking at every pair: the definition itself.
fn swings(numbers: &[i64]) -> (i64, i64) {
    let (mut up, mut down) = (0, 0);
    for (at, one) in numbers.iter().enumerate() {
        for later in &numbers[at..] {
            up = up.max(later - one);
            down = down.max(one - later);
        }
    }
    (up, down)
}

proptest! {
    #[test]
    fn what_is_steady_never_fluctuates(numbers in series(), limit in 0_i64..25) {
        let (values, limit) = (points(&numbers), Exact::whole(limit));
        if steady(&values, &limit) == Some(true) {
            prop_assert_ne!(fluctuating(&values, &limit), Some(true));
        }
    }

    #[test]
    fn fluctuating_is_as_its_definition_says(numbers in series(), limit in 0_i64..25) {
        let wanted = (numbers.len() >= 3).then(|| {
            let (up, down) = swings(&numbers);
            up > limit && down > limit
        });
        prop_assert_eq!(fluctuating(&points(&numbers), &Exact::whole(limit)), wanted);
    }

    #[test]
    fn adding_the_same_to_all_changes_nothing(numbers in series(), by in -50_i64..50, limit in 0_i64..25) {
        let moved: Vec<i64> = numbers.iter().map(|number| number + by).collect();
        let limit = Exact::whole(limit);
        prop_assert_eq!(steady(&points(&numbers), &limit), steady(&points(&moved), &limit));
        prop_assert_eq!(fluctuating(&points(&numbers), &limit), fluctuating(&points(&moved), &limit));
    }

    #[test]
    fn the_order_does_not_matter_to_steady_nor_the_direction_to_fluctuating(
        (numbers, mixed) in series().prop_flat_map(|all| (Just(all.clone()), Just(all).prop_shuffle())),
        limit in 0_i64..25,
    ) {
        let limit = Exact::whole(limit);
        prop_assert_eq!(steady(&points(&numbers), &limit), steady(&points(&mixed), &limit));
        let back: Vec<i64> = numbers.iter().rev().copied().collect();
        prop_assert_eq!(fluctuating(&points(&numbers), &limit), fluctuating(&points(&back), &limit));
        for fold in [Fold::Lowest, Fold::Highest, Fold::Mean, Fold::Spread, Fold::Sum] {
            prop_assert_eq!(taken(fold, &points(&numbers)), taken(fold, &points(&mixed)));
        }
    }

    #[test]
    fn a_larger_limit_makes_steadier(numbers in series(), limit in 0_i64..25) {
        let (small, large) = (Exact::whole(limit), Exact::whole(limit + 1));
        let values = points(&numbers);
        prop_assert!(steady(&values, &small) != Some(true) || steady(&values, &large) == Some(true));
        prop_assert!(fluctuating(&values, &large) != Some(true) || fluctuating(&values, &small) == Some(true));
    }
}
