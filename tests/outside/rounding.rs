//! Rounding against NIST SP 811 B.7.1, ASTM E29 and a technical manual.

use dwell_quantity::{Band, Exact, Kind, Rounding, Rule, band_shown, decide, reading_shown};

use super::{base, decimals, exact, rows, unit};

#[test]
fn half_even_as_in_the_published_examples() {
    for row in rows(include_str!("data/rounding_vectors.csv")) {
        let number = |column: &str| row.get(column).split(' ').next().unwrap().to_owned();
        let expected = number("half_even_expected");
        let rounded = exact(&number("input")).fixed(decimals(&expected));
        assert_eq!(rounded, expected, "{}", row.get("input"));
    }
}

#[test]
fn binary_floats_would_get_some_of_them_wrong() {
    // The reason for exact decimals: Rust's own formatting of the nearest binary float answers differently.
    let wrong = rows(include_str!("data/rounding_vectors.csv"))
        .iter()
        .filter(|row| row.get("binary_float_gives_wrong_answer") == "yes")
        .filter(|row| {
            let expected = row.get("half_even_expected");
            let float: f64 = row.get("input").parse().unwrap();
            format!("{float:.*}", decimals(expected) as usize) != expected
        })
        .count();
    assert_eq!(wrong, 2);
}

#[test]
fn a_limit_is_judged_by_the_absolute_method() {
    // ASTM E29 sections 4 to 6: a limit means something only when one of two methods is chosen; this program always
    // takes the absolute one, which never rounds a reading before judging it.
    let limit = Band::at_most(base("1.2", "%vol", Kind::CO_CONTENT));
    let mut differ = 0;
    for row in rows(include_str!("data/e29_absolute_vs_rounding.csv")) {
        assert_eq!(row.get("limit"), "CO <= 1.2 %");
        let observed = exact(row.get("observed"));
        let percent = unit("%vol").factor();
        let absolute = decide(&limit, &(&observed * &percent), &Rule::Simple);
        let rounded = decide(&limit, &(observed.rounded(1, Rounding::HalfEven) * &percent), &Rule::Simple);
        let word = |conforms: bool| if conforms { "conform" } else { "not conform" };
        assert_eq!(word(absolute), row.get("absolute_method"), "{observed}");
        assert_eq!(word(rounded), row.get("rounding_method"), "{observed}");
        differ += usize::from(absolute != rounded);
    }
    assert_eq!(differ, 2);
}

#[test]
fn what_is_shown_does_not_hide_the_verdict() {
    // 1.24 % CO is out by the absolute method, so it must not be shown as the limit of 1.2 % itself.
    let limit = Band::at_most(base("1.2", "%vol", Kind::CO_CONTENT));
    let shown = |observed: &str| {
        reading_shown(&base(observed, "%vol", Kind::CO_CONTENT), &limit, unit("%vol"), Kind::CO_CONTENT, 1)
    };
    assert_eq!(shown("1.24"), "1.24 %vol");
    assert_eq!(shown("1.20"), "1.2 %vol");
    assert_eq!(shown("1.26"), "1.3 %vol");
}

#[test]
fn a_second_unit_is_rounded_inwards() {
    // US Army TM 9-2320-260-20 prints 63-73 psi for 430-510 kPa; to the nearest it would be 62-74.
    let pressure = Kind::GAUGE_PRESSURE;
    let oil = Band::closed(base("430", "kPa", pressure), base("510", "kPa", pressure));
    assert_eq!(band_shown(&oil, unit("psi"), pressure, 0), "63 .. 73 psi");
    let nearest =
        |number: &str| base(number, "kPa", pressure).checked_div(&unit("psi").factor()).unwrap().fixed(0);
    assert_eq!((nearest("430").as_str(), nearest("510").as_str()), ("62", "74"));
    assert!(!oil.contains(&base("62", "psi", pressure)) && !oil.contains(&base("74", "psi", pressure)));
}

#[test]
fn a_tolerance_converts_as_a_difference() {
    // NIST SP 811 B.9: 88 °C ± 3 °C are 190.4 °F ± 5.4 °F.
    let warm = Kind::TEMPERATURE;
    let band = Band::closed(base("85", "°C", warm), base("91", "°C", warm));
    assert_eq!(band_shown(&band, unit("°F"), warm, 1), "185.0 .. 195.8 °F");
    assert_eq!(band.middle(), Some(base("190.4", "°F", warm)));
    assert_eq!(band.width(), Some(exact("10.8") * unit("°F").difference().factor()));
    assert_eq!(Exact::whole(6) * unit("K").factor(), band.width().unwrap());
}
