//! The library of the Merle: it is sound, its cards stay as they are, and its readings end as their names promise.

mod cards;
mod cases;
pub(crate) mod constructs;
mod runs;
mod schemas;

pub(crate) use cases::AT;

use crate::merle::{Merle, all_told};

#[test]
fn the_checker_finds_nothing() {
    let checked = Merle::read().checked();
    assert!(checked.findings.is_empty(), "{}", all_told(&checked));
    let waived: Vec<&str> = checked.waived.iter().map(|waived| waived.finding.rule).collect();
    assert_eq!(
        waived,
        ["tool-too-coarse", "name-unused"],
        "a waiver is an exception that somebody has agreed to"
    );
    let names: Vec<&str> = checked.procedures.iter().map(|compiled| compiled.name.as_str()).collect();
    for name in ["belt-and-charging", "pressure-test", "front-toe", "battery-check", "charging-faults"] {
        assert!(names.contains(&name), "{names:?}");
    }
    for compiled in &checked.procedures {
        assert!(compiled.card.is_some(), "{} has no card", compiled.name);
    }
}

#[test]
fn every_file_is_set_as_the_formatter_sets_it() {
    for (path, text) in &Merle::read().files {
        assert_eq!(&dwell_syntax::format::format(text).unwrap(), text, "{path}");
    }
}
