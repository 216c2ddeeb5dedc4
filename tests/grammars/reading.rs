//! The parser for editors takes what our own takes, and refuses what it refuses.

use std::fmt::Write as _;

use dwell_syntax::parse::parse;

use super::reader::{Seen, read};
use super::texts;
use crate::recovery::damage::{self, Kind};

/// Of a hundred texts in which one token got lost, how many both parsers must agree about.
const AGREE: f64 = 99.0;

fn seen(texts: &[&str]) -> Vec<Seen> {
    read(texts, &[], false)
}

/// The line of a place and what stands there.
fn line(text: &str, at: usize) -> String {
    let before = text.get(..at).unwrap_or(text);
    let number = before.matches('\n').count();
    format!("line {}: {}", number + 1, text.lines().nth(number).unwrap_or_default().trim())
}

#[test]
fn every_text_that_is_sound_is_read() {
    let sound = texts::sound();
    let all: Vec<&str> = sound.iter().map(|text| text.text.as_str()).collect();
    let mut wrong = String::new();
    for (text, seen) in sound.iter().zip(seen(&all)) {
        if let Some((start, _, what)) = seen.errors.first() {
            _ = writeln!(wrong, "{}: {what} in {}", text.at, line(&text.text, *start));
        }
    }
    assert!(wrong.is_empty(), "our own parser reads these:\n{wrong}");
}

/// What must be refused, one for each thing that the grammar says; each is refused by both parsers.
const FAULTS: &str = "tests/grammars/faults.txt";

#[test]
fn every_fault_of_the_list_is_refused() {
    let list = std::fs::read_to_string(crate::root().join(FAULTS)).expect("the list of faults");
    let faults: Vec<(&str, &str)> = list
        .split("\n---\n")
        .map(|fault| fault.split_once('\n').expect("a line that says what it is, then the text"))
        .collect();
    assert!(faults.len() >= 60, "only {} faults", faults.len());
    let texts: Vec<&str> = faults.iter().map(|(_, text)| *text).collect();
    for ((what, text), seen) in faults.iter().zip(seen(&texts)) {
        assert!(!parse(text).slips.is_empty(), "our own parser takes it: {what}\n{text}");
        assert!(!seen.errors.is_empty(), "the parser for editors takes it: {what}\n{text}");
    }
}

#[test]
fn both_parsers_agree_where_a_token_got_lost() {
    let files = damage::sound();
    let mut slips: Vec<_> = damage::all(&files).into_iter().filter(|slip| slip.kind == Kind::Token).collect();
    if std::env::var_os("DWELL_TESTS_LONG").is_none() {
        let step = (slips.len() / 800).max(1);
        slips = slips.into_iter().step_by(step).collect();
    }
    let texts: Vec<String> = slips.iter().map(|slip| slip.text(&files[slip.file].text)).collect();
    let all: Vec<&str> = texts.iter().map(String::as_str).collect();
    let (mut laxer, mut stricter) = (Vec::new(), Vec::new());
    let mut near = 0;
    let mut found = 0;
    for ((slip, text), seen) in slips.iter().zip(&texts).zip(seen(&all)) {
        let ours = parse(text).slips;
        let lost = &files[slip.file].text[slip.start..slip.end];
        let told = || format!("{}: without {lost:?}: {}", files[slip.file].path, line(text, slip.start));
        match (ours.is_empty(), seen.errors.first()) {
            (false, None) => laxer.push(told()),
            (true, Some((at, _, what))) => stricter.push(format!("{} ({what}, {})", told(), line(text, *at))),
            (false, Some((at, _, _))) => {
                found += 1;
                let lines = |a: usize, b: usize| {
                    text.get(a.min(b)..a.max(b)).map_or(0, |gap| gap.matches('\n').count())
                };
                near += usize::from(lines(slip.start, *at) <= 1);
            }
            (true, None) => {}
        }
    }
    let share = |part: usize, of: usize| {
        100.0 * f64::from(u32::try_from(part).unwrap()) / f64::from(u32::try_from(of.max(1)).unwrap())
    };
    let agree = 100.0 - share(laxer.len() + stricter.len(), texts.len());
    let told = format!(
        "{} texts, {agree:.2} % agree; {:.1} % of what both find begins within a line\n{} are taken that should not be:\n{}\n{} are refused that should not be:\n{}",
        texts.len(),
        share(near, found),
        laxer.len(),
        laxer.join("\n"),
        stricter.len(),
        stricter.join("\n"),
    );
    if let Some(path) = std::env::var_os("DWELL_SLIPS") {
        std::fs::write(path, &told).expect("the list can be written");
    }
    assert!(texts.len() > 700, "only {} texts", texts.len());
    assert!(agree >= AGREE && stricter.is_empty(), "{told}");
}
