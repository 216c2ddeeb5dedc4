//! One meaning: on random procedures the checker's analysis and the runner agree, in both directions. Every way that the
//! analysis promises the runner goes node by node to the same end, and whatever a run comes to, the analysis held possible there.

// A test may panic on a bad slice: that is how it fails.
#![allow(clippy::string_slice)]
// The figures are printed: they are seen with `--nocapture`.
#![allow(clippy::print_stdout)]

mod text;

use crate::one::One;
use crate::soundness::{Chance, seed, time};
use dwell_check::check::{check, lowered_again};
use dwell_check::flow::ways::combinations;
use dwell_check::flow::{Possible, Seen, possible};
use dwell_check::lower::Lowered;
use dwell_run::{Answer, Prompt, Session};
use dwell_trial::{Confirmed, Wanted, as_case, test, ways_of};
use std::time::Instant;

/// A time for every answer; nothing here depends on it.
const AT: &str = "2031-02-11T08:00:00Z";

/// The most answers in one run.
const MOST_ANSWERS: usize = 400;

/// How many runs by each card for each combination of variants.
const RUNS: usize = 6;

#[derive(Debug, Default)]
struct Count {
    texts: usize,
    cards: usize,
    sound: usize,
    runs: usize,
    moments: usize,
    ways: usize,
    not_confirmed: usize,
    cases: usize,
}

#[test]
fn checker_and_runner_agree_on_random_procedures() {
    let begun = Instant::now();
    let mut count = Count::default();
    let begin = seed();
    let mut seed = begin;
    let mut wrong = Vec::new();
    while (begun.elapsed() < time() || count.texts < 5) && wrong.len() < 3 {
        let text = text::procedures(&mut Chance::seeded(seed));
        if let Err(what) = agree(&text, seed, &mut count) {
            wrong.push(format!("seed {seed}: {what}\n{text}"));
        }
        seed += 1;
    }
    assert!(wrong.is_empty(), "{count:?}\n{}", wrong.join("\n\n"));
    assert!(count.cards * 2 > count.texts, "too few of the texts can be lowered: {count:?}");
    assert!(count.cards < 100 || count.sound * 60 > count.cards, "too few of them are sound: {count:?}");
    assert!(count.runs > 10 && count.ways > 10 && count.moments > 500, "{count:?}");
    assert!(
        count.ways < 300 || count.not_confirmed * 10 < count.ways,
        "too many ways are not confirmed: {count:?}"
    );
    println!("from seed {begin} on: {count:?}");
}

/// Holds the two against each other on one text.
fn agree(text: &str, seed: u64, count: &mut Count) -> Result<(), String> {
    count.texts += 1;
    let checked = check(&["random.dwell".to_owned()], &One(text));
    if let Some(slip) = checked.program.files.iter().flat_map(|file| &file.slips).next() {
        return Err(format!("the text cannot be read: {slip:?}"));
    }
    let mut with_cases = text.to_owned();
    for (place, lowered) in lowered_again(&checked) {
        let compiled = &checked.procedures[place];
        count.cards += 1;
        count.sound += usize::from(compiled.card.is_some());
        for (number, chosen) in (0..).zip(combinations(&lowered)) {
            let variants = named(&lowered, &chosen);
            // A card that goes round without asking, or to no end, is refused by the runner.
            let Ok(begun) = Session::start_watched(lowered.card.clone(), &variants, AT) else { continue };
            let possible = possible(&lowered, &chosen);
            for run in 0..RUNS as u64 {
                let mut chance = Chance::seeded(seed.wrapping_mul(1000) + run * 10 + number);
                let session = run_through(begun.clone(), &mut chance);
                count.runs += 1;
                count.moments += session.moments().len();
                held(&session, &lowered, &possible)
                    .map_err(|what| format!("{} {variants:?}, run {run}: {what}", compiled.name))?;
            }
            let ways = ways_of(compiled, &lowered, &chosen, Wanted::EveryBranch, AT);
            for (number, way) in (1..).zip(&ways.ways) {
                count.ways += 1;
                match &way.confirmed {
                    Confirmed::Yes if compiled.card.is_some() => {
                        let case = as_case(way, &lowered.card, &variants, number);
                        insert(&mut with_cases, &compiled.name, &case);
                    }
                    Confirmed::Yes => {}
                    Confirmed::NotFound(_) => count.not_confirmed += 1,
                    Confirmed::Contradicted(why) => {
                        return Err(format!(
                            "{} {variants:?}: {why}\n{:?}\n{:?}\n{:?}",
                            compiled.name, way.told, way.nodes, way.answers
                        ));
                    }
                }
            }
        }
    }
    if with_cases != text {
        cases_end_as_they_say(&with_cases, count)?;
    }
    Ok(())
}

/// Puts a case at the end of a procedure.
fn insert(text: &mut String, procedure: &str, case: &str) {
    let begin = text.find(&format!("procedure {procedure} ")).unwrap();
    let end = begin + text[begin..].find("\n}\n").unwrap() + 1;
    text.insert_str(end, case);
}

/// Carries out the cases that the ways were written as.
fn cases_end_as_they_say(text: &str, count: &mut Count) -> Result<(), String> {
    let tested = test(&check(&["random.dwell".to_owned()], &One(text)), None, AT);
    count.cases += tested.cases().filter(|case| case.ends.is_some()).count();
    match tested.cases().find_map(|case| case.failure.as_ref()) {
        Some(failure) => Err(format!("a way as a case: {}\n{:?}\n{text}", failure.message, failure)),
        None => Ok(()),
    }
}

fn named(lowered: &Lowered, chosen: &[usize]) -> Vec<(String, String)> {
    let axes = lowered.card.axes.iter().zip(chosen);
    axes.map(|(axis, value)| (axis.name.clone(), axis.values[*value].clone())).collect()
}

/// A run with answers as chance gives them; in one of four somebody stops.
fn run_through(mut session: Session, chance: &mut Chance) -> Session {
    let card = session.card().clone();
    let mut stops_at = chance.once_in(4).then(|| chance.below(25));
    for answers in 0..MOST_ANSWERS {
        let prompt = session.ask();
        if matches!(prompt, Prompt::Done { .. }) {
            break;
        }
        if stops_at == Some(answers) {
            stops_at = None;
            session.stop("Called away.", AT).unwrap();
            continue;
        }
        let lost = !session.keeping().is_empty() && chance.once_in(6);
        let answer = if lost { Answer::Lost } else { chance.answer(&prompt, &card) };
        if session.answer(answer, AT).is_err() && matches!(prompt, Prompt::Reading(_)) {
            session.answer(Answer::NoReading, AT).unwrap();
        }
    }
    session
}

/// Whether the analysis held possible all that a run came to.
fn held(session: &Session, lowered: &Lowered, possible: &Possible) -> Result<(), String> {
    for moment in session.moments() {
        let next = lowered.card.nodes[moment.node].next[&moment.way];
        let seen = Seen {
            slots: &moment.slots,
            values: &moment.values,
            answers: &moment.answers,
            open: &moment.open,
            stopped: moment.stopped,
        };
        possible.allows(lowered, next, &seen).map_err(|why| {
            format!(
                "after node {} ({:?}), {:?}, at node {next} ({:?}): {why}\n{:?}",
                moment.node,
                lowered.card.nodes[moment.node].act,
                moment.way,
                lowered.card.nodes[next].act,
                session.trace()
            )
        })?;
    }
    Ok(())
}
