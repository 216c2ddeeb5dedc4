//! The chain: whatever is changed, taken out, moved or put in afterwards is seen; an outside program sees the same.

use super::JOB;
use crate::event::What;
use crate::{Chain, Event, Hash, LineError, read};
use std::io::Write;
use std::process::{Command, Stdio};

/// The job as format 2 writes it.
fn chained() -> String {
    let mut events = read(JOB.as_bytes()).unwrap().events;
    let What::Begun(begun) = &mut events[0].what else { panic!() };
    begun.format = 2;
    let mut chain = Chain::default();
    events.iter().map(|event: &Event| chain.line(event).unwrap()).collect()
}

fn broken(text: &str) -> usize {
    match read(text.as_bytes()).unwrap_err() {
        LineError::Chain { line, .. } => line,
        other => panic!("{other}"),
    }
}

#[test]
fn what_is_written_is_read_and_its_last_hash_told() {
    let text = chained();
    let record = read(text.as_bytes()).unwrap();
    assert_eq!(record.events[1..], read(JOB.as_bytes()).unwrap().events[1..]);
    let last = text.trim_end().get(text.len() - 67..text.len() - 3).unwrap();
    assert_eq!(record.last.as_ref().map(Hash::digits), Some(last));
    assert_eq!(read(JOB.as_bytes()).unwrap().last, None);
    let mut chain = Chain::default();
    let again: String = record.events.iter().map(|event| chain.line(event).unwrap()).collect();
    assert_eq!(again, text);
}

#[test]
fn every_changed_character_of_an_event_is_seen() {
    let text = chained();
    let lines: Vec<&str> = text.lines().collect();
    for (place, line) in lines.iter().enumerate() {
        let digits: Vec<usize> = line.match_indices(char::is_numeric).map(|(at, _)| at).collect();
        for at in digits.into_iter().step_by(5) {
            let (before, digit) = line.split_at(at);
            let other = if digit.starts_with('1') { "2" } else { "1" };
            let changed = format!("{before}{other}{}", digit.get(1..).unwrap());
            let all: Vec<&str> =
                lines.iter().map(|known| if known == line { changed.as_str() } else { known }).collect();
            assert!(read((all.join("\n") + "\n").as_bytes()).is_err(), "line {}, {at}: {changed}", place + 1);
        }
    }
}

#[test]
fn a_line_changed_with_its_own_hash_breaks_the_next_one() {
    let text = chained();
    let mut lines: Vec<String> = text.lines().map(str::to_owned).collect();
    let Event { seq, at, node, what } = read(text.as_bytes()).unwrap().events[5].clone();
    let before = lines[4].get(lines[4].len() - 66..lines[4].len() - 2).unwrap().to_owned();
    let mut event = Event { seq, at, node, what };
    event.at = event.at.replace("T09", "T10");
    lines[5] = Chain::after(Hash::parse(&before).unwrap()).line(&event).unwrap().trim_end().to_owned();
    assert_eq!(broken(&(lines.join("\n") + "\n")), 7);
}

#[test]
fn a_line_without_its_place_in_the_chain_is_refused() {
    let text = chained();
    let bare = JOB.lines().nth(2).unwrap();
    let with: Vec<&str> =
        text.lines().enumerate().map(|(at, line)| if at == 2 { bare } else { line }).collect();
    assert_eq!(broken(&(with.join("\n") + "\n")), 3);
    let linked = text.lines().nth(2).unwrap();
    let with: Vec<&str> =
        JOB.lines().enumerate().map(|(at, line)| if at == 2 { linked } else { line }).collect();
    assert_eq!(broken(&(with.join("\n") + "\n")), 3);
}

/// What the reference page gives to strangers.
const SCRIPT: &str = include_str!("../../../../tests/outside/verify_record.py");

/// Python's hashlib is the outside: it knows nothing of this crate.
#[test]
fn a_stranger_with_python_sees_the_same() {
    let verified = |text: &str| {
        let mut python = Command::new("python3")
            .args(["-c", SCRIPT, "/dev/stdin"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .expect("python3 is here");
        python.stdin.take().unwrap().write_all(text.as_bytes()).unwrap();
        let output = python.wait_with_output().unwrap();
        (output.status.success(), String::from_utf8(output.stdout).unwrap())
    };
    let text = chained();
    let last = read(text.as_bytes()).unwrap().last.unwrap();
    assert_eq!(
        verified(&text),
        (true, format!("16 lines are as they were written; the last hash is {last}\n"))
    );
    assert_eq!(verified(&text.replacen("54.6", "56.6", 1)).1, "line 5 is not as it was written\n");
    let without: Vec<&str> =
        text.lines().enumerate().filter(|(at, _)| *at != 4).map(|(_, line)| line).collect();
    assert_eq!(verified(&(without.join("\n") + "\n")).1, "line 5 does not follow the line before\n");
}
