//! How the parser goes on after a slip of the pen, measured over every file of the library and the parser's example.
//!
//! Every token is lost once, every quote once, every word of the language is misspelt in four ways. A slip counts as found
//! where the first finding of the parser stands or, where it is silent, the nearest of the checker. Slips that neither finds
//! are silent, and told by kind. The test takes a sample that does not grow with the library; `DWELL_TESTS_LONG=1` takes all,
//! and `DWELL_SLIPS=FILE` writes the figures and a line for each slip into a file.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]
// The figures are printed: they are seen with `--nocapture`.
#![allow(clippy::print_stdout)]

pub(crate) mod damage;
mod outcome;
pub(crate) mod pieces;
mod silent;
mod table;

use std::collections::BTreeMap;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;

use self::damage::{Damage, Kind, Sound};
use self::outcome::{Outcome, outcome};
use self::pieces::{Pieces, pieces};
use self::silent::{Silence, Silent};
use self::table::{HEAD, Row, percent, told};
use crate::merle::Merle;

/// What must hold for all slips together and for each kind: the share of what is found on the same or the next line, the
/// findings for one slip, and the share of the pieces on other lines that are still read.
const NEAR: f64 = 95.0;
const FINDINGS: f64 = 1.3;
const STILL_READ: f64 = 99.0;
/// The most slips, of a hundred, that are silent and make the text say something different.
const DIFFERENT: f64 = 1.0;

#[test]
fn a_slip_is_found_where_it_is_and_the_rest_is_still_read() {
    let files = damage::sound();
    let slips = chosen(damage::all(&files));
    let outcomes = tried(&files, &slips);
    let mut rows: BTreeMap<Kind, Row> = BTreeMap::new();
    let mut all = Row::default();
    let mut silence = Silence::default();
    for (slip, outcome) in slips.iter().zip(&outcomes) {
        rows.entry(slip.kind).or_default().count(outcome);
        if let Some(silent) = Silent::of(slip, &files[slip.file], outcome) {
            silence.count(silent);
        }
    }
    let mut table = vec![HEAD.to_owned()];
    for (kind, row) in &rows {
        table.push(row.shown(kind.shown()));
        all.add(*row);
    }
    table.push(all.shown("all"));
    let table = format!("{}\n\n{}", table.join("\n"), silence.shown());
    println!("{table}");
    if let Some(path) = std::env::var_os("DWELL_SLIPS") {
        let lines: Vec<String> =
            slips.iter().zip(&outcomes).map(|(slip, outcome)| told(&files, slip, outcome)).collect();
        std::fs::write(path, format!("{table}\n\n{}\n", lines.join("\n"))).expect("the list can be written");
    }
    assert!(all.tried > 800, "only {} slips were tried", all.tried);
    for (name, row) in rows.iter().map(|(kind, row)| (kind.shown(), row)).chain([("all", &all)]) {
        let near = percent(row.near, row.found);
        assert!(
            near >= NEAR,
            "{name}: {near:.1} % of what is found is on the same or the next line\n{table}"
        );
        let findings = row.findings_each();
        assert!(findings <= FINDINGS, "{name}: {findings:.2} findings for a slip\n{table}");
        let read = 100.0 - percent(row.lost, row.others);
        assert!(read >= STILL_READ, "{name}: {read:.2} % of the rest is still read\n{table}");
    }
    let in_all = all.findings_in_all();
    assert!(in_all <= FINDINGS, "{in_all:.2} findings for a slip, with those of the checker\n{table}");
    let different = percent(silence.different(), all.tried);
    assert!(different <= DIFFERENT, "{different:.1} % say something different, and nobody notices\n{table}");
}

/// Every slip, or so many of each kind, evenly spread over the library.
fn chosen(all: Vec<Damage>) -> Vec<Damage> {
    if std::env::var_os("DWELL_TESTS_LONG").is_some_and(|value| value == "1") {
        return all;
    }
    let mut totals: BTreeMap<Kind, usize> = BTreeMap::new();
    for slip in &all {
        *totals.entry(slip.kind).or_default() += 1;
    }
    let mut seen: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut fits = |slip: &Damage| {
        let (before, total) = (seen.entry(slip.kind).or_default(), totals[&slip.kind]);
        let most = slip.kind.most_tried();
        *before += 1;
        // The share that is due changes at this one.
        *before * most / total > (*before - 1) * most / total
    };
    all.into_iter().filter(|slip| fits(slip)).collect()
}

/// What came of each slip, in order; two threads share the work.
fn tried(files: &[Sound], slips: &[Damage]) -> Vec<Outcome> {
    let whole: Vec<Pieces> = files.iter().map(|file| pieces(&file.text)).collect();
    for (file, pieces) in files.iter().zip(&whole) {
        assert!(pieces.slips.is_empty(), "{} has slips of its own: {:?}", file.path, pieces.slips);
    }
    let library = Merle::read();
    let next = AtomicUsize::new(0);
    let work = || {
        let mut done = Vec::new();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(slip) = slips.get(at) else { return done };
            done.push((at, outcome(slip, &files[slip.file], &whole[slip.file], &library)));
        }
    };
    let mut done = thread::scope(|scope| {
        let other = scope.spawn(work);
        let mut done = work();
        done.extend(other.join().expect("no text makes the parser or the checker panic"));
        done
    });
    done.sort_by_key(|(at, _)| *at);
    done.into_iter().map(|(_, outcome)| outcome).collect()
}
