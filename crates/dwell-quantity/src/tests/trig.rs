//! Sine and cosine against values of tables and the angles at which they are rational.

use crate::{Exact, cosine, root, sine};
use proptest::prelude::*;

fn turns(degrees: i64) -> Exact {
    Exact::ratio(degrees, 360).unwrap()
}

fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}

#[test]
fn rational_where_they_are() {
    for (degrees, value) in [
        (0, "1"),
        (60, "0.5"),
        (90, "0"),
        (120, "-0.5"),
        (180, "-1"),
        (240, "-0.5"),
        (270, "0"),
        (300, "0.5"),
        (360, "1"),
        (-60, "0.5"),
        (780, "0.5"),
    ] {
        assert_eq!(cosine(&turns(degrees)), (exact(value), exact(value)), "{degrees} °");
    }
    assert_eq!(sine(&turns(30)), (exact("0.5"), exact("0.5")));
    assert_eq!(sine(&turns(-90)), (exact("-1"), exact("-1")));
}

/// The first 30 decimals: of the square roots of 2, 3 and 5 for 45 °, 30 ° and 36 °, and of the sine of 1 ° as tables have it.
#[test]
fn between_two_numbers_that_lie_close_together() {
    for (degrees, decimals) in [
        (45, "0.707106781186547524400844362104"),
        (30, "0.866025403784438646763723170752"),
        (36, "0.809016994374947424102293417182"),
        (89, "0.017452406437283512819418978516"),
        (135, "-0.707106781186547524400844362105"),
        (330, "0.866025403784438646763723170752"),
    ] {
        let (low, high) = cosine(&turns(degrees));
        let (from, to) = (exact(decimals), exact(decimals) + exact("0.000000000000000000000000000001"));
        assert!(from < low && low < high && high < to, "{degrees} °: {low} .. {high}");
    }
    let (low, high) = sine(&turns(1));
    assert!(exact("0.017452406437283512") < low && high < exact("0.017452406437283513"));
}

#[test]
fn the_squares_add_up_to_one() {
    for degrees in -400..400 {
        let ((a, b), (c, d)) = (sine(&turns(degrees)), cosine(&turns(degrees)));
        assert!(a <= b && c <= d);
        let near = |low: &Exact, high: &Exact| (low * high).abs();
        let sum = near(&a, &b) + near(&c, &d);
        let off = (sum - Exact::one()).abs();
        assert!(off < exact("0.0000000000000000000000000000000000000001"), "{degrees} °");
    }
}

/// The first 30 decimals of the roots of 2 and 3, as tables have them.
#[test]
fn roots_are_exact_or_between_two_numbers() {
    let once = |text: &str| Some((exact(text), exact(text)));
    assert_eq!(root(&exact("6.25")), once("2.5"));
    assert_eq!(root(&exact("4/9")), once("2/3"));
    assert_eq!(root(&exact("0")), once("0"));
    assert_eq!(root(&exact("-1")), None);
    let between = |low: &str, high: &str| Some((exact(low), exact(high)));
    let two = between("1.414213562373095048801688724209", "1.414213562373095048801688724210");
    assert_eq!(root(&exact("2")), two);
    let three = between("1.732050807568877293527446341505", "1.732050807568877293527446341506");
    assert_eq!(root(&exact("3")), three);
}

proptest! {
    /// The square of the lower number is below, that of the upper one above, and they are one step apart.
    #[test]
    fn the_squares_enclose_the_number(above in 1_i64..1_000_000_000_000, below in 1_i64..1_000_000) {
        let number = Exact::ratio(above, below).unwrap();
        let (low, high) = root(&number).unwrap();
        if low == high {
            prop_assert_eq!(&low * &low, number);
        } else {
            prop_assert!(&low * &low < number && number < &high * &high);
            prop_assert_eq!(high - low, exact("0.000000000000000000000000000001"));
        }
    }
}
