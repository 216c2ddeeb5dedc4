//! The file: what is written is read back, a line that was cut off is told apart from damage.

use super::JOB;
use crate::{LineError, read, read_line, write_line};

#[test]
fn what_is_written_is_what_was_read() {
    let record = read(JOB.as_bytes()).unwrap();
    assert_eq!(record.torn, None);
    let written: String = record.events.iter().map(|event| write_line(event).unwrap()).collect();
    assert_eq!(written, JOB);
}

#[test]
fn a_record_cut_at_any_byte_keeps_its_whole_lines() {
    let whole = read(JOB.as_bytes()).unwrap().events;
    for cut in 1..JOB.len() {
        let bytes = &JOB.as_bytes()[..cut];
        let lines = bytes.iter().filter(|byte| **byte == b'\n').count();
        let record = read(bytes).unwrap_or_else(|error| panic!("cut at {cut}: {error}"));
        assert_eq!(record.events, whole[..lines], "cut at {cut}");
        match record.torn {
            Some(torn) => {
                assert_eq!(torn.line, lines + 1);
                assert_eq!(bytes.iter().rposition(|byte| *byte == b'\n').map_or(0, |at| at + 1), torn.starts);
            }
            None => assert_eq!(bytes.last(), Some(&b'\n')),
        }
    }
}

#[test]
fn a_torn_tail_is_reported_with_its_line() {
    let cut = JOB.len() - 40;
    let torn = read(&JOB.as_bytes()[..cut]).unwrap().torn.unwrap();
    assert!(torn.to_string().starts_with("line 16 is cut off after "), "{torn}");
    assert!(torn.to_string().contains("The 15 whole lines before it are good"), "{torn}");
}

#[test]
fn damage_in_the_middle_stops_everything() {
    let damaged = JOB.replacen("\"holds\":false", "\"holds\":perhaps", 1);
    let error = read(damaged.as_bytes()).unwrap_err();
    assert!(matches!(error, LineError::Damaged { line: 6, .. }), "{error}");
    let unknown = JOB.replacen("\"holds\":false", "\"holds\":false,\"mood\":\"good\"", 1);
    let error = read(unknown.as_bytes()).unwrap_err();
    assert!(error.to_string().contains("mood"), "{error}");
    let mut bytes = JOB.as_bytes().to_vec();
    bytes[30] = 0xFF;
    assert!(matches!(read(&bytes), Err(LineError::Damaged { line: 1, .. })));
}

#[test]
fn a_line_that_is_missing_is_noticed() {
    let kept: Vec<&str> = JOB.lines().enumerate().filter(|(at, _)| *at != 4).map(|(_, line)| line).collect();
    let error = read((kept.join("\n") + "\n").as_bytes()).unwrap_err();
    assert_eq!(error, LineError::Order { line: 5, wanted: 5, found: 6 });
    let tail: Vec<&str> = JOB.lines().skip(1).collect();
    assert_eq!(read((tail.join("\n") + "\n").as_bytes()), Err(LineError::NoBeginning));
    assert_eq!(read(b""), Err(LineError::NoBeginning));
}

#[test]
fn another_format_is_refused_by_its_number() {
    let newer = JOB.replacen("\"format\":1", "\"format\":3", 1);
    assert_eq!(read(newer.as_bytes()), Err(LineError::Format { found: 3 }));
}

#[test]
fn a_time_that_is_none_is_damage() {
    let bad = JOB.replacen("2031-04-12T09:07:00+02:00", "2031-04-12 9:07", 1);
    assert!(matches!(read(bad.as_bytes()), Err(LineError::Damaged { line: 4, .. })));
}

#[test]
fn line_ends_of_another_system_are_read() {
    let other = JOB.replace('\n', "\r\n");
    assert_eq!(read(other.as_bytes()).unwrap().events, read(JOB.as_bytes()).unwrap().events);
}

#[test]
fn numbers_are_exact_and_never_binary() {
    let line = JOB.lines().nth(4).unwrap().replace("\"54.6\"", "\"1/3\"");
    let event = read_line(&line, 5).unwrap();
    assert_eq!(write_line(&event).unwrap().trim_end(), line);
    for wrong in ["54.6", "\"54,6\"", "\"1e2\"", "\"nan\"", "\"1/0\""] {
        let line = JOB.lines().nth(4).unwrap().replace("\"54.6\"", wrong);
        assert!(read_line(&line, 5).is_err(), "{wrong} was read");
    }
}
