//! Every unit against two programs that know units: GNU units and pint.
//!
//! `data/programs.csv` names each unit in the words of both programs (GNU units 2.22, pint 0.25.3), or says why they
//! have none.

use std::io::Write;
use std::process::{Command, Stdio};

use dwell_quantity::{Exact, Kind, Unit};

use super::{Row, base, rows, unit};

/// The rows of units that the programs know, with our unit.
fn known() -> Vec<(Row, Unit)> {
    rows(include_str!("data/programs.csv"))
        .into_iter()
        .filter(|row| row.get("left_out_because").is_empty())
        .map(|row| {
            let unit = unit(row.get("symbol"));
            (row, unit)
        })
        .collect()
}

/// What a program writes when it is given `input`.
fn answer(program: &str, arguments: &[&str], input: &str) -> String {
    let missing = |why: &dyn std::fmt::Display| -> ! {
        panic!(
            "{program} did not answer: {why}; where it is missing, the second command of the README installs it"
        )
    };
    let started = Command::new(program)
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn();
    let mut child = started.unwrap_or_else(|why| missing(&why));
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap_or_else(|why| missing(&why));
    let output = child.wait_with_output().unwrap_or_else(|why| missing(&why));
    let complaint = String::from_utf8_lossy(&output.stderr).into_owned();
    if !output.status.success() || !complaint.is_empty() {
        missing(&complaint);
    }
    String::from_utf8(output.stdout).unwrap()
}

fn ask_units(questions: &[(String, String)]) -> Vec<f64> {
    let input: String = questions.iter().map(|(from, to)| format!("{from}\n{to}\n")).collect();
    let lines = answer("units", &["--terse", "--quiet", "--digits", "15"], &input);
    let numbers: Vec<f64> = lines
        .lines()
        .filter(|line| !line.is_empty())
        .map(|line| line.parse().unwrap_or_else(|_| panic!("GNU units says {line:?}")))
        .collect();
    assert_eq!(numbers.len(), questions.len());
    numbers
}

/// Asks pint, which works with fractions when told to, so that its answers are exact.
fn ask_pint(questions: &[(String, String)]) -> Vec<Exact> {
    const SCRIPT: &str = "
import sys, json, fractions, pint
registry = pint.UnitRegistry(non_int_type=fractions.Fraction)
for source, target in json.load(sys.stdin):
    print(fractions.Fraction((fractions.Fraction(1) * registry.parse_expression(source)).to(target).magnitude))
";
    let input = serde_json::to_string(questions).unwrap();
    answer("python3", &["-c", SCRIPT], &input)
        .lines()
        .map(|line| line.parse().unwrap_or_else(|why| panic!("pint says {line:?}: {why}")))
        .collect()
}

#[test]
fn every_unit_is_compared_or_says_why_not() {
    let rows = rows(include_str!("data/programs.csv"));
    assert_eq!(rows.len(), Unit::all().count(), "a unit was added or taken away: name it in both programs");
    for (row, unit) in rows.iter().zip(Unit::all()) {
        assert_eq!(row.get("symbol"), unit.symbol());
        let named = !row.get("gnu").is_empty() && !row.get("pint").is_empty();
        assert_ne!(named, !row.get("left_out_because").is_empty(), "{unit:?}");
    }
}

#[test]
fn gnu_units_agrees_on_every_factor() {
    let known = known();
    let questions: Vec<(String, String)> =
        known.iter().map(|(row, _)| (row.get("gnu").to_owned(), row.get("gnu_base").to_owned())).collect();
    for ((_, unit), theirs) in known.iter().zip(ask_units(&questions)) {
        let mine = unit.factor().to_f64();
        assert!((theirs / mine - 1.0).abs() <= 1e-14, "{unit:?}: {theirs} there, {mine} here");
    }
}

#[test]
fn gnu_units_agrees_on_temperatures() {
    let points = ["-459.67", "-40", "0", "32", "190.4", "212"];
    let questions: Vec<(String, String)> =
        points.iter().map(|point| (format!("tempF({point})"), "K".to_owned())).collect();
    for (point, theirs) in points.iter().zip(ask_units(&questions)) {
        let mine = base(point, "°F", Kind::TEMPERATURE).to_f64();
        assert!((theirs - mine).abs() <= 1e-11, "{point} °F: {theirs} there, {mine} here");
    }
}

#[test]
fn pint_agrees_exactly_on_every_factor() {
    let known = known();
    let questions: Vec<(String, String)> =
        known.iter().map(|(row, _)| (row.get("pint").to_owned(), row.get("pint_base").to_owned())).collect();
    let answers = ask_pint(&questions);
    assert_eq!(answers.len(), known.len());
    for ((_, unit), theirs) in known.iter().zip(answers) {
        assert_eq!(theirs, unit.factor(), "{unit:?}");
    }
}
