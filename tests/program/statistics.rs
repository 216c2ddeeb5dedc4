//! `dwell records statistics`: what the readings of many jobs say together.

use super::bench::{Bench, GOOD};
use crate::page::well_formed;

/// Twelve jobs: nine in band, two low, one high.
fn bench() -> Bench {
    let bench = Bench::new(&[("belt.dwell", GOOD)]);
    for value in ["56", "57.5", "58", "60", "61.2", "62", "63.9", "65", "68", "54.6", "50", "70.1"] {
        let readings = format!("name,value,unit\ntension,{value},Hz\n");
        bench.put("readings.csv", readings.as_bytes());
        bench.run(&["run", "belt.dwell", "--readings", "readings.csv", "--store", "kept"]);
    }
    bench.fed(&["run", "belt.dwell", "--store", "kept"], "\n62\n");
    bench
}

#[test]
fn the_figures_are_those_of_the_records() {
    let bench = bench();
    let said = bench.run(&["records", "statistics", "--store", "kept"]);
    assert_eq!(said.status, 0, "{}", said.err);
    let words = said.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "tension in belt, band 56 .. 68 Hz",
        "as found 12 readings; in band 9 of 12 (75 %, interval 46 % to 92 %); 2 LOW; 1 HIGH",
        // In their order 50 54.6 56 57.5 58 60 61.2 62 63.9 65 68 70.1: place 6.5, 3.25 and 9.75 of (n + 1) p.
        "median 60.6 Hz, 1.4 below the middle of the band; quartiles 56.375 and 64.725; from 50 to 70.1",
        "2 exactly on a limit",
        "12 numbers: too few to say",
        "12 jobs taken in 1 job left out: not over",
    ] {
        assert!(words.contains(part), "{part}: {words}");
    }
    assert!(said.out.lines().all(|line| line.chars().count() <= 80), "{}", said.out);
    let json = bench.run(&["records", "statistics", "--store", "kept", "--format", "json"]).out;
    let json: serde_json::Value = serde_json::from_str(&json).unwrap();
    assert_eq!(json["readings"][0]["as-found"]["five"][2], "60.6");
    assert_eq!(json["readings"][0]["as-found"]["low"], 2);
    let csv = bench.run(&["records", "statistics", "--store", "kept", "--format", "csv"]).out;
    assert_eq!(csv.lines().count(), 3, "{csv}");
    let written = bench.run(&["records", "statistics", "--store", "kept", "-o", "figures.html"]);
    assert_eq!(written.status, 0, "{}", written.err);
    let page = bench.get("figures.html");
    well_formed(&page).unwrap_or_else(|why| panic!("{why}: {page}"));
    assert_eq!(page.matches("<circle").count(), 24, "{page}");
}

#[test]
fn what_is_asked_for_can_be_narrowed() {
    let bench = bench();
    let none = bench.run(&["records", "statistics", "--store", "kept", "--procedure", "toe"]);
    assert!(none.out.contains("no reading is in them"), "{}", none.out);
    let late = bench.run(&["records", "statistics", "--store", "kept", "--since", "2998-01-01"]);
    assert!(late.out.contains("0 jobs taken in"), "{}", late.out);
    let wrong = bench.run(&["records", "statistics", "--store", "kept", "--until", "2031-13-01"]);
    assert_eq!(wrong.status, 2, "{}", wrong.out);
}
