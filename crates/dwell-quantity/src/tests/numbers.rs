//! Exact numbers: laws of arithmetic, the one text form, rounding.

use proptest::prelude::*;

use super::exact;
use crate::{Exact, NumberError, Rounding};

fn any_number() -> impl Strategy<Value = Exact> {
    (any::<i32>(), 1..100_000_i64).prop_map(|(top, bottom)| Exact::ratio(i64::from(top), bottom).unwrap())
}

proptest! {
    #[test]
    fn arithmetic_is_exact(a in any_number(), b in any_number(), c in any_number()) {
        prop_assert_eq!(&(&a + &b) + &c, &a + &(&b + &c));
        prop_assert_eq!(&a * &(&b + &c), &a * &b + &a * &c);
        prop_assert_eq!(&(&a - &b) + &b, a.clone());
        prop_assert_eq!(&a + &-&a, Exact::zero());
        match a.checked_div(&b) {
            Some(quotient) => prop_assert_eq!(quotient * &b, a),
            None => prop_assert!(b.is_zero()),
        }
    }

    #[test]
    fn the_text_form_reads_back(a in any_number(), b in any_number()) {
        for number in [&a * &b, &a + &b, a] {
            prop_assert_eq!(&exact(&number.to_string()), &number);
        }
    }

    #[test]
    fn rounding_stays_within_a_step(number in any_number(), decimals in 0..8_u32) {
        let step = Exact::one().checked_div(&Exact::whole(10_i64.pow(decimals))).unwrap();
        let up = number.rounded(decimals, Rounding::Up);
        let down = number.rounded(decimals, Rounding::Down);
        let near = number.rounded(decimals, Rounding::HalfEven);
        prop_assert!(down <= number && number <= up);
        prop_assert!(&up - &down <= step);
        prop_assert!(near == up || near == down);
        prop_assert!((&near - &number).abs() * Exact::whole(2) <= step);
        prop_assert_eq!(exact(&number.fixed(decimals)), near);
    }

    #[test]
    fn the_float_is_near(number in any_number()) {
        let float = number.to_f64();
        prop_assert!((float - number.fixed(12).parse::<f64>().unwrap()).abs() <= 1e-9 * float.abs().max(1.0));
    }
}

#[test]
fn one_text_form() {
    let shown = |top, bottom| Exact::ratio(top, bottom).unwrap().to_string();
    assert_eq!(shown(7, 20), "0.35");
    assert_eq!(shown(-24, 2), "-12");
    assert_eq!(shown(-1, 3), "-1/3");
    assert_eq!(shown(0, 5), "0");
    assert_eq!(shown(1, -4), "-0.25");
    assert_eq!(exact("-0"), Exact::zero());
    assert_eq!(exact("0.350"), exact("7/20"));
}

#[test]
fn a_number_that_needs_very_many_decimals_is_a_fraction() {
    let tiny = (0..61).fold(Exact::one(), |n, _| n.checked_div(&Exact::whole(2)).unwrap());
    assert!(tiny.to_string().starts_with("1/"), "{tiny}");
    assert_eq!(exact(&tiny.to_string()), tiny);
}

#[test]
fn everything_else_is_refused_with_the_reason() {
    let why = |text: &str| text.parse::<Exact>().unwrap_err();
    assert_eq!(why(""), NumberError::Empty);
    assert_eq!(why("1e5"), NumberError::Exponent);
    assert_eq!(why("1e400"), NumberError::Exponent);
    assert_eq!(why("0,35"), NumberError::DecimalComma);
    assert_eq!(why("2 000"), NumberError::Grouping);
    assert_eq!(why(" 1"), NumberError::Grouping);
    assert_eq!(why("nan"), NumberError::NotANumber);
    assert_eq!(why("inf"), NumberError::NotANumber);
    assert_eq!(why("+1"), NumberError::NotANumber);
    assert_eq!(why("--1"), NumberError::NotANumber);
    assert_eq!(why("1/0"), NumberError::ZeroDenominator);
    assert_eq!(why("1/-3"), NumberError::NotANumber);
    assert_eq!(why(".5"), NumberError::BarePoint);
    assert_eq!(why("5."), NumberError::BarePoint);
    assert_eq!(why(&"9".repeat(2_001)), NumberError::TooLong);
}

#[test]
fn nothing_is_ever_minus_zero() {
    assert_eq!(exact("-0.04").fixed(1), "0.0");
    assert_eq!(exact("-0.05").fixed(1), "0.0");
    assert_eq!(exact("-0.06").fixed(1), "-0.1");
    assert_eq!(Exact::default().fixed(0), "0");
}

#[test]
fn a_huge_number_of_decimals_does_no_harm() {
    assert!(exact("1/3").fixed(u32::MAX).len() < 1_000);
    assert_eq!(exact("0.5").rounded(u32::MAX, Rounding::Up), exact("0.5"));
}
