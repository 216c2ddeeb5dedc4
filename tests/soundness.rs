//! What the checker promises held against many random jobs: no doubt, nothing owed, no hazard without its caution, nothing unforeseen.

mod chance;
mod job;
mod sources;

pub(crate) use chance::Chance;
use dwell_check::check::check;
use dwell_check::finding::Level;
use dwell_check::flow::reached;
use dwell_check::lower::{Lowered, lower};
use dwell_check::program::Program;
use dwell_check::resolve::resolve;
use sources::{Texts, all, wrong};
use std::time::{Duration, Instant};

/// How long all jobs of one test may take; `DWELL_TESTS_LONG=1` takes twenty times as long.
pub(crate) fn time() -> Duration {
    let long = std::env::var_os("DWELL_TESTS_LONG").is_some_and(|value| value == "1");
    Duration::from_secs(if long { 80 } else { 4 })
}

/// The seed of the first job; `DWELL_SEED` begins with another.
pub(crate) fn seed() -> u64 {
    std::env::var("DWELL_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(20_310_211)
}

/// A procedure that has a card, and the nodes that the checker walked through.
struct Proved {
    title: String,
    lowered: Lowered,
    reached: Vec<bool>,
}

/// Every procedure of a text that has a card.
fn proved(texts: &Texts) -> Vec<Proved> {
    let checked = check(&texts.roots, texts);
    let mut troubles = Vec::new();
    let program = Program::load(&texts.roots, texts, &mut troubles);
    let model = resolve(&program, &mut troubles);
    // What a writer lets pass is not proved.
    let waived = checked.waived.iter().any(|waived| waived.finding.level == Level::Error);
    let sound = checked.procedures.iter().filter(|compiled| compiled.card.is_some() && !waived);
    sound
        .map(|compiled| {
            let index = model.procedures.iter().position(|head| head.name == compiled.name).unwrap();
            let lowered = lower(&program, &model, index, &mut troubles).unwrap();
            assert_eq!(Some(&lowered.card), compiled.card.as_ref());
            let reached = reached(&lowered).nodes().to_vec();
            Proved { title: format!("{}: {}", texts.title, compiled.name), lowered, reached }
        })
        .collect()
}

#[test]
fn no_job_by_a_sound_card_goes_wrong() {
    let proved: Vec<Proved> = all().iter().flat_map(proved).collect();
    assert!(proved.len() >= 30, "only {} procedures have a card", proved.len());
    let begun = Instant::now();
    let mut seed = seed();
    let mut wrong = Vec::new();
    let mut jobs = 0;
    while begun.elapsed() < time() && wrong.is_empty() || jobs == 0 {
        for procedure in &proved {
            let mut chance = Chance::seeded(seed);
            let variants = chance.variants(&procedure.lowered.card);
            let done = job::done(&procedure.lowered.card, &variants, &mut chance);
            if let Err(what) = done.and_then(|job| job.held(&procedure.lowered.card, &procedure.reached)) {
                wrong.push(format!("{} (seed {seed}, {variants:?}): {what}", procedure.title));
            }
            jobs += 1;
        }
        seed += 1;
    }
    assert!(wrong.is_empty(), "after {jobs} jobs:\n{}", wrong.join("\n"));
    assert!(jobs >= proved.len() * 5, "only {jobs} jobs in {:?}", begun.elapsed());
}

#[test]
fn jobs_that_are_interrupted_gone_back_in_and_put_right_end_with_everything_put_back() {
    let proved: Vec<Proved> = all().iter().flat_map(proved).collect();
    let begun = Instant::now();
    let mut seed = seed();
    let mut wrong = Vec::new();
    let (mut jobs, mut turns) = (0, 0);
    while begun.elapsed() < time() && wrong.is_empty() || jobs == 0 {
        for procedure in &proved {
            let mut chance = Chance::seeded(seed);
            let variants = chance.variants(&procedure.lowered.card);
            match job::interrupted(&procedure.lowered.card, &variants, &mut chance) {
                Ok(turned) => turns += turned,
                Err(what) => wrong.push(format!("{} (seed {seed}, {variants:?}): {what}", procedure.title)),
            }
            jobs += 1;
        }
        seed += 1;
    }
    assert!(wrong.is_empty(), "after {jobs} jobs:\n{}", wrong.join("\n"));
    assert!(turns >= jobs / 4, "only {turns} interruptions in {jobs} jobs");
}

/// The rules about ways whose faults a job shows by itself.
const SHOWN: [&str; 8] = [
    "caution-missing",
    "caution-late",
    "fastener-left-loose",
    "kept-broken",
    "not-restored",
    "out-unhandled",
    "tool-not-connected",
    "wrong-state",
];

#[test]
fn what_is_found_wrong_goes_wrong_in_some_job() {
    let mut harmless = Vec::new();
    for rule in SHOWN {
        for texts in wrong(rule) {
            let checked = check(&texts.roots, &texts);
            let found = checked.findings.iter().filter(|finding| finding.rule == rule);
            let ways = found.filter_map(|finding| finding.witness.as_ref().map(|way| &way.procedure));
            let procedures: std::collections::BTreeSet<&String> = ways.collect();
            for procedure in procedures {
                let compiled =
                    checked.procedures.iter().find(|compiled| compiled.name == *procedure).unwrap();
                let card = compiled.graph.clone().unwrap();
                let everywhere = vec![true; card.nodes.len()];
                let goes_wrong = (0..600).any(|more| {
                    let mut chance = Chance::seeded(seed() + more);
                    let variants = chance.variants(&card);
                    job::done(&card, &variants, &mut chance)
                        .and_then(|job| job.held(&card, &everywhere))
                        .is_err()
                });
                if !goes_wrong {
                    harmless.push(format!("{rule}: {procedure}"));
                }
            }
        }
    }
    assert!(harmless.is_empty(), "found, but no job shows it:\n{}", harmless.join("\n"));
}
