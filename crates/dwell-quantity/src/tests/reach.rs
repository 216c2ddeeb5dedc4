//! What an adjuster can bring in, against cases worked by hand.

use super::exact;
use crate::{Adjuster, Band, Bound, Exact};

/// Bands as intervals are written: `[0, 1)` has its lower end and not its upper one.
fn shown(bands: &[Band]) -> Vec<String> {
    let value = |end: &Option<Bound>| end.as_ref().map_or("-".to_owned(), |end| end.value.to_string());
    let closed = |end: &Option<Bound>| end.as_ref().is_some_and(|end| end.closed);
    let one = |band: &Band| {
        let (open, close) =
            (if closed(&band.low) { "[" } else { "(" }, if closed(&band.high) { "]" } else { ")" });
        format!("{open}{}, {}{close}", value(&band.low), value(&band.high))
    };
    bands.iter().map(one).collect()
}

/// Push rods 0.060 longer or shorter, desired clearance 0.123 .. 0.173: the step is wider than the band.
#[test]
fn a_step_wider_than_the_band_leaves_gaps() {
    let rods = Adjuster::new(&Exact::one(), &Exact::one(), &exact("0.060"), Some(1)).unwrap();
    let (band, found) =
        (Band::closed(exact("0.123"), exact("0.173")), Band::closed(exact("0"), exact("0.2")));
    assert!(rods.leaves_gaps(&band));
    assert_eq!(shown(&rods.brings_in(&band, &found)), ["[0.063, 0.113]", "[0.123, 0.173]", "[0.183, 0.2]"]);
    assert_eq!(shown(&rods.leaves_out(&band, &found)), ["[0, 0.063)", "(0.113, 0.123)", "(0.173, 0.183)"]);
}

/// 0.06 in for half a turn, half turns, four of them: 0.07 .. 0.19 in is reached from -0.17 to 0.43.
#[test]
fn a_step_that_fits_reaches_one_interval() {
    let rod = Adjuster::new(&exact("-0.06"), &exact("0.5"), &exact("0.5"), Some(4)).unwrap();
    let band = Band::closed(exact("0.07"), exact("0.19"));
    assert_eq!(shown(&rod.brings_in(&band, &Band::all())), ["[-0.17, 0.43]"]);
    let endless = Adjuster { most: None, ..rod };
    assert_eq!(endless.brings_in(&band, &Band::all()), [Band::all()]);
    assert!(endless.leaves_out(&band, &Band::all()).is_empty());
}

#[test]
fn an_adjuster_that_moves_nothing_brings_in_what_is_in() {
    let stuck = Adjuster { step: Exact::zero(), most: None };
    let band = Band::closed(exact("1"), exact("2"));
    assert_eq!(
        stuck.brings_in(&band, &Band::closed(exact("0"), exact("1.5"))),
        [Band::closed(exact("1"), exact("1.5"))]
    );
    assert!(stuck.brings_in(&band, &Band::closed(exact("3"), exact("4"))).is_empty());
    assert_eq!(Adjuster::new(&Exact::one(), &Exact::zero(), &Exact::one(), None), None);
}

/// A step as wide as the band: no gap while an end belongs to it.
#[test]
fn a_step_as_wide_as_the_band_has_no_gap() {
    let step = Adjuster { step: Exact::one(), most: Some(3) };
    let band = Band::closed(exact("1"), exact("2"));
    assert_eq!(shown(&step.brings_in(&band, &Band::all())), ["[-2, 5]"]);
    let open = Band { low: Some(Bound::open(exact("1"))), high: Some(Bound::open(exact("2"))) };
    assert_eq!(
        shown(&step.brings_in(&open, &Band::closed(exact("0"), exact("3")))),
        ["(0, 1)", "(1, 2)", "(2, 3)"]
    );
}

/// One-sided limits are reached from as far as the steps go.
#[test]
fn a_limit_with_one_end_is_reached_from_its_side() {
    let step = Adjuster { step: exact("0.5"), most: Some(2) };
    assert_eq!(shown(&step.brings_in(&Band::at_least(exact("3")), &Band::at_least(exact("0")))), ["[2, -)"]);
    let far = Adjuster { step: exact("10"), most: None };
    let band = Band::closed(exact("3"), exact("4"));
    assert_eq!(far.brings_in(&band, &Band::closed(exact("100"), exact("115"))).len(), 2);
}
