//! The figures of many jobs, each against a value that can be worked out by hand.

use super::*;

fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}

#[test]
fn a_band_is_read_as_the_record_has_it() {
    let of = |band: &str, unit: &str| Limits::read(Some(band), unit);
    let both = |low: &str, high: &str| Limits { low: Some(exact(low)), high: Some(exact(high)) };
    assert_eq!(of("56 .. 68 Hz", "Hz"), both("56", "68"));
    assert_eq!(of("-0.10 .. 0.50 mm", "mm"), both("-0.1", "0.5"));
    assert_eq!(of("at most 0.50 mm", "mm"), Limits { low: None, high: Some(exact("0.5")) });
    assert_eq!(of("above 2 MΩ", "MΩ"), Limits { low: Some(exact("2")), high: None });
    for other in ["56 .. 68 Hz", "nothing", "68 .. 56 mm", "steady"] {
        assert_eq!(of(other, "mm"), Limits::default(), "{other}");
    }
    assert_eq!(both("56", "68").middle(), Some(exact("62")));
}

#[test]
fn what_lies_at_the_ends_is_counted() {
    let limits = Limits { low: Some(exact("10")), high: Some(exact("20")) };
    let values: Vec<Exact> =
        ["8.9", "9", "9.9", "10", "11", "11.1", "15", "19", "20", "20.5", "22"].map(exact).into();
    let near = limits.near(&values).unwrap();
    assert_eq!(near, Near { on: 2, inside: 4, outside: 3 });
    assert_eq!(near.heaped(), None);
    // 12 of 12: one in 4096; 8 of 12: 794 in 4096.
    assert_eq!(Near { on: 0, inside: 12, outside: 0 }.heaped(), Some(true));
    assert_eq!(Near { on: 0, inside: 8, outside: 4 }.heaped(), Some(false));
    assert_eq!(Limits { low: None, ..limits }.near(&values), None);
}

#[test]
fn last_digits_are_those_that_were_typed() {
    let mut digits = Digits::default();
    for text in ["54.6", "62", " 7.50 ", "above 1000", "no reading", "1,4"] {
        digits.add(text);
    }
    assert_eq!(digits.0, [2, 0, 1, 0, 1, 0, 1, 0, 0, 0]);
    assert_eq!((digits.whipple(), digits.heaped()), (Some(200), None));
    // 100 numbers, ten of each: nothing is heaped. 0 and 5 twice as often: 20 · ((20−10)²+…)/10 by hand.
    assert_eq!((Digits([10; 10]).chi_square(), Digits([10; 10]).heaped()), (0.0, Some(false)));
    let heaped = Digits([35, 5, 5, 5, 5, 25, 5, 5, 5, 5]);
    assert_eq!((heaped.chi_square(), heaped.whipple(), heaped.heaped()), (105.0, Some(300), Some(true)));
    assert_eq!(Digits([40, 0, 0, 0, 0, 40, 0, 0, 0, 0]).heaped(), None);
}

#[test]
fn few_values_are_said_to_be_few() {
    assert_eq!(Share { part: 3, of: 3 }.words(), "3 of 3: too few to say");
    assert_eq!(Share { part: 0, of: 0 }.words(), "none");
    assert_eq!(Share { part: 5, of: 5 }.words(), "5 of 5 (100 %, interval 56 % to 100 %)");
    assert!(Five::of(&["1", "2", "3", "4"].map(exact)).is_none());
}
