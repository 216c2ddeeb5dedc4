//! A disk that is full or fails, injected by strace at the calls with which the record is written.

use super::job::Reference;
use super::{long, seed};
use crate::program::bench::{Said, said};
use dwell_tests::chance::Chance;
use std::io::Write;
use std::process::{Command, Stdio};

/// Calls with what they are made to do. A write that returns 0 wrote nothing and says so.
pub(super) const FAULTS: [(&str, &str, &str); 9] = [
    ("pwrite64", "error=ENOSPC", "+"),
    ("pwrite64", "error=ENOSPC", ""),
    ("pwrite64", "error=EIO", "+"),
    ("pwrite64", "error=EIO", ""),
    ("pwrite64", "retval=0", ""),
    ("fsync,fdatasync", "error=EIO", ""),
    ("fsync,fdatasync", "error=EIO", "+"),
    ("ftruncate", "error=EIO", "+"),
    ("openat", "error=EROFS", "+"),
];

/// Why nothing can be injected here; none where it can be.
pub(super) fn unable() -> Option<String> {
    let tried =
        Command::new("strace").args(["-qq", "-e", "trace=none", "true"]).stderr(Stdio::piped()).output();
    match tried {
        Err(why) => Some(format!("strace is not here ({why}): install it")),
        Ok(output) if output.status.success() => None,
        Ok(output) => Some(format!("strace may not trace here: {}", String::from_utf8_lossy(&output.stderr))),
    }
}

/// The job under strace, with these options before the program.
fn traced(reference: &Reference, options: &[&str], arguments: &[String], input: &str) -> Said {
    let program = &*crate::program::bench::DWELL;
    let plain = reference.bench.command(&[]);
    let mut command = Command::new("strace");
    command.args(["-f", "-qq"]).args(options).arg(program).args(arguments);
    command.current_dir(reference.bench.0.path());
    for (name, value) in plain.get_envs() {
        match value {
            Some(value) => command.env(name, value),
            None => command.env_remove(name),
        };
    }
    command.stdin(Stdio::piped()).stdout(Stdio::piped()).stderr(Stdio::piped());
    let mut child = command.spawn().unwrap();
    let _ = child.stdin.take().unwrap().write_all(input.as_bytes());
    said(child.wait_with_output().unwrap())
}

/// The files of a store, as options of strace: calls on others are left alone.
pub(super) fn only(reference: &Reference, store: &str) -> Vec<String> {
    let path = reference.bench.path(store);
    let files = ["", "-wal", "-journal", "-shm"].map(|end| format!("{}{end}", path.display()));
    files.into_iter().flat_map(|file| ["-P".to_owned(), file]).collect()
}

/// One run with one fault; whether the fault came about at all.
fn with_fault(
    reference: &Reference,
    number: usize,
    (call, fault, on): (&str, &str, &str),
    when: u64,
) -> bool {
    let store = format!("fault-{number}.records");
    let log = format!("fault-{number}.log");
    let mut options = only(reference, &store);
    options.extend(["-o".into(), log.clone(), "-e".into(), format!("trace={call}")]);
    options.extend(["-e".into(), format!("inject={call}:{fault}:when={when}{on}")]);
    let options: Vec<&str> = options.iter().map(String::as_str).collect();
    let said = traced(reference, &options, &reference.arguments(&store, None), &reference.input(0));
    let what = format!("{call} {fault} at {when}{on}: {}\n{}\n{}", said.status, said.out, said.err);
    let injected = reference.bench.get(&log).contains("INJECTED");
    let acknowledged = reference.acknowledged(&said.out);
    let came = reference.came(&store);
    assert!(came.answers >= acknowledged, "{acknowledged} acknowledged, {} there: {what}", came.answers);
    match said.status {
        0 => assert!(came.over, "{what}"),
        2 => assert!(said.err.contains("dwell: "), "{what}"),
        _ => panic!("{what}"),
    }
    assert!(!said.err.contains("fault inside the program"), "{what}");
    if !came.over {
        reference.carried_through(&store, &came);
    }
    for end in ["", "-wal", "-shm", "-journal"] {
        let _ = std::fs::remove_file(reference.bench.path(&format!("{store}{end}")));
    }
    injected
}

#[test]
fn a_disk_that_is_full_or_fails_at_any_write_loses_nothing_that_was_acknowledged() {
    if let Some(why) = unable() {
        eprintln!("not tried: {why}");
        return;
    }
    let reference = Reference::new();
    let mut chance = Chance::seeded(seed());
    let (mut tried, mut injected) = (0, 0);
    for fault in FAULTS {
        let mut when = 1;
        // All places one after the other until none is left, or some of the first three hundred.
        let mut left = if long() { u64::MAX } else { 4 };
        while left > 0 {
            let came = with_fault(&reference, tried, fault, when);
            tried += 1;
            injected += u32::from(came);
            if long() && !came {
                break;
            }
            left -= 1;
            when = if long() {
                when + 1
            } else {
                1 + chance.below(if fault.0 == "pwrite64" { 250 } else { 36 })
            };
        }
    }
    assert!(injected > 10, "only {injected} of {tried} faults came about");
    println!("{injected} faults in {tried} runs");
}

#[test]
fn every_answer_is_on_the_disk_before_the_next_thing_is_asked() {
    if let Some(why) = unable() {
        eprintln!("not tried: {why}");
        return;
    }
    let reference = Reference::new();
    let store = "order.records";
    let options = ["-o", "order.log", "-e", "trace=pwrite64,write,fsync,fdatasync"];
    let said = traced(&reference, &options, &reference.arguments(store, None), &reference.input(0));
    assert_eq!(said.status, 0, "{}{}", said.out, said.err);
    let log = reference.bench.get("order.log");
    let (mut unsynced, mut synced, mut asked) = (false, 0, 0);
    for line in log.lines() {
        let Some((_, call)) = line.split_once(' ') else { continue };
        let call = call.trim_start();
        if call.starts_with("pwrite64(") {
            unsynced = true;
        } else if call.starts_with("fsync(") || call.starts_with("fdatasync(") {
            unsynced = false;
            synced += 1;
        } else if call.starts_with("write(1, ") {
            assert!(!unsynced, "shown before it was on the disk: {line}");
            asked += usize::from(call.contains(": \", "));
        }
        if line.contains("Result: ") {
            break;
        }
    }
    assert!(asked >= reference.typed.len() - 1, "{asked}");
    assert!(
        synced >= reference.typed.len(),
        "{synced} times on the disk for {} answers",
        reference.typed.len()
    );
}

#[test]
fn a_fault_in_the_file_of_events_stops_the_job_too() {
    if let Some(why) = unable() {
        eprintln!("not tried: {why}");
        return;
    }
    let reference = Reference::new();
    for (number, (call, fault)) in
        [("write", "error=ENOSPC"), ("write", "retval=0"), ("fsync,fdatasync", "error=EIO")]
            .into_iter()
            .enumerate()
    {
        let (file, log) = (format!("events-{number}.jsonl"), format!("events-{number}.log"));
        let store = format!("events-{number}.records");
        let path = reference.bench.path(&file).display().to_string();
        let inject = format!("inject={call}:{fault}:when=9+");
        let options = ["-P", &path, "-o", &log, "-e", &format!("trace={call}"), "-e", &inject];
        let mut arguments = reference.arguments(&store, None);
        arguments.extend(["--record".to_owned(), file.clone()]);
        let said = traced(&reference, &options, &arguments, &reference.input(0));
        assert!(
            said.status == 2 && said.says("the last answer was not stored"),
            "{}\n{}",
            said.out,
            said.err
        );
        let read = dwell_record::read(reference.bench.get(&file).as_bytes()).unwrap();
        assert!(!read.events.is_empty());
        let came = reference.came(&store);
        assert!(came.answers >= reference.acknowledged(&said.out));
        reference.carried_through(&store, &came);
    }
}
