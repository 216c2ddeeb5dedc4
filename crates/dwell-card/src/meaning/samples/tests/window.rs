//! Which samples count: after, over, gaps, stalls, moving means; every figure by hand.

use super::super::window::{Flaw, counted};
use super::{measure, number, values};
use crate::limit::Fold;
use dwell_quantity::Exact;

/// What counts, as text: a value, or `.` for none; and the flaw. `times` are parted by blanks, none where it is empty.
fn window(clauses: &str, times: &str, samples: &str) -> (String, String) {
    let samples = values(samples);
    let times: Vec<Option<Exact>> = match times {
        "" => samples.iter().map(|_| None).collect(),
        _ => times.split_whitespace().map(|time| Some(number(time))).collect(),
    };
    let found = counted(&measure(Fold::Last, clauses), &times, &samples);
    let shown: Vec<String> = found
        .values
        .iter()
        .map(|value| match value {
            None => ".".to_owned(),
            Some(value) => value.exact().map_or("?".to_owned(), ToString::to_string),
        })
        .collect();
    let flaw = found.flaw.map(|(from, flaw)| format!("from {from}: {flaw}")).unwrap_or_default();
    (shown.join(" "), flaw)
}

fn fine(shown: &str) -> (String, String) {
    (shown.to_owned(), String::new())
}

#[test]
fn samples_before_after_and_behind_over_do_not_count() {
    assert_eq!(window("after=10 over=20", "9.9 10 20 20.1", "1 2 3 4"), fine(". 2 3 ."));
    // Without times and without `every` nothing is known of when: whoever types them has waited.
    assert_eq!(window("after=10 over=20", "", "1 2 3"), fine("1 2 3"));
    // With `every` they begin at `after`: 10, 15, 20, 25.
    assert_eq!(window("after=10 every=5 over=20", "", "1 2 3 4"), fine("1 2 3 ."));
}

#[test]
fn a_gap_is_more_than_twice_every() {
    assert_eq!(window("every=2 over=20", "0 2 6 8", "1 2 3 4"), fine("1 2 3 4")); // 4 is twice
    assert_eq!(window("every=2 over=20", "0 2 6.1 8", "1 2 3 4").1, "from 2: gap of 4.1 s at 2 s");
    // The beginning of the window is a neighbour too.
    assert_eq!(window("every=2 over=20", "4.5 6 8", "1 2 3").1, "from 0: gap of 4.5 s at 0 s");
    assert_eq!(window("after=10 every=2 over=20", "9.9 14 16", "1 2 3"), fine(". 2 3"));
    assert_eq!(window("after=10 every=2 over=20", "9 14.5 16", "1 2 3").1, "from 1: gap of 4.5 s at 10 s");
    // What lies outside the window is no gap.
    assert_eq!(window("after=10 every=2 over=12", "1 9 10 12 40", "1 2 3 4 5"), fine(". . 3 4 ."));
    // Without `every` there is no gap to speak of.
    assert_eq!(window("over=60", "0 50 60", "1 2 3"), fine("1 2 3"));
}

#[test]
fn a_sample_that_is_no_reading_spoils_what_follows() {
    assert_eq!(window("every=1 over=9", "0 1 2", "1 - 3").1, "from 1: no reading at 1 s");
    assert_eq!(window("", "", "1 2 -").1, "from 2: no reading in sample 3");
    assert_eq!(window("after=5 over=9", "1 5 6", "- 2 3"), fine(". 2 3")); // outside it does no harm
}

#[test]
fn averaging_is_the_mean_of_the_last_seconds() {
    // Means of the samples later than t - 2: at 2 s (2 + 6) / 2 = 4, at 3 s (6 + 4) / 2 = 5, at 4 s (4 + 1) / 2 = 2.5.
    assert_eq!(window("every=1 averaging=2 over=9", "0 1 2 3 4", "9 2 6 4 1"), fine(". . 4 5 2.5"));
    // The same where the times are not even: at 3.2 s those of 1.4, 2.5 and 3.2: (3 + 5 + 4) / 3 = 4.
    assert_eq!(window("every=1 averaging=2 over=9", "0 1.4 2.5 3.2", "9 3 5 4"), fine(". . 4 4"));
    // Samples before `after` do not enter: the first mean is at 3 + 2 = 5 s: (4 + 8) / 2 = 6.
    assert_eq!(window("after=3 every=1 averaging=2 over=9", "2 3 4 5", "99 0 4 8"), fine(". . . 6"));
    // From `every` alone: 0.75 s apart, means of 1.5 s from 1.5 s on: at 1.5 s (2 + 4) / 2 = 3.
    assert_eq!(window("every=0.75 averaging=1.5 over=9", "", "7 2 4"), fine(". . 3"));
    // Nothing can be averaged without times, and not over an interval.
    assert_eq!(window("averaging=2", "", "1 2 3"), fine(". . ."));
    assert_eq!(window("every=1 averaging=2 over=9", "0 1 2", "1 >5 3").1, "from 2: no reading at 2 s");
}

#[test]
fn flaws_are_told_in_seconds() {
    let third = Exact::ratio(10, 3).unwrap_or_else(Exact::zero);
    assert_eq!(Flaw::Gap { long: third.clone(), at: Exact::zero() }.to_string(), "gap of 3.333 s at 0 s");
    assert_eq!(
        Flaw::Stall { last: third, end: Exact::whole(20) }.to_string(),
        "the samples end at 3.333 s, before 20 s"
    );
    assert_eq!(Flaw::Few { counted: 1, needed: 2 }.to_string(), "1 of the samples count, and 2 must");
}
