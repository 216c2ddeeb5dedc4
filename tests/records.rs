//! The format of records is frozen: a file of each version is read for ever, and the published schema agrees.

use dwell_record::{Chain, Outcome, Report, read, write_line};

/// A record as format 1 was written when it was settled.
const FIRST: &str = include_str!("frozen/record-1.jsonl");

/// A record as format 2 was written when it was settled: handed over, a reading put right, gone back in.
const SECOND: &str = include_str!("frozen/record-2.jsonl");

#[test]
fn the_second_format_is_still_read_and_written() {
    let record = read(SECOND.as_bytes()).unwrap();
    assert_eq!(record.torn, None);
    let mut chain = Chain::default();
    let written: String = record.events.iter().map(|event| chain.line(event).unwrap()).collect();
    assert_eq!(written, SECOND);
    assert_eq!(record.last.as_ref(), Some(chain.last()));
    let report = Report::of(&record.events);
    assert_eq!((report.result, report.history.len()), (Some(Outcome::AdjustedAndPassed), 4));
    let schema = jsonschema::validator_for(&dwell_record::schema()).unwrap();
    for line in SECOND.lines() {
        let value: serde_json::Value = serde_json::from_str(line).unwrap();
        assert!(schema.is_valid(&value), "{line}");
    }
    let line = SECOND.lines().nth(1).unwrap();
    for wrong in [line.replace("\"hash\":\"", "\"hash\":\"x"), line.replace("\"previous\":", "\"prev\":")] {
        assert!(!schema.is_valid(&serde_json::from_str(&wrong).unwrap()), "{wrong}");
    }
}

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
