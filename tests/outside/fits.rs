//! Asymmetric bands against the H7 row of ISO 286-2, in metric units and in inches.

use dwell_quantity::{Amount, Band, Decimal, Kind, Place, band_shown};

use super::{base, exact, rows, unit};

fn amount(number: &str, spelling: &str) -> Amount {
    Amount::new(Decimal::parse(number).unwrap(), unit(spelling))
}

/// The band of a bore of that size with the deviations of the row.
fn bore(size: &str, upper: &str, lower: &str) -> Band {
    Band::around(&amount(size, "mm"), &amount(lower, "µm"), &amount(upper, "µm"), Kind::LENGTH).unwrap()
}

#[test]
fn every_h7_bore_takes_its_limits_and_nothing_beyond() {
    for row in rows(include_str!("data/iso286_H7.csv")) {
        let (size, upper, lower) = (row.get("up_to_mm"), row.get("upper_um"), row.get("lower_um"));
        let bore = bore(size, upper, lower);
        let at = |micrometres: &str| base(size, "mm", Kind::LENGTH) + base(micrometres, "µm", Kind::LENGTH);
        assert_eq!(bore.place(&Band::exactly(at(upper))), Place::In, "{size}");
        assert_eq!(bore.place(&Band::exactly(at(lower))), Place::In, "{size}");
        let beyond = at(upper) + base("0.1", "µm", Kind::LENGTH);
        assert_eq!(bore.place(&Band::exactly(beyond)), Place::High(exact("0.0000001")), "{size}");
        let below = at(lower) - base("0.1", "µm", Kind::LENGTH);
        assert_eq!(bore.place(&Band::exactly(below)), Place::Low(exact("0.0000001")), "{size}");
        assert_eq!(bore.width(), Some(base(upper, "µm", Kind::LENGTH)));
    }
}

#[test]
fn tolerances_grow_with_the_size() {
    let mut rows = rows(include_str!("data/iso286_H7.csv"));
    rows.sort_by_key(|row| exact(row.get("over_mm")));
    for (smaller, larger) in rows.iter().zip(rows.iter().skip(1)) {
        assert_eq!(smaller.get("up_to_mm"), larger.get("over_mm"), "the rows must join");
        assert!(exact(smaller.get("upper_um")) < exact(larger.get("upper_um")));
    }
}

#[test]
fn a_bore_of_25_h7_as_it_is_written() {
    let written =
        Band::around(&amount("25", "mm"), &amount("-0", "mm"), &amount("+0.021", "mm"), Kind::LENGTH);
    assert_eq!(written.unwrap(), bore("25", "21", "0"));
    let bore = bore("25", "21", "0");
    assert_eq!(band_shown(&bore, unit("mm"), Kind::LENGTH, 3), "25.000 .. 25.021 mm");
    // In inches with four decimals both limits round inwards: 25 mm is 0.98425 in, 25.021 mm is 0.98508 in.
    assert_eq!(band_shown(&bore, unit("in"), Kind::LENGTH, 4), "0.9843 .. 0.9850 in");
}
