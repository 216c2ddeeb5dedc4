//! Runs by themselves, from rows.

use super::build::*;
use crate::{Driven, Halt, Row, Rows, drive};
use dwell_record::Outcome;

fn rows(lines: &[(&str, &str, &str)]) -> Rows {
    Rows::new(
        lines
            .iter()
            .map(|(name, value, unit)| Row {
                name: (*name).into(),
                place: None,
                value: (*value).into(),
                unit: (!unit.is_empty()).then(|| (*unit).into()),
                ..Row::default()
            })
            .collect(),
    )
}

fn run(lines: &[(&str, &str, &str)]) -> (Result<Outcome, Halt>, Vec<usize>, usize) {
    let mut session = begun(&tension(3));
    let mut rows = rows(lines);
    let mut seen = 0;
    let result = drive(&mut session, &mut rows, &mut || NOW.into(), &mut |driven: Driven<'_>| {
        assert!(!driven.events.is_empty());
        seen += 1;
    });
    (result, rows.left_over(), seen)
}

#[test]
fn rows_are_taken_in_their_order() {
    let (result, left, seen) = run(&[("tension", "50", "Hz"), ("tension", "62", "Hz")]);
    assert_eq!((result, left, seen), (Ok(Outcome::AdjustedAndPassed), vec![], 5));
}

#[test]
fn rows_that_nobody_asked_for_are_told() {
    let (result, left, _) = run(&[("tension", "62", "Hz"), ("tension", "63", "Hz"), ("voltage", "12", "V")]);
    assert_eq!((result, left), (Ok(Outcome::Passed), vec![1, 2]));
}

#[test]
fn a_missing_row_is_told_with_what_was_asked() {
    let (result, _, _) = run(&[("tension", "50", "Hz")]);
    assert_eq!(result.unwrap_err().to_string(), "there is no row left for the reading `tension`: Measure.");
}

#[test]
fn a_refused_row_is_told_with_its_place() {
    let (result, _, _) = run(&[("tension", "50", "Hz"), ("tension", "6", "bar")]);
    let Err(Halt::Refused { row, refusal, .. }) = result else { panic!("{result:?}") };
    assert_eq!(row, Some(1));
    assert!(refusal.to_string().contains("bar"));
}

#[test]
fn a_stop_row_stops_where_the_rows_before_it_are_at_an_end() {
    // The second value stands behind the STOP and is not asked for any more.
    let (result, left, _) =
        run(&[("tension", "50", "Hz"), ("STOP", "the customer takes it along", ""), ("tension", "62", "Hz")]);
    assert_eq!((result, left), (Ok(Outcome::Unfinished), vec![2]));
    // At the very first reading.
    let (result, left, _) = run(&[("STOP", "the alarm rings", "")]);
    assert_eq!((result, left), (Ok(Outcome::Unfinished), vec![]));
    // A STOP that is never reached is left over.
    let (result, left, _) = run(&[("tension", "62", "Hz"), ("STOP", "not needed", "")]);
    assert_eq!((result, left), (Ok(Outcome::Passed), vec![1]));
}
