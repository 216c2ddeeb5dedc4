//! Bands as sets of values, and where a reading lies.

use proptest::prelude::*;

use super::{exact, unit};
use crate::{Amount, Band, Bound, Decimal, Exact, Kind, Place};

fn any_bound() -> impl Strategy<Value = Option<Bound>> {
    prop::option::weighted(
        0.8,
        (-20..20_i64, any::<bool>()).prop_map(|(value, closed)| Bound { value: Exact::whole(value), closed }),
    )
}

fn any_band() -> impl Strategy<Value = Band> {
    (any_bound(), any_bound()).prop_map(|(low, high)| Band { low, high })
}

/// Whole and half numbers that tell two bands with whole ends apart.
fn probes() -> impl Iterator<Item = Exact> {
    (-44..=44).map(|n| Exact::ratio(n, 2).unwrap())
}

proptest! {
    #[test]
    fn bands_are_sets(a in any_band(), b in any_band()) {
        let both = a.intersect(&b);
        let rest = a.complement();
        for value in probes() {
            prop_assert_eq!(both.contains(&value), a.contains(&value) && b.contains(&value));
            let times = rest.iter().filter(|band| band.contains(&value)).count();
            prop_assert_eq!(times, usize::from(!a.contains(&value)));
        }
        prop_assert_eq!(a.is_empty(), probes().all(|value| !a.contains(&value)));
        prop_assert_eq!(a.inside(&b), probes().all(|value| !a.contains(&value) || b.contains(&value)));
    }

    #[test]
    fn a_place_is_what_every_value_says(band in any_band(), reading in any_band()) {
        let (mut below, mut within, mut above) = (0, 0, 0);
        for value in probes().filter(|value| reading.contains(value)) {
            if band.contains(&value) {
                within += 1;
            } else if band.low.as_ref().is_some_and(|low| value < low.value || (value == low.value && !low.closed)) {
                below += 1;
            } else {
                above += 1;
            }
        }
        match band.place(&reading) {
            Place::In => prop_assert!(within > 0 && below + above == 0),
            Place::Low(by) => prop_assert!(within == 0 && !by.is_negative() && (below > 0 || band.is_empty())),
            Place::High(by) => prop_assert!(within == 0 && !by.is_negative() && (above > 0 || band.is_empty())),
            Place::Undecided => {
                let mixed = usize::from(within > 0) + usize::from(below > 0) + usize::from(above > 0) > 1;
                prop_assert!(mixed || reading.is_empty());
            }
        }
    }

    #[test]
    fn moving_and_widening_keep_the_middle(low in -50..50_i64, width in 0..50_i64, by in 0..50_i64) {
        let band = Band::closed(Exact::whole(low), Exact::whole(low + width));
        let by = Exact::whole(by);
        prop_assert_eq!(band.widened(&by).middle(), band.middle());
        prop_assert_eq!(band.widened(&by).width(), band.width().map(|width| width + &by + &by));
        prop_assert_eq!(band.shifted(&by).shifted(&-&by), band);
    }
}

#[test]
fn the_limit_is_in() {
    let band = Band::closed(exact("820"), exact("880"));
    assert_eq!(band.place(&Band::exactly(exact("820"))), Place::In);
    assert_eq!(band.place(&Band::exactly(exact("819.9"))), Place::Low(exact("0.1")));
    assert_eq!(band.place(&Band::exactly(exact("881.4"))), Place::High(exact("1.4")));
    assert_eq!(Band::above(exact("0")).place(&Band::exactly(exact("0"))), Place::Low(exact("0")));
}

#[test]
fn a_reading_beyond_the_scale_decides_what_it_can() {
    let beyond = Band::above(exact("1000"));
    assert_eq!(Band::at_least(exact("100")).place(&beyond), Place::In);
    assert_eq!(Band::at_most(exact("500")).place(&beyond), Place::High(exact("500")));
    assert_eq!(Band::at_most(exact("1000")).place(&beyond), Place::High(exact("0")));
    assert_eq!(Band::at_least(exact("2000")).place(&beyond), Place::Undecided);
    assert_eq!(Band::all().place(&beyond), Place::In);
}

#[test]
fn reversed_and_empty_are_told_apart() {
    let reversed = Band::closed(exact("7.042"), exact("7.017"));
    assert!(reversed.reversed() && reversed.is_empty());
    let empty = Band { low: Some(Bound::open(exact("1"))), high: Some(Bound::closed(exact("1"))) };
    assert!(empty.is_empty() && !empty.reversed());
    assert!(!Band::exactly(exact("1")).is_empty());
}

#[test]
fn asymmetric_tolerances_follow_the_direction_of_the_scale() {
    let amount = |number: &str, spelling: &str| Amount::new(Decimal::parse(number).unwrap(), unit(spelling));
    let around = |nominal: Amount, minus: Amount, plus: Amount, kind| {
        Band::around(&nominal, &minus, &plus, kind).unwrap()
    };
    let bore = around(amount("25", "mm"), amount("-0", "mm"), amount("+0.021", "mm"), Kind::LENGTH);
    assert_eq!(bore, Band::closed(exact("0.025"), exact("0.025021")));
    let degrees = |n| Exact::ratio(n, 360).unwrap();
    for tolerance in ["°", "°ATDC"] {
        let after =
            around(amount("5", "°ATDC"), amount("-1", tolerance), amount("3", tolerance), Kind::CRANK_ANGLE);
        assert_eq!(after, Band::closed(degrees(-8), degrees(-4)), "{tolerance}");
    }
    let warm = around(amount("88", "°C"), amount("-5.4", "°F"), amount("5.4", "°F"), Kind::TEMPERATURE);
    assert_eq!(warm, Band::closed(exact("358.15"), exact("364.15")));
    assert_eq!(Band::between(exact("-5"), exact("-10")), Band::closed(exact("-10"), exact("-5")));
}
