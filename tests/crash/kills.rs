//! The program killed at any moment, again and again, until each job is through.

use super::job::{Came, Reference};
use super::{long, seed};
use dwell_tests::chance::Chance;
use std::io::Write;
use std::process::Stdio;
use std::time::{Duration, Instant};

const STORE: &str = "killed.records";

/// What became of the kills.
#[derive(Debug, Default)]
struct Told {
    kills: u32,
    /// The program was through before it was killed.
    through: u32,
    /// An answer was on the disk, and was not acknowledged yet.
    between: u32,
    /// Nothing was on the disk yet.
    nothing: u32,
    answers: usize,
}

#[test]
fn what_was_acknowledged_before_a_kill_is_there_and_the_job_goes_on_at_its_step() {
    let reference = Reference::new();
    let wanted = if long() { 1_000 } else { 25 };
    let mut chance = Chance::seeded(seed());
    let begun = Instant::now();
    reference.carried_through("whole.records", &Came::default());
    let whole = u64::try_from(begun.elapsed().as_micros()).unwrap();
    let mut came = Came::default();
    let mut told = Told::default();
    let mut finished = None;
    while told.kills < wanted {
        let arguments = reference.arguments(STORE, came.job);
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        let mut child = reference
            .bench
            .command(&arguments)
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut input = child.stdin.take().unwrap();
        let _ = input.write_all(reference.input(came.answers).as_bytes());
        // From before the job is begun to after its end, most of them within.
        std::thread::sleep(Duration::from_micros(whole / 8 + chance.below(whole * 5 / 8)));
        let running = child.try_wait().unwrap().is_none();
        // On Unix this is SIGKILL: the program is told nothing.
        let _ = child.kill();
        drop(input);
        let output = child.wait_with_output().unwrap();
        let out = String::from_utf8_lossy(&output.stdout);
        let acknowledged = came.answers + reference.acknowledged(&out);
        let before = came.clone();
        came = reference.came(STORE);
        if came.job.is_some() && came.job == finished {
            // Killed before the next job was in the file.
            came = Came::default();
        }
        let known = came.answers;
        assert!(known >= acknowledged, "{acknowledged} were acknowledged, {known} are there: {out}");
        if running {
            told.kills += 1;
            told.between += u32::from(known > acknowledged);
            told.nothing += u32::from(came.job.is_none());
        } else {
            told.through += 1;
            let err = String::from_utf8_lossy(&output.stderr);
            assert!(came.over, "it ended by itself and is not through: {out}\n{err}");
        }
        told.answers += known.saturating_sub(before.answers);
        if came.over {
            // A job that is over is followed by a new one in the same file.
            finished = came.job;
            came = Came::default();
        }
    }
    if came.job.is_some() {
        reference.carried_through(STORE, &came);
    }
    let opened = dwell_store::Sqlite::look(&reference.bench.path(STORE)).unwrap();
    let verified = opened.verify(None).unwrap();
    assert!(verified.wrong.is_empty(), "{:?}", verified.wrong);
    println!("{told:?}, {} jobs with {} events", verified.jobs, verified.events);
}
