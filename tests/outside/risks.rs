//! Global false-accept risks worked out from the probability of conformance, against the tables of draft NCSLI RP-19.

use dwell_quantity::{Band, Exact, conformance};

use super::{exact, rows};

/// The probability that a standard normal value lies within `z` of zero, from the function under test.
fn within(z: f64) -> f64 {
    conformance(&Band::closed(-float(z), float(z)), &Exact::zero(), &Exact::one())
}

/// The `z` for a probability, by halving.
fn z_for(probability: f64) -> f64 {
    let (mut low, mut high) = (0.0, 10.0);
    for _ in 0..60 {
        let middle = (low + high) / 2.0;
        if within(middle) < probability { low = middle } else { high = middle }
    }
    low
}

/// A float as an exact number, to twelve decimals.
fn float(value: f64) -> Exact {
    Exact::ratio((value * 1e12).round() as i64, 1_000_000_000_000).unwrap()
}

/// The probability that an item is out of -1 .. 1 and read as in: the sum over all true values outside of how often
/// they occur times how often their reading lies inside (Simpson's rule out to ten standard deviations).
fn false_accept(process: f64, test: f64) -> f64 {
    let limits = Band::closed(Exact::whole(-1), Exact::one());
    let read_as_in = |truth: f64| conformance(&limits, &float(truth), &float(test));
    let density = |truth: f64| {
        (-0.5 * (truth / process).powi(2)).exp() / (process * (2.0 * std::f64::consts::PI).sqrt())
    };
    let steps = 2_000;
    let end = 1.0 + 10.0 * test;
    let width = (end - 1.0) / f64::from(steps);
    let sum: f64 = (0..=steps)
        .map(|step| {
            let truth = 1.0 + width * f64::from(step);
            let weight = if step == 0 || step == steps {
                1.0
            } else if step % 2 == 1 {
                4.0
            } else {
                2.0
            };
            weight * density(truth) * read_as_in(truth)
        })
        .sum();
    2.0 * sum * width / 3.0
}

#[test]
fn false_accept_tables_of_rp_19() {
    for row in rows(include_str!("data/false_accept_rp19.csv")) {
        let in_tolerance: f64 = row.get("in_tolerance_probability").parse().unwrap();
        let process = 1.0 / z_for(in_tolerance);
        let test = process / 4.0;
        let risk = false_accept(process, test);
        let printed = |column: &str| exact(row.get(column)).to_f64() / 100.0;
        assert!((risk - printed("unconditional_PFA_percent")).abs() < 1e-8, "{in_tolerance}: {risk}");
        // What is read as in spreads by process and test together.
        let read_in = within(1.0 / process.hypot(test));
        let conditional = risk / read_in;
        assert!(
            (conditional - printed("conditional_PFA_percent")).abs() < 1e-8,
            "{in_tolerance}: {conditional}"
        );
    }
}
