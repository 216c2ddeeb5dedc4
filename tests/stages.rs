//! Bolts tightened in stages by the runner: each stage is asked for and recorded with its band, and a stop begins them anew.

use dwell_check::check::check;
use dwell_check::finding::Level;
use dwell_check::program::Sources;
use dwell_record::{Outcome, What};
use dwell_run::{Answer, Prompt, Session};

const TEXT: &str = include_str!("soundness/texts/stages.dwell");
const NOW: &str = "2031-04-12T09:05:00+02:00";

struct One;

impl Sources for One {
    fn read(&self, _: &str) -> Result<String, String> {
        Ok(TEXT.to_owned())
    }
    fn join(&self, _: &str, used: &str) -> String {
        used.to_owned()
    }
}

fn begun() -> Session {
    let checked = check(&["stages.dwell".to_owned()], &One);
    let grave = checked.findings.iter().filter(|found| found.level <= Level::Warning);
    let said: Vec<String> = grave.map(|found| found.message.clone()).collect();
    assert_eq!(said, Vec::<String>::new());
    Session::start(checked.procedures[0].card.clone().unwrap(), &[], NOW).unwrap()
}

/// Answers until the session is over or asks for work that begins like this; with the bands that were shown on the way.
fn played(session: &mut Session, until: &str) -> Vec<Option<String>> {
    let mut bands = Vec::new();
    loop {
        let answer = match session.ask() {
            Prompt::Confirm(confirm) if confirm.says.starts_with(until) => return bands,
            Prompt::Confirm(confirm) => {
                if confirm.says.starts_with("Stage") {
                    bands.push(confirm.band);
                }
                Answer::Done
            }
            Prompt::Need { .. } => Answer::Yes,
            Prompt::Reading(_) => Answer::Value { text: "2.05 mm".into(), unit: None },
            Prompt::Question(_) => Answer::Choice("no".into()),
            _ => return bands,
        };
        session.answer(answer, NOW).unwrap();
    }
}

fn work(session: &Session) -> Vec<String> {
    let done = session.events().iter().filter_map(|event| match &event.what {
        What::Done(done) => Some(done.says.clone()),
        _ => None,
    });
    done.collect()
}

#[test]
fn each_stage_is_recorded_with_its_band() {
    let mut session = begun();
    let bands = played(&mut session, "nothing");
    let shown: Vec<&str> = bands.iter().flatten().map(String::as_str).collect();
    assert_eq!(shown, ["30 ± 2 N·m", "90 ± 5 °", "90 ± 5 °", "5.5 ± 0.5 N·m", "10 ± 1 N·m"]);
    assert_eq!(session.result(), Some(Outcome::Passed));
    assert_eq!(
        work(&session),
        [
            "Remove the cover.",
            "Loosen the bolt of the lid.",
            "Loosen the cylinder head bolt at each head bolt place.",
            "Stage 1 of 3: tighten the cylinder head bolt at each head bolt place to 30 ± 2 N·m with the torque wrench.",
            "Stage 2 of 3: turn the cylinder head bolt at each head bolt place by 90 ± 5 ° with the angle disc.",
            "Stage 3 of 3: turn the cylinder head bolt at each head bolt place by 90 ± 5 ° with the angle disc.",
            "Stage 1 of 2: tighten the bolt of the lid to 5.5 ± 0.5 N·m with the torque wrench.",
            "Stage 2 of 2: tighten the bolt of the lid to 10 ± 1 N·m with the torque wrench.",
            "Refit the cover.",
        ]
    );
}

#[test]
fn a_stop_between_two_stages_owes_all_of_them() {
    for stage in ["Stage 2 of 3", "Stage 3 of 3"] {
        let mut session = begun();
        played(&mut session, stage);
        let before = work(&session).len();
        session.stop("Closing time.", NOW).unwrap();
        played(&mut session, "nothing");
        assert_eq!(session.result(), Some(Outcome::Unfinished));
        let numbers: Vec<String> =
            work(&session).iter().skip(before).map(|says| says.chars().take(12).collect()).collect();
        let all =
            ["Stage 1 of 2", "Stage 2 of 2", "Stage 1 of 3", "Stage 2 of 3", "Stage 3 of 3", "Refit the co"];
        assert_eq!(numbers, all);
        assert!(session.open().is_empty());
    }
}

#[test]
fn nothing_is_tightened_that_was_not_loosened() {
    let mut session = begun();
    played(&mut session, "Loosen the cylinder head bolt");
    session.stop("Closing time.", NOW).unwrap();
    let before = work(&session).len();
    played(&mut session, "nothing");
    let numbers: Vec<String> =
        work(&session).iter().skip(before).map(|says| says.chars().take(12).collect()).collect();
    assert_eq!(numbers, ["Stage 1 of 2", "Stage 2 of 2", "Refit the co"]);
}
