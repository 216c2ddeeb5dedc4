//! Decisions against ILAC-G8:09/2019 and JCGM 106: acceptance, guard bands, and the probability of conformance.

use dwell_quantity::{Band, Exact, Rule, conformance, decide, guarded, nonconformance, verdict};

use super::{Row, band, exact, rows};

fn vectors(from_memory: bool) -> Vec<Row> {
    let rows = rows(include_str!("data/decision_vectors.csv"));
    rows.into_iter().filter(|row| row.get("case").contains("from memory") == from_memory).collect()
}

fn check(row: &Row) {
    let case = row.get("case");
    let band = band(row.number("lower"), row.number("upper"));
    let reading = exact(row.get("reading"));
    let (standard, expanded) = (exact(row.get("std_uncertainty")), exact(row.get("U_k2")));
    let word = |accepted: bool| if accepted { "pass" } else { "fail" };
    assert_eq!(word(decide(&band, &reading, &Rule::Simple)), row.get("simple_acceptance"), "{case}");
    let rule = Rule::Guarded { uncertainty: expanded.clone() };
    assert_eq!(word(decide(&band, &reading, &rule)), row.get("guarded_w_eq_U"), "{case}");
    assert_eq!(verdict(&band, &reading, &expanded).words(), row.get("non_binary_w_eq_U"), "{case}");
    let probability = conformance(&band, &reading, &standard);
    assert_eq!(format!("{probability:.6}"), row.get("conformance_probability"), "{case}");
}

#[test]
fn computed_vectors_of_the_published_rules() {
    let vectors = vectors(false);
    assert!(vectors.len() >= 15);
    vectors.iter().for_each(check);
}

#[test]
fn arithmetic_of_two_examples_whose_data_are_from_memory() {
    // The data of the two JCGM 106 7.3.3 examples are from memory and not verified: this checks the arithmetic only.
    let vectors = vectors(true);
    assert_eq!(vectors.len(), 2);
    vectors.iter().for_each(check);
}

#[test]
fn specific_risks_of_a_published_test_suite() {
    // sandialabs/suncal, test/test_risk.py: N(10.5, 0.4), N(10, 0.4) and N(12, 0.4) against 9 .. 11; printed to five
    // decimals.
    let nine = Band::closed(exact("9"), exact("11"));
    let risk = |reading: &str| format!("{:.5}", nonconformance(&nine, &exact(reading), &exact("0.4")));
    assert_eq!(risk("10.5"), "0.10574");
    assert_eq!(risk("10"), "0.01242");
    assert_eq!(risk("12"), "0.99379");
    let above = Band::at_most(exact("11"));
    assert_eq!(format!("{:.5}", nonconformance(&above, &exact("10.5"), &exact("0.4"))), "0.10565");
}

#[test]
fn risk_at_the_edge_of_a_guard_band() {
    // ILAC-G8:09/2019 Table 1: the multiple of U that is guarded against the risk at the acceptance limit.
    for row in rows(include_str!("data/guard_bands.csv")) {
        let limit = Band::at_most(exact("12"));
        let (expanded, standard) = (exact("0.5"), exact("0.25"));
        let accepted = guarded(&limit, &(exact(row.get("w_over_U")) * expanded));
        let edge = accepted.high.unwrap().value;
        let risk = nonconformance(&limit, &edge, &standard);
        let computed: f64 = row.get("one_sided_risk_at_limit_computed").parse().unwrap();
        assert!((risk / computed - 1.0).abs() < 5e-6, "{}: {risk} against {computed}", row.get("rule"));
        let stated = row.get("stated_specific_risk").trim_start_matches('<');
        let stated = match stated.split_once(' ') {
            Some((number, "ppm")) => number.parse::<f64>().unwrap() / 1e6,
            Some((number, "%")) => number.parse::<f64>().unwrap() / 100.0,
            _ => panic!("{stated}"),
        };
        assert!(risk <= stated, "{}", row.get("rule"));
    }
}

#[test]
fn guarding_by_the_uncertainty_is_the_subtracting_factor() {
    // suncal guardband_tur: with a test uncertainty ratio T the band left after subtracting U is 1 - 1/T of it.
    for row in rows(include_str!("data/tur_guardband_factors.csv")) {
        let ratio = exact(row.get("TUR"));
        let tolerance = Band::closed(Exact::whole(-1), Exact::one());
        let left = guarded(&tolerance, &Exact::one().checked_div(&ratio).unwrap());
        let half = left.width().unwrap().checked_div(&Exact::whole(2)).unwrap();
        assert_eq!(half.fixed(6), row.get("subtract_U_1-1/T"), "TUR {ratio}");
    }
}
