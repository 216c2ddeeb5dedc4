//! What people see: limits rounded inwards, amounts that never vanish, readings that never cross a limit.

use proptest::prelude::*;

use super::{exact, unit};
use crate::{Band, Bound, Decimal, Exact, Kind, Unit, amount_off, band_shown, reading_shown, shown};

fn rpm(low: &str, high: &str) -> Band {
    let one = unit("rpm").factor();
    Band::closed(exact(low) * &one, exact(high) * &one)
}

#[test]
fn bands_read_like_the_language() {
    let speed = Kind::ROTATIONAL_SPEED;
    assert_eq!(band_shown(&rpm("820", "880"), unit("rpm"), speed, 0), "820 .. 880 rpm");
    assert_eq!(band_shown(&Band::at_least(exact("0.002")), unit("mm"), Kind::LENGTH, 0), "at least 2 mm");
    assert_eq!(band_shown(&Band::above(exact("0")), unit("V"), Kind::DC_VOLTAGE, 0), "above 0 V");
    assert_eq!(band_shown(&Band::below(exact("0.00005")), unit("ppm"), Kind::HC_CONTENT, 0), "below 50 ppm");
    assert_eq!(band_shown(&Band::exactly(exact("5")), Unit::ONE, Kind::NUMBER, 0), "exactly 5");
    assert_eq!(band_shown(&Band::all(), unit("V"), Kind::DC_VOLTAGE, 0), "any value");
    let half = Band { low: Some(Bound::open(exact("0"))), high: Some(Bound::closed(exact("5"))) };
    assert_eq!(band_shown(&half, unit("V"), Kind::DC_VOLTAGE, 0), "above 0 V and at most 5 V");
}

#[test]
fn limits_round_inwards_and_gain_decimals_rather_than_vanish() {
    // 430 .. 510 kPa: nearest would be 62 .. 74 psi, of which both ends are looser.
    let oil = Band::closed(exact("430000"), exact("510000"));
    assert_eq!(band_shown(&oil, unit("psi"), Kind::GAUGE_PRESSURE, 0), "63 .. 73 psi");
    let narrow = Band::closed(exact("0.00021"), exact("0.00029"));
    assert_eq!(band_shown(&narrow, unit("mm"), Kind::LENGTH, 0), "0.21 .. 0.29 mm");
    let point = Band::exactly(exact("1/3"));
    assert_eq!(band_shown(&point, unit("m"), Kind::LENGTH, 1), "exactly 1/3 m");
    let open = Band::above(exact("0.00124"));
    assert_eq!(band_shown(&open, unit("mm"), Kind::LENGTH, 1), "at least 1.3 mm");
    assert_eq!(band_shown(&open, unit("mm"), Kind::LENGTH, 2), "above 1.24 mm");
}

#[test]
fn a_band_in_a_scale_that_runs_the_other_way_is_not_reversed() {
    let degrees = |n| Exact::ratio(n, 360).unwrap();
    let band = Band::closed(degrees(-10), degrees(-5));
    assert_eq!(band_shown(&band, unit("°ATDC"), Kind::CRANK_ANGLE, 0), "5 .. 10 °ATDC");
    assert_eq!(band_shown(&band, unit("°BTDC"), Kind::CRANK_ANGLE, 0), "-10 .. -5 °BTDC");
}

#[test]
fn an_amount_that_is_off_never_shows_as_nothing() {
    assert_eq!(amount_off(&exact("1.4"), unit("Hz"), Kind::FREQUENCY, 1), "1.4 Hz");
    assert_eq!(amount_off(&exact("-1.4"), unit("Hz"), Kind::FREQUENCY, 1), "1.4 Hz");
    assert_eq!(amount_off(&exact("0.04"), unit("V"), Kind::DC_VOLTAGE, 1), "0.04 V");
    assert_eq!(amount_off(&exact("0.00004"), unit("V"), Kind::DC_VOLTAGE, 1), "0.00004 V");
    assert_eq!(amount_off(&exact("5"), unit("°F"), Kind::TEMPERATURE, 0), "9 °F");
    assert_eq!(amount_off(&exact("0"), unit("V"), Kind::DC_VOLTAGE, 1), "0.0 V");
}

#[test]
fn a_reading_never_shows_on_the_other_side_of_its_limit() {
    let band = Band::at_most(exact("8"));
    assert_eq!(reading_shown(&exact("8.04"), &band, unit("V"), Kind::DC_VOLTAGE, 1), "8.04 V");
    assert_eq!(reading_shown(&exact("8.14"), &band, unit("V"), Kind::DC_VOLTAGE, 1), "8.1 V");
    assert_eq!(reading_shown(&exact("7.96"), &band, unit("V"), Kind::DC_VOLTAGE, 1), "7.96 V");
    assert_eq!(reading_shown(&exact("8"), &band, unit("V"), Kind::DC_VOLTAGE, 1), "8.0 V");
    assert_eq!(shown(&exact("373.15"), unit("°F"), Kind::TEMPERATURE, 1), "212.0 °F");
}

/// The base values of the numbers in a shown band.
fn read_back(text: &str, unit: Unit) -> (Option<Exact>, Option<Exact>) {
    let base = |number: &str| {
        let value =
            number.parse::<Exact>().or_else(|_| Decimal::parse(number).map(|number| number.value)).unwrap();
        value * unit.factor()
    };
    let number = |rest: &str| base(rest.split(' ').next().unwrap());
    if let Some(rest) = text.strip_prefix("at least ") {
        (Some(number(rest)), None)
    } else if let Some(rest) = text.strip_prefix("at most ") {
        (None, Some(number(rest)))
    } else if let Some(rest) = text.strip_prefix("exactly ") {
        (Some(number(rest)), Some(number(rest)))
    } else {
        let (low, high) = text.split_once(" .. ").unwrap();
        (Some(number(low)), Some(number(high)))
    }
}

proptest! {
    #[test]
    fn what_is_shown_is_never_looser(
        low in -1_000_000..1_000_000_i64,
        width in 0..100_000_i64,
        decimals in 0..4_u32,
        sides in 0..3_u8,
        spelling in prop::sample::select(vec!["psi", "bar", "kPa", "inHg", "kgf/cm²", "mmH2O"]),
    ) {
        let unit = unit(spelling);
        let (low, high) = (Exact::ratio(low, 7).unwrap(), Exact::ratio(low + width, 7).unwrap());
        let band = match sides {
            0 => Band::closed(low, high),
            1 => Band::at_least(low),
            _ => Band::at_most(high),
        };
        let text = band_shown(&band, unit, Kind::GAUGE_PRESSURE, decimals);
        let (low, high) = read_back(&text, unit);
        prop_assert_eq!((low.is_some(), high.is_some()), (band.low.is_some(), band.high.is_some()));
        for end in [&low, &high].into_iter().flatten() {
            prop_assert!(band.contains(end), "{} is looser than {:?}", text, band);
        }
        if let (Some(low), Some(high)) = (low, high) {
            prop_assert!(low <= high, "{}", text);
        }
    }

    #[test]
    fn a_shown_reading_stays_on_its_side(reading in -10_000..10_000_i64, limit in -100..100_i64, decimals in 0..3_u32) {
        let (reading, limit) = (Exact::ratio(reading, 97).unwrap(), Exact::whole(limit));
        let band = Band::at_most(limit.clone());
        let text = reading_shown(&reading, &band, unit("V"), Kind::DC_VOLTAGE, decimals);
        let number: Exact = text.trim_end_matches(" V").parse().unwrap();
        prop_assert_eq!(number.cmp(&limit), reading.cmp(&limit));
    }
}
