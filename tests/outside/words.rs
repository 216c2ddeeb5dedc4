//! Twins and look-alikes against the Unicode Character Database, as Python's standard library carries it.

use std::io::Write;
use std::process::{Command, Stdio};

use dwell_quantity::{fold_twin, look_alike};

/// What Python's `unicodedata` says of each character: its digit value or `-`, its compatibility form, its name.
fn unicode(characters: &[char]) -> Vec<(String, String, String)> {
    const SCRIPT: &str = "
import sys, json, unicodedata as u
for c in json.load(sys.stdin):
    print(json.dumps([str(u.digit(c, '-')), u.normalize('NFKC', c), u.name(c, '')]))
";
    let started =
        Command::new("python3").args(["-c", SCRIPT]).stdin(Stdio::piped()).stdout(Stdio::piped()).spawn();
    let mut child = started.unwrap_or_else(|why| {
        panic!(
            "python3 did not start: {why}; where it is missing, the second command of the README installs it"
        )
    });
    let input = serde_json::to_string(characters).unwrap();
    child.stdin.take().unwrap().write_all(input.as_bytes()).unwrap();
    let output = child.wait_with_output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    let answers: Vec<_> = text.lines().map(|line| serde_json::from_str(line).unwrap()).collect();
    assert_eq!(answers.len(), characters.len());
    answers
}

#[test]
fn twins_are_one_character_in_compatibility_form() {
    // The dot operator and the bullet operator are no compatibility characters; that they mean a product dot here is
    // common practice, no source.
    let twins: Vec<char> = ('\0'..=char::MAX).filter(|c| fold_twin(*c).is_some()).collect();
    let plain: Vec<char> = twins.iter().filter_map(|c| fold_twin(*c)).collect();
    let mut same = 0;
    for ((twin, one), (_, other)) in twins.iter().zip(unicode(&twins)).zip(plain.iter().zip(unicode(&plain)))
    {
        if matches!(twin, '\u{2219}' | '\u{22C5}') {
            continue;
        }
        assert_eq!(one.1, other.1, "{twin:?}");
        same += 1;
    }
    assert_eq!(same, 3);
}

#[test]
fn a_strange_digit_stands_for_its_own_value() {
    let found: Vec<char> = ('\0'..=char::MAX)
        .filter(|c| {
            look_alike(*c).is_some_and(|found| found.instead.len() == 1 && found.name.contains("digit"))
        })
        .collect();
    assert!(found.len() >= 50);
    for (c, (digit, _, name)) in found.iter().zip(unicode(&found)) {
        assert_eq!(digit, look_alike(*c).unwrap().instead, "{c:?} {name}");
    }
}

#[test]
fn fractions_in_one_character_are_written_out_right() {
    let found: Vec<char> = ('\0'..=char::MAX)
        .filter(|c| {
            look_alike(*c).is_some_and(|found| found.name.starts_with("fraction") && found.instead.len() == 3)
        })
        .collect();
    assert_eq!(found.len(), 7);
    for (c, (_, form, _)) in found.iter().zip(unicode(&found)) {
        assert_eq!(form.replace('\u{2044}', "/"), look_alike(*c).unwrap().instead);
    }
}

#[test]
fn every_dash_and_blank_of_unicode_that_looks_like_ours_is_known() {
    let wanted: Vec<char> = "\u{2010}\u{2011}\u{2012}\u{2013}\u{2014}\u{2015}\u{2212}\u{00A0}\u{2007}\u{2009}\u{202F}\u{3000}\u{200B}\u{FEFF}"
        .chars()
        .collect();
    for (c, (_, _, name)) in wanted.iter().zip(unicode(&wanted)) {
        let kind = ["DASH", "HYPHEN", "MINUS", "BAR", "SPACE"];
        assert!(kind.iter().any(|word| name.contains(word)), "{name}");
        let instead = look_alike(*c).unwrap_or_else(|| panic!("{name} is not known")).instead;
        let expected = if name.contains("ZERO WIDTH") {
            ""
        } else if name.contains("SPACE") {
            " "
        } else {
            "-"
        };
        assert_eq!(instead, expected, "{name}");
    }
}
