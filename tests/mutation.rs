//! The library broken at random for every rule: the rule meant has to find it.
//!
//! Each rule has a mutator that finds every place of the library where it can break something in the manner of that fault. A
//! run picks some of them for each rule by its seed (`DWELL_SEED` begins with another one), from as many files as there are,
//! checks the broken library and asks whether the rule meant says so, at the place or where a person would look.
//! `DWELL_TESTS_LONG=1` tries every place there is; `DWELL_BREAKS=FILE` writes what was missed into a file. A break that is no
//! fault at all is left out by its mutator, with the reason, never by its place.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]
// The figures are printed: they are seen with `--nocapture`.
#![allow(clippy::print_stdout)]

mod broken;
mod families;
mod ground;
mod verdict;

use std::collections::{BTreeMap, BTreeSet};

use dwell_check::rules;
use dwell_tests::chance::Chance;

use broken::Broken;
use ground::Ground;
use verdict::{Verdict, verdict};

/// How many breaks of each rule a run tries.
const EACH: usize = 6;
/// The fewest places that a rule must be broken at.
const FEWEST: usize = 5;
/// Of a hundred breaks, so many must be found by the rule meant.
const FOUND: usize = 95;
/// The seeds of a run.
const SEEDS: [u64; 2] = [1, 20_310_412];

/// Rules that nothing in a procedure breaks without settings; `program/settings.rs` and `program/mending.rs` hold them.
const OF_SETTINGS: [&str; 2] = ["settings", "house-word"];

#[test]
fn every_rule_has_a_mutator() {
    let known: BTreeSet<&str> = families::all().iter().map(|(rule, _)| *rule).chain(OF_SETTINGS).collect();
    let missing: Vec<&str> =
        rules::all().iter().map(|rule| rule.name).filter(|rule| !known.contains(rule)).collect();
    assert!(
        missing.is_empty(),
        "no mutator breaks the library for {missing:?}: write a function that finds every place where a clean procedure can \
         be broken in this way, and name it in one of the lists in tests/mutation/families"
    );
    let gone: Vec<&str> = known.into_iter().filter(|rule| rules::named(rule).is_none()).collect();
    assert!(gone.is_empty(), "there is no rule {gone:?} any more");
}

#[test]
fn what_is_broken_is_found_by_the_rule_meant() {
    let ground = Ground::read();
    let long = std::env::var_os("DWELL_TESTS_LONG").is_some();
    let own = std::env::var("DWELL_SEED").ok().and_then(|seed| seed.parse().ok());
    let seeds = own.map_or(SEEDS.to_vec(), |seed: u64| vec![seed]);
    let only = std::env::var("DWELL_RULE").ok();
    let mut tried: Vec<(&str, Broken)> = Vec::new();
    let mut few = Vec::new();
    for (rule, mutator) in families::all() {
        if only.as_ref().is_some_and(|only| only != rule) {
            continue;
        }
        let all = mutator(&ground);
        if all.len() < FEWEST {
            few.push(format!("{rule}: {} places", all.len()));
        }
        if long {
            tried.extend(all.into_iter().map(|broken| (rule, broken)));
            continue;
        }
        let mut chosen = BTreeSet::new();
        for seed in &seeds {
            chosen.extend(choose(&all, Chance::seeded(*seed ^ name_seed(rule))));
        }
        tried.extend(chosen.into_iter().map(|place| (rule, all[place].clone())));
    }
    let verdicts = side_by_side(&ground, &tried);
    let mut missed = Vec::new();
    let mut by_rule: BTreeMap<&str, (usize, usize)> = BTreeMap::new();
    for ((rule, broken), verdict) in tried.iter().zip(verdicts) {
        let (all, found) = by_rule.entry(rule).or_default();
        *all += 1;
        match verdict {
            Verdict::Found => *found += 1,
            Verdict::Missed(instead) => {
                let line = ground.merle.files[&broken.file][..broken.start()].matches('\n').count() + 1;
                let checked = broken.roots.join(" ");
                missed.push(format!(
                    "{rule} {}:{line} {} [{checked}]\n    {instead}",
                    broken.file, broken.what
                ));
            }
        }
    }
    let mut table = vec![format!("seeds {seeds:?}: {} breaks, {} missed", tried.len(), missed.len())];
    table.extend(by_rule.iter().map(|(rule, (all, found))| format!("{rule}: {found} of {all}")));
    let told = format!("{}\n\n{}\n", table.join("\n"), missed.join("\n"));
    println!("{told}");
    if let Some(path) = std::env::var_os("DWELL_BREAKS") {
        std::fs::write(path, &told).expect("the list can be written");
    }
    assert!(few.is_empty(), "too few ways to break the library for {few:?}");
    let found = tried.len() - missed.len();
    assert!(
        found * 100 >= tried.len() * FOUND,
        "{found} of {} are found by the rule meant\n{told}",
        tried.len()
    );
}

/// A number from a name, so that each rule has its own turn at chance.
fn name_seed(name: &str) -> u64 {
    name.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3))
}

/// Some of them, from as many files as there are.
fn choose(all: &[Broken], mut chance: Chance) -> Vec<usize> {
    let mut by_file: BTreeMap<(&str, &[String]), Vec<usize>> = BTreeMap::new();
    for (place, broken) in all.iter().enumerate() {
        by_file.entry((&broken.file, &broken.roots)).or_default().push(place);
    }
    let mut files: Vec<Vec<usize>> = by_file.into_values().collect();
    let mut chosen = Vec::new();
    while chosen.len() < EACH && !files.is_empty() {
        let mut round: Vec<usize> = (0..files.len()).collect();
        while chosen.len() < EACH && !round.is_empty() {
            let file = round.swap_remove(chance.place(round.len()));
            let places = &mut files[file];
            chosen.push(places.swap_remove(chance.place(places.len())));
        }
        files.retain(|places| !places.is_empty());
    }
    chosen
}

/// The verdict on each, on as many threads as there are cores.
fn side_by_side(ground: &Ground, tried: &[(&str, Broken)]) -> Vec<Verdict> {
    let next = std::sync::atomic::AtomicUsize::new(0);
    let verdicts = std::sync::Mutex::new(BTreeMap::new());
    let threads = std::thread::available_parallelism().map_or(1, usize::from);
    std::thread::scope(|scope| {
        for _ in 0..threads {
            scope.spawn(|| {
                loop {
                    let place = next.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                    let Some((rule, broken)) = tried.get(place) else { break };
                    let verdict = verdict(ground, rule, broken);
                    verdicts.lock().unwrap().insert(place, verdict);
                }
            });
        }
    });
    verdicts.into_inner().unwrap().into_values().collect()
}
