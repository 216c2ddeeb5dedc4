//! One text in each form: places, order, what is cut off, what cannot be written.

use crate::{Base, MOST_RESULTS, Report, Unreadable, junit, lines, sarif};
use dwell_check::check::{Checked, check};
use dwell_check::finding::Level;
use dwell_check::program::Sources;
use serde_json::{Value, json};

struct One(String);

impl Sources for One {
    fn read(&self, path: &str) -> Result<String, String> {
        if path == "a.dwell" { Ok(self.0.clone()) } else { Err("there is no such file".to_owned()) }
    }
    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

fn checked(text: &str) -> Checked {
    check(&["a.dwell".to_owned()], &One(text.to_owned()))
}

fn with<T>(checked: &Checked, unreadable: &[Unreadable], write: impl Fn(&Report) -> T) -> T {
    let base = Base { here: "/library".into(), top: "/library".into(), links: vec![] };
    write(&Report { checked, unreadable, failing: Level::Error, version: "0.1.0", base: &base })
}

/// The clef stands outside the basic plane: one character, two code units of UTF-16, four bytes of UTF-8.
const CLEF: &str = "hazard clef: caution \"\u{1D11E} µ\" spec gap: length { check 1 parsec }\n";

#[test]
fn a_column_counts_utf_16_code_units_in_sarif_and_characters_in_lines() {
    let checked = checked(CLEF);
    let at = CLEF.find("parsec").unwrap();
    let characters = CLEF.get(..at).unwrap().chars().count() + 1;
    let finding = checked.findings.iter().find(|one| one.place.span.start == at);
    assert!(finding.is_some(), "{:?}", checked.findings);
    let log = with(&checked, &[], sarif);
    assert_eq!(log["runs"][0]["columnKind"], "utf16CodeUnits");
    let results = log["runs"][0]["results"].as_array().unwrap();
    let region = results
        .iter()
        .map(|result| &result["locations"][0]["physicalLocation"]["region"])
        .find(|region| region["startColumn"] == json!(characters + 1))
        .expect("a result one code unit further right than it has characters");
    // endColumn is one past the last, SARIF 2.1.0 section 3.30.8.
    assert_eq!(region["endColumn"], json!(characters + 1 + "parsec".len()));
    let lines = with(&checked, &[], lines);
    assert!(lines.contains(&format!("a.dwell:1:{characters}: error: ")), "{lines}");
}

#[test]
fn a_byte_order_mark_is_no_column() {
    let checked = checked("\u{FEFF}spec gap: length { check 1 parsec }\n");
    let log = with(&checked, &[], sarif).to_string();
    assert!(log.contains("\"startColumn\":28"), "{log}");
}

#[test]
fn no_line_of_lines_is_broken() {
    let checked = checked("spec gap: length { check 1 \u{0} parsec \"a\u{2028}b\" }\n");
    let unreadable = [Unreadable { path: "two\nlines.dwell".into(), why: "not\rread".into() }];
    let lines = with(&checked, &unreadable, lines);
    assert_eq!(lines.lines().count(), checked.findings.len() + 1, "{lines}");
    assert!(lines.lines().all(|line| line.ends_with(']')), "{lines}");
}

#[test]
fn no_control_character_reaches_xml() {
    let checked = checked("spec gap: length { check 1 \u{1}\u{B} }\n");
    let xml = with(&checked, &[], |report| junit(report).unwrap());
    assert!(!xml.chars().any(|letter| letter.is_control() && letter != '\n'), "{xml}");
    assert!(xml.contains("failures=\"1\""), "{xml}");
}

#[test]
fn the_gravest_stay_where_there_are_too_many() {
    let mut checked = checked(CLEF);
    let error = checked.findings.iter().find(|one| one.level == Level::Error).unwrap().clone();
    let mut hint = error.clone();
    hint.level = Level::Hint;
    checked.findings = std::iter::repeat_n(hint, MOST_RESULTS).chain([error]).collect();
    let log = with(&checked, &[], sarif);
    let run = &log["runs"][0];
    assert_eq!(run["results"].as_array().unwrap().len(), MOST_RESULTS);
    assert_eq!(run["results"][0]["level"], "error");
    let told = &run["invocations"][0]["toolExecutionNotifications"];
    assert!(told[0]["message"]["text"].as_str().unwrap().starts_with("1 more"), "{told}");
    assert_eq!(run["invocations"][0]["executionSuccessful"], true);
}

#[test]
fn a_fingerprint_survives_lines_put_in_above_and_tells_twins_apart() {
    let prints = |text: &str| -> Vec<String> {
        let log = with(&checked(text), &[], sarif);
        let results = log["runs"][0]["results"].as_array().cloned().unwrap();
        results.iter().map(|one: &Value| one["partialFingerprints"]["dwell/v1"].to_string()).collect()
    };
    let twice = format!("{CLEF}{CLEF}");
    let before = prints(&twice);
    assert_eq!(before, prints(&format!("# a line\n\n{}", twice.replace("check 1", "check  1"))));
    let mut apart = before.clone();
    apart.sort();
    apart.dedup();
    assert_eq!(apart.len(), before.len());
    assert_ne!(before, prints(&twice.replace("parsec", "furlong")));
}
