//! The format of records is frozen: a file of each version is read for ever, and the published schema agrees.

use dwell_record::{Outcome, Report, read, write_line};

/// A record as format 1 was written when it was settled.
const FIRST: &str = include_str!("frozen/record-1.jsonl");

#[test]
fn the_first_format_is_still_read_and_written() {
    let record = read(FIRST.as_bytes()).unwrap();
    assert_eq!(record.torn, None);
    let written: String = record.events.iter().map(|event| write_line(event).unwrap()).collect();
    assert_eq!(written, FIRST);
    let report = Report::of(&record.events);
    assert_eq!(report.result, Some(Outcome::AdjustedAndPassed));
    assert_eq!(report.readings[0].as_found.words().as_deref(), Some("LOW by 1.4 Hz"));
    assert_eq!(report.readings[0].as_left.words().as_deref(), Some("in band"));
}

/// The script of the reference page is the one that the tests run.
#[test]
fn the_page_gives_the_script_that_is_tried() {
    let page = std::fs::read_to_string(crate::root().join("grammar/reference/records.md")).unwrap();
    let script = std::fs::read_to_string(crate::root().join("tests/outside/verify_record.py")).unwrap();
    let (_, script) = script.split_once('\n').unwrap();
    let shown: String = script
        .lines()
        .map(|line| if line.is_empty() { "\n".to_owned() } else { format!("    {line}\n") })
        .collect();
    assert!(page.contains(&shown), "the page has another script");
}

#[test]
fn every_line_fits_the_published_schema() {
    let schema = jsonschema::validator_for(&dwell_record::schema()).unwrap();
    for line in FIRST.lines() {
        let value: serde_json::Value = serde_json::from_str(line).unwrap();
        assert!(schema.is_valid(&value), "{line}");
    }
    for wrong in [
        FIRST.lines().next().unwrap().replace("\"format\":1,", ""),
        FIRST.lines().nth(4).unwrap().replace("\"54.6\"", "54.6"),
        FIRST.lines().nth(4).unwrap().replace("\"unit\":\"Hz\",\"value\"", "\"unti\":\"Hz\",\"value\""),
    ] {
        let value: serde_json::Value = serde_json::from_str(&wrong).unwrap();
        assert!(!schema.is_valid(&value), "{wrong}");
    }
}
