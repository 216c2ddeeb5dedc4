//! Isolation by voltmeter and known resistor: UN Regulation No. 100, Rev. 2, annex on measuring isolation, fourth step.
//!
//! Read at consautoregs.com: Ri = Ro x Vb x (1/V1' - 1/V1), V1 from minus to chassis and V1' the same with Ro between them;
//! fifth step: Ri over the nominal voltage is the isolation in ohm per volt. 5.1.3.2: joined buses need 500 ohm per volt.
//! The resistor pulls V1' down the more, the less the bus leaks: V1' = V1 is no isolation at all, and V1' towards 0 an
//! isolation without bound.

use dwell_quantity::Exact;
use dwell_record::Outcome;

use super::{card, exact, run};

/// The isolation in ohms, from kilohms and volts, by another order of sums: Ro x Vb x (V1 - V1') / (V1 x V1').
fn expected(known: &str, full: &str, open: &str, loaded: &str) -> Exact {
    let (known, full) = (exact(known) * Exact::whole(1000), exact(full));
    let (open, loaded) = (exact(open), exact(loaded));
    (known * full * (open.clone() - loaded.clone())).checked_div(&(open * loaded)).unwrap()
}

/// How the card ends with these, and the isolation per volt as it stands in the report, in ohms per volt.
fn measured(known: &str, full: &str, open: &str, loaded: &str) -> (Outcome, String) {
    let values = [
        format!("known {known} kΩ"),
        format!("full {full} V"),
        format!("open {open} V"),
        format!("loaded {loaded} V"),
    ];
    let (result, session) = run(&card("un-r100", "joined-buses"), &values);
    let report = session.report();
    let line = report.readings.iter().find(|line| line.reading.name == "per-volt");
    (result, line.map(|line| line.as_left.value.clone()).unwrap_or_default())
}

#[test]
fn the_formula_decides_as_the_published_one() {
    // By hand: 200000 x 400 x (1/150 - 1/200) = 133333 ohm, 333 ohm/V; 200000 x 400 x (1/100 - 1/200) = 400 kohm, 1000 ohm/V.
    let cases = [
        ("200", "400", "200", "150", Outcome::Failed),
        ("200", "400", "200", "100", Outcome::Passed),
        ("200", "400", "250", "90.91", Outcome::Passed),
        ("200", "400", "380", "12.5", Outcome::Passed),
        ("50", "360.5", "180.25", "60.08", Outcome::Passed),
        ("50", "360.5", "180.25", "170", Outcome::Failed),
    ];
    for (known, full, open, loaded, wanted) in cases {
        let per_volt = expected(known, full, open, loaded).checked_div(&exact(full)).unwrap();
        let by_hand = if per_volt >= Exact::whole(500) { Outcome::Passed } else { Outcome::Failed };
        assert_eq!(by_hand, wanted, "{known} {full} {open} {loaded}: {per_volt}");
        let (result, shown) = measured(known, full, open, loaded);
        assert_eq!(result, wanted, "{known} {full} {open} {loaded}");
        let shown: f64 = shown.split(' ').next().unwrap().parse().unwrap_or_else(|_| panic!("{shown:?}"));
        let computed: f64 = per_volt.fixed(6).parse().unwrap();
        assert!((shown - computed).abs() <= 1.0, "{shown} shown, {computed} computed");
    }
}

/// Ro / Vb x Vb x (1/V1' - 1/V1) = 500 with Ro = 200 kohm and V1 = 200 V: 1/V1' = 500/200000 + 1/200, V1' = 133.33… V; no
/// decimal is exactly there, so the limit is met exactly with other values: V1 = 400 V, V1' = 200 V.
#[test]
fn on_the_limit_and_one_step_of_the_meter_to_each_side() {
    assert_eq!(expected("200", "400", "400", "200"), Exact::whole(200_000));
    assert_eq!(measured("200", "400", "400", "200").0, Outcome::Passed);
    assert_eq!(measured("200", "400", "400", "199.99").0, Outcome::Passed);
    assert_eq!(measured("200", "400", "400", "200.01").0, Outcome::Failed);
}

#[test]
fn nothing_to_divide_by_is_no_reading_and_no_pass() {
    // V1' = V1: Ri is exactly nought.
    assert_eq!(expected("200", "400", "200", "200"), Exact::zero());
    assert_eq!(measured("200", "400", "200", "200").0, Outcome::Failed);
    // V1' = 0: above all that can be shown. V1 = 0: the formula has no value either.
    for (open, loaded) in [("200", "0"), ("200", "0.00"), ("0", "100"), ("0", "0")] {
        assert_eq!(measured("200", "400", open, loaded).0, Outcome::Unfinished, "{open} V, {loaded} V");
    }
    // A meter that shows nothing.
    let values = ["known 200 kΩ", "full 400 V", "open 200 V", "loaded no reading"].map(str::to_owned);
    assert_eq!(run(&card("un-r100", "joined-buses"), &values).0, Outcome::Unfinished);
    // V1' towards 0: the smallest step of the meter is still a value, and a large one.
    assert_eq!(measured("200", "400", "200", "0.01").0, Outcome::Passed);
}
