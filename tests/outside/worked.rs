//! Computations of the workshop against worked examples: what a formula comes to in its unit.

use super::{decimals, exact, rows, unit};
use crate::one::One;
use dwell_card::meaning::{Samples, Value, formula_value};
use dwell_check::check::check;
use dwell_quantity::{Exact, Kind, Rounding, Unit, from_base};

#[test]
fn formulas_come_to_what_the_worked_examples_say() {
    for row in &rows(include_str!("data/worked.csv")) {
        let (kind, formula, result) = (row.get("kind"), row.get("formula"), row.get("result"));
        let unit = if row.get("unit").is_empty() { Unit::ONE } else { unit(row.get("unit")) };
        let value = computed(kind, formula).unwrap_or_else(|| panic!("{formula} has no value"));
        let value = from_base(&value, unit, Kind::named(kind).unwrap());
        assert_eq!(value.rounded(decimals(result), Rounding::HalfEven), exact(result), "{formula}");
    }
}

/// No voltage with the resistor in place is no reading, and no crash (UN R100).
#[test]
fn a_division_by_nothing_has_no_value() {
    assert_eq!(computed("resistance", "100 kΩ * (380 V / 0 V - 1)"), None);
}

/// What a formula comes to, in base units.
fn computed(kind: &str, formula: &str) -> Option<Exact> {
    let text = format!(
        "procedure sum \"Sum\" {{\n    step all \"All\" {{\n        let result: {kind} = {formula}\n        note \"{{result}}\"\n    }}\n}}\n"
    );
    let checked = check(&["sum.dwell".to_owned()], &One(&text));
    let wrong: Vec<&String> = checked.findings.iter().map(|finding| &finding.message).collect();
    assert!(wrong.is_empty(), "{formula}: {wrong:?}");
    let card = checked.procedures.first().and_then(|compiled| compiled.card.as_ref()).unwrap();
    let reading = card.readings.iter().find(|reading| reading.name == "result").unwrap();
    let formula = reading.formula.as_ref().unwrap();
    formula_value(formula, &|_, _| Value::Missing, &|_| Samples::Unknown).exact().cloned()
}
