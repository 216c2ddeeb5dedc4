//! Amounts: into base units and back, temperatures as points and as differences, literals in parts.

use proptest::prelude::*;

use super::{exact, unit};
use crate::{Amount, Decimal, Exact, Kind, NumberError, Unit, from_base};

fn amount(number: &str, spelling: &str) -> Amount {
    Amount::new(Decimal::parse(number).unwrap(), unit(spelling))
}

fn base(number: &str, spelling: &str, kind: Kind) -> Exact {
    amount(number, spelling).in_base(kind).unwrap()
}

#[test]
fn a_temperature_is_a_point_and_a_tolerance_is_not() {
    // NIST SP 811 (2008) B.9: t/°C = (t/°F - 32)/1.8.
    assert_eq!(base("212", "°F", Kind::TEMPERATURE), base("100", "°C", Kind::TEMPERATURE));
    assert_eq!(base("-40", "°F", Kind::TEMPERATURE), base("-40", "°C", Kind::TEMPERATURE));
    assert_eq!(amount("9", "°F").in_base_difference(Kind::TEMPERATURE).unwrap(), exact("5"));
    assert_eq!(amount("5", "K").in_base_difference(Kind::TEMPERATURE).unwrap(), exact("5"));
    assert_eq!(
        base("15", "°C", Kind::TEMPERATURE_DIFFERENCE),
        base("27", "°F", Kind::TEMPERATURE_DIFFERENCE)
    );
}

#[test]
fn crank_degrees_run_both_ways() {
    let before = base("6", "°BTDC", Kind::CRANK_ANGLE);
    assert_eq!(before, -base("6", "°ATDC", Kind::CRANK_ANGLE));
    assert_eq!(from_base(&before, unit("°ATDC"), Kind::CRANK_ANGLE), exact("-6"));
    assert_eq!(amount("2", "°").in_base_difference(Kind::CRANK_ANGLE).unwrap(), exact("1/180"));
    assert!(amount("2", "°").in_base(Kind::CRANK_ANGLE).is_err());
}

#[test]
fn one_kind_one_scale() {
    assert_eq!(base("1", "%vol", Kind::CO_CONTENT), base("10000", "ppm", Kind::CO_CONTENT));
    assert_eq!(base("1", "lbf·ft", Kind::TORQUE), base("12", "lbf·in", Kind::TORQUE));
    assert_eq!(base("60", "rpm", Kind::ROTATIONAL_SPEED), base("1", "r/s", Kind::ROTATIONAL_SPEED));
    assert_eq!(base("1", "in", Kind::LENGTH), base("25.4", "mm", Kind::LENGTH));
}

#[test]
fn a_mismatch_says_what_met() {
    let why = |number, spelling, kind| amount(number, spelling).in_base(kind).unwrap_err().to_string();
    expect_test::expect!["N·m measures torque, not energy: torque and energy are both newtons times metres, but a bolt at rest under torque does no work; write it in J"]
    .assert_eq(&why("25", "N·m", Kind::ENERGY));
    expect_test::expect!["%vol measures co-content, co2-content, o2-content, not duty-ratio: a share of a volume is not any other per cent: a duty, a slope or a share of a mass; write it in %"]
    .assert_eq(&why("5", "%vol", Kind::DUTY_RATIO));
    let bare = Amount::new(Decimal::parse("5").unwrap(), Unit::ONE).in_base(Kind::LENGTH).unwrap_err();
    expect_test::expect!["a number without a unit is no length: write one, such as mm"]
        .assert_eq(&bare.to_string());
}

#[test]
fn amounts_print_as_typed() {
    assert_eq!(amount("62", "Hz").to_string(), "62 Hz");
    assert_eq!(amount("85.0", "degC").to_string(), "85.0 °C");
    assert_eq!(amount("2 1/4", "inch").to_string(), "2 1/4 in");
    assert_eq!(Amount::new(Decimal::parse("5").unwrap(), Unit::ONE).to_string(), "5");
}

#[test]
fn literals_in_parts_are_exact_and_keep_their_sign() {
    let half = Amount::compound("-0° 30'").unwrap();
    assert_eq!((half.to_string().as_str(), half.unit.symbol()), ("-0° 30′", "°"));
    assert_eq!(half.number.value, exact("-0.5"));
    let fine = Amount::compound("1° 2′ 3″").unwrap();
    assert_eq!(fine.in_base(Kind::ANGLE).unwrap(), exact("3723/1296000"));
    let deg = Amount::compound("1 deg 30 ′").unwrap();
    assert_eq!(deg.to_string(), "1° 30′");
    let time = Amount::compound("1 h 30 min").unwrap();
    assert_eq!((time.to_string().as_str(), time.number.value.clone()), ("1 h 30 min", exact("1.5")));
    assert_eq!(Amount::compound("2 min 5 s").unwrap().in_base(Kind::DURATION).unwrap(), exact("125"));
}

#[test]
fn parts_that_do_not_fit_are_refused() {
    for text in ["30′ 1°", "1° 60′", "1° 2 min", "5 mm 3 µm", "1 h", "36 2 psi", "1° -5′", "1 h 1 h", "1° 30"]
    {
        assert_eq!(Amount::compound(text).unwrap_err(), NumberError::NotANumber, "{text}");
    }
    assert_eq!(Amount::compound("° 5′").unwrap_err(), NumberError::Empty);
    assert_eq!(Amount::compound("").unwrap_err(), NumberError::Empty);
    assert_eq!(Amount::compound("1 h 0,5 min").unwrap_err(), NumberError::NotANumber);
}

proptest! {
    #[test]
    fn into_base_and_back_is_the_same_number(top in any::<i32>(), bottom in 1..1000_i64, pick in any::<prop::sample::Index>()) {
        let units: Vec<Unit> = Unit::all().collect();
        let unit = *pick.get(&units);
        let number = Exact::ratio(i64::from(top), bottom).unwrap();
        for kind in unit.kinds() {
            let there = Amount::new(Decimal::new(number.clone(), 0), unit).in_base(*kind).unwrap();
            prop_assert_eq!(from_base(&there, unit, *kind), number.clone());
        }
    }

    #[test]
    fn reading_parts_never_panics(text in "-?[0-9]{0,3}[°′″hmins. ]{0,6}\\PC{0,12}") {
        if let Ok(amount) = Amount::compound(&text) {
            prop_assert_eq!(Amount::compound(&amount.to_string()).unwrap(), amount);
        }
    }
}
