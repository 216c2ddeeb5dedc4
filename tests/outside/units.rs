//! Factors of units against the printed digits of NIST SP 811, exact fractions, the Code of Federal Regulations, and UCUM.

use dwell_quantity::{Exact, Unit};

use super::{decimals, exact, rows, unit};

/// Our spelling of a unit that a table names with an explanation.
fn ours(name: &str) -> &str {
    match name {
        "inHg (conventional)" => "inHg",
        "inH2O (conventional)" => "inH2O",
        "mmHg (conventional)" => "mmHg",
        "hp (550 ft.lbf/s)" => "hp",
        "PS (metric hp)" => "PS",
        "gal (imperial)" => "gal(imp)",
        "mi/gal (US)" => "mpg(US)",
        "r/s (revolutions per second)" => "r/s",
        "ppm (mole fraction)" => "ppm",
        other => other,
    }
}

/// One of `from` in `to`.
fn conversion(from: &str, to: &str) -> Exact {
    unit(from).factor().checked_div(&unit(to).factor()).unwrap()
}

/// What a row converts, or the product of the two reciprocal units of fuel use that it names.
fn value(from: &str, to: &str) -> Exact {
    match (from, to) {
        ("mpg(US) x L/100km", "constant") => reciprocal("mpg(US)"),
        ("mpg(imp) x L/100km", "constant") => reciprocal("mpg(imp)"),
        (from, to) => conversion(ours(from), ours(to)),
    }
}

/// Litres per 100 km at one mile per gallon.
fn reciprocal(economy: &str) -> Exact {
    let consumption = Exact::one().checked_div(&unit(economy).factor()).unwrap();
    consumption.checked_div(&unit("L/100km").factor()).unwrap()
}

#[test]
fn factors_are_the_exact_fractions() {
    for row in rows(include_str!("data/units_factors.csv")) {
        let (from, to) = (row.get("from"), row.get("to"));
        assert_eq!(value(from, to), row.get("exact_fraction").parse().unwrap(), "{from} to {to}");
    }
}

#[test]
fn factors_round_to_the_digits_that_nist_prints() {
    let mut seen = 0;
    for row in rows(include_str!("data/units_factors.csv")) {
        let printed = row.get("nist_sp811_printed");
        if !printed.is_empty() {
            let (from, to) = (row.get("from"), row.get("to"));
            assert_eq!(value(from, to).fixed(decimals(printed)), printed, "{from} to {to}");
            seen += 1;
        }
    }
    assert!(seen >= 17, "{seen}");
}

#[test]
fn factors_agree_with_what_gnu_units_printed() {
    for row in rows(include_str!("data/units_factors.csv")) {
        let printed = row.get("gnu_units_2.22_printed");
        if !printed.is_empty() {
            let last_digit = Exact::one().checked_div(&Exact::whole(10_i64.pow(decimals(printed)))).unwrap();
            let off = (value(row.get("from"), row.get("to")) - exact(printed)).abs();
            assert!(off <= last_digit, "{}: off by {off}", row.get("from"));
        }
    }
}

#[test]
fn the_factors_that_federal_regulations_print() {
    // 40 CFR 1066.20(b): 1 hp = 550 ft·lbf/s = 0.7457 kW, 1 lbf = 4.4482 N, 1 mi = 1609.344 m.
    for (from, to, printed) in [("hp", "kW", "0.7457"), ("lbf", "N", "4.4482"), ("mi", "m", "1609.344")] {
        assert_eq!(conversion(from, to).fixed(decimals(printed)), printed, "{from}");
    }
    // 40 CFR 1066.20(b)(5)-(6): 1 ppm = 1 µmol/mol and 10 mmol/mol = 1 %.
    assert_eq!(conversion("%vol", "ppm"), exact("10000"));
}

#[test]
fn ucum_codes_mean_the_same_amount() {
    let rows = rows(include_str!("data/ucum.csv"));
    assert_eq!(rows.len(), Unit::all().count(), "a unit was added or taken away: compute its row again");
    for (row, unit) in rows.iter().zip(Unit::all()) {
        assert_eq!((row.get("symbol"), row.get("ucum")), (unit.symbol(), unit.ucum()));
        let theirs: f64 = row.get("value_of_one").parse().unwrap();
        // UCUM knows no backward scale: °ATDC has the size of a degree there.
        let mine = (unit.factor().abs() + unit.offset()).to_f64();
        // UCUM fixes the metre of mercury at 133.322 kPa, six digits of the conventional value (UCUM, table of units).
        let within = if unit.symbol().ends_with("Hg") { 5e-6 } else { 1e-12 };
        assert!((theirs / mine - 1.0).abs() <= within, "{unit:?}: {theirs} there, {mine} here");
    }
}
