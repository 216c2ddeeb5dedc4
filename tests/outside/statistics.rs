//! The figures of many readings against published worked examples.

use super::exact;
use dwell_quantity::Exact;
use dwell_record::statistics::{Digits, percentile, wilson};

/// NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.2, "Percentiles": twelve measurements of a gauge study, whose 90th percentile
/// is at place 0.9 · 13 = 11.7. The data and the result are from memory.
#[test]
fn a_percentile_is_that_of_the_handbook() {
    let mut values: Vec<Exact> = [
        "95.1772", "95.1567", "95.1937", "95.1959", "95.1442", "95.0610", "95.1591", "95.1195", "95.1065",
        "95.0925", "95.1990", "95.1682",
    ]
    .map(exact)
    .into();
    values.sort();
    let found = percentile(&values, 9, 10).expect("there are values");
    assert_eq!(found, exact("95.19807"));
    assert_eq!(found.fixed(4), "95.1981");
    // Below the first place it is the first value, above the last the last.
    assert_eq!(percentile(&values, 1, 100), Some(exact("95.0610")));
    assert_eq!(percentile(&values, 99, 100), Some(exact("95.1990")));
    assert_eq!(percentile(&[], 1, 2), None);
}

/// R. G. Newcombe, "Two-sided confidence intervals for the single proportion", Statistics in Medicine 17 (1998), table I, method 3:
/// the score interval without correction for continuity, 95 %. From memory.
#[test]
fn the_interval_of_a_share_is_that_of_the_table() {
    for (part, of, low, high) in [
        (81, 263, "0.2553", "0.3662"),
        (15, 148, "0.0624", "0.1605"),
        (0, 20, "0.0000", "0.1611"),
        (1, 29, "0.0061", "0.1718"),
    ] {
        let (found_low, found_high) = wilson(part, of, 1.959_963_984_540_054).expect("a share");
        assert_eq!(
            (format!("{found_low:.4}"), format!("{found_high:.4}")),
            (low.to_owned(), high.to_owned()),
            "{part} of {of}"
        );
    }
    assert_eq!(wilson(0, 0, 1.96), None);
    assert_eq!(wilson(3, 2, 1.96), None);
}

/// NIST/SEMATECH e-Handbook, 1.3.6.7.4: the 95 % point of chi-square with 9 degrees of freedom is 16.919. The statistic itself is
/// Pearson's: with 100 digits and ten expected of each, two off by 9 give 2 · 81 / 10 = 16.2, and by 10 give 20.
#[test]
fn heaping_begins_at_the_point_of_the_table() {
    let below = Digits([19, 1, 10, 10, 10, 10, 10, 10, 10, 10]);
    let above = Digits([20, 0, 10, 10, 10, 10, 10, 10, 10, 10]);
    assert!((below.chi_square() - 16.2).abs() < 1e-9 && (above.chi_square() - 20.0).abs() < 1e-9);
    assert_eq!((below.heaped(), above.heaped()), (Some(false), Some(true)));
}

/// Whipple's index: 100 where no digit is preferred, 500 where there are only 0 and 5 (United Nations, Demographic Yearbook, technical
/// notes on ages; here for the last digit of a reading).
#[test]
fn the_index_of_preferred_digits_runs_from_100_to_500() {
    assert_eq!(Digits([10; 10]).whipple(), Some(100));
    assert_eq!(Digits([30, 0, 0, 0, 0, 30, 0, 0, 0, 0]).whipple(), Some(500));
    assert_eq!(Digits([0; 10]).whipple(), None);
}
