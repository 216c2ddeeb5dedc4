//! Going back and putting right: what was said is asked again, what was done stays done, and the record can be resumed.

use super::build::*;
use crate::{Prompt, Refusal, Session};
use dwell_card::graph::{Act, Way, Work};
use dwell_record::event::By;
use dwell_record::{Outcome, What};

fn weber() -> By {
    By { person: Some("A. Weber".into()), device: None }
}

/// The number of the first reading's event.
fn first_reading(session: &Session) -> u64 {
    session.behind().into_iter().find(|place| place.reading).unwrap().seq
}

/// Whether the record of a session leads to the same session, from its whole and from every prefix of it.
fn resumes(session: &Session) {
    let card = session.card().clone();
    assert!(Session::resume(card.clone(), session.events()).unwrap() == *session);
    for cut in 1..session.events().len() {
        let part = &session.events()[..cut];
        let resumed =
            Session::resume(card.clone(), part).unwrap_or_else(|why| panic!("cut after {cut}: {why}"));
        assert_eq!(&resumed.events()[..cut], part);
    }
}

#[test]
fn what_was_done_stays_done_and_is_put_back() {
    let mut session = played(&tension(3), "50 Hz;.;.");
    let to = first_reading(&session);
    session.go_back(to, weber(), "The head was not at the middle.", NOW).unwrap();
    assert_eq!(session.open(), ["The belt guard is removed"]);
    let Prompt::Reading(reading) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(reading.name, "tension");
    session.answer(answer("62 Hz"), NOW).unwrap();
    let Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(confirm.says, "Refit the belt guard.");
    session.answer(answer("."), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::AdjustedAndPassed), "the adjuster was turned");
    let report = session.report();
    assert_eq!(
        (report.readings[0].as_found.value.as_str(), report.readings[0].as_left.value.as_str()),
        ("50.0 Hz", "62.0 Hz")
    );
    assert!(
        report.history[0].contains("A. Weber went back to event 3: The head was not at the middle."),
        "{report}"
    );
    assert!(report.doubts.is_empty() && report.open.is_empty(), "{report}");
    resumes(&session);
}

#[test]
fn work_that_was_done_already_is_asked_with_a_word_about_it_and_is_no_doubt() {
    let mut session = played(&tension(3), "50 Hz;.;.");
    session.go_back(first_reading(&session), weber(), "Once more.", NOW).unwrap();
    session.answer(answer("51 Hz"), NOW).unwrap();
    let Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(confirm.says, "Remove the belt guard.");
    assert_eq!(confirm.text.as_deref(), Some("It was done before going back: look that it still is so."));
    session.answer(answer("."), NOW).unwrap();
    assert!(session.report().doubts.is_empty());
    resumes(&session);
}

#[test]
fn a_reading_that_was_noted_wrong_is_as_if_it_had_never_been() {
    let mut session = played(&tension(3), "50 Hz");
    let to = first_reading(&session);
    session.correct(to, weber(), "Typed 50 for 60.", NOW).unwrap();
    session.answer(answer("60 Hz"), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Passed));
    let report = session.report();
    assert_eq!(report.readings.len(), 1);
    assert_eq!((report.readings[0].as_found.value.as_str(), report.readings[0].measured), ("60.0 Hz", 1));
    assert!(
        report.history[0].ends_with("A. Weber put right the tension, noted as 50.0 Hz: Typed 50 for 60."),
        "{report}"
    );
    assert!(
        session
            .events()
            .iter()
            .any(|event| matches!(&event.what, What::Measured(known) if known.shown == "50.0 Hz"))
    );
    resumes(&session);
}

#[test]
fn signatures_after_the_place_count_no_more() {
    let mut b = Build::new();
    b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    b.add(Act::Sign { persons: 1 });
    b.add(Act::Work(Work { says: "Look again.".into(), ..Work::default() }));
    b.add(Act::Restore);
    let mut session = played(&b.finish(), ".;@A. Weber");
    assert_eq!(session.report().signed.len(), 1);
    let first = session.behind()[0].seq;
    session.go_back(first, weber(), "Not looked at yet.", NOW).unwrap();
    assert!(session.report().signed.is_empty());
    resumes(&session);
}

#[test]
fn what_a_need_told_is_asked_again_and_what_was_done_is_known() {
    let mut b = Build::new();
    let gearbox = b.slot("gearbox", &["neutral", "in gear"]);
    let guard = b.slot("belt guard", &["fitted", "removed"]);
    let need = b.need(gearbox, 0, "The gearbox is neutral");
    b.also(need, Way::No);
    b.work("Remove the belt guard.", guard, 0, 1, false);
    b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    b.add(Act::Restore);
    b.work("Refit the belt guard.", guard, 1, 0, true);
    let mut session = played(&b.finish(), "+;.");
    session.go_back(session.behind()[0].seq, weber(), "Was in gear.", NOW).unwrap();
    assert!(matches!(session.ask(), Prompt::Need { .. }));
    for text in ["-", ".", ".", "."] {
        session.answer(answer(text), NOW).unwrap();
    }
    assert_eq!(session.result(), Some(Outcome::Passed));
    assert!(session.report().doubts.is_empty(), "{:?}", session.report().doubts);
    resumes(&session);
}

#[test]
fn nobody_goes_back_before_a_performed_procedure_that_has_something_open() {
    let mut b = Build::new();
    let cap = b.slot("cap", &["fitted", "removed"]);
    b.card.frames.push(frame("inner", Some(0)));
    b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    b.frame = 1;
    b.add(Act::Open);
    b.work("Remove the cap.", cap, 0, 1, false);
    b.add(Act::Work(Work { says: "Look inside.".into(), ..Work::default() }));
    b.add(Act::Restore);
    b.work("Refit the cap.", cap, 1, 0, true);
    let close = b.add(Act::Close);
    b.frame = 0;
    for way in [Way::Passed, Way::Failed, Way::Unfinished, Way::Referred] {
        b.also(close, way);
    }
    b.loose.retain(|(_, way)| *way != Way::Then);
    b.add(Act::Work(Work { says: "Look once more.".into(), ..Work::default() }));
    b.add(Act::Restore);
    let mut session = played(&b.finish(), ".;.");
    assert_eq!(session.behind().len(), 1, "only what lies in the procedure");
    let before = session.events().iter().find(|event| matches!(event.what, What::Done(_))).unwrap().seq;
    let refused = session.go_back(before, weber(), "So.", NOW);
    assert_eq!(refused, Err(Refusal::BeforePerformed { procedure: "inner".into() }));
    session.answer(answer("."), NOW).unwrap();
    session.answer(answer("."), NOW).unwrap();
    session.go_back(before, weber(), "So.", NOW).unwrap();
    assert!(session.open().is_empty());
    resumes(&session);
}

#[test]
fn what_cannot_be_gone_back_to_is_refused_and_changes_nothing() {
    let mut session = begun(&tension(3));
    assert_eq!(session.go_back(1, weber(), "So.", NOW), Err(Refusal::NothingBehind));
    session = played(&tension(3), "50 Hz;.");
    let before = session.clone();
    let to = first_reading(&session);
    assert_eq!(session.go_back(4711, weber(), "So.", NOW), Err(Refusal::NotBackTo { seq: 4711 }));
    assert_eq!(session.go_back(to, weber(), "  ", NOW), Err(Refusal::NoReason));
    let work = session.behind().last().unwrap().seq;
    assert_eq!(session.correct(work, weber(), "So.", NOW), Err(Refusal::NoReadingThere { seq: work }));
    assert!(session == before);
    session.stop("Enough.", NOW).unwrap();
    assert_eq!(session.go_back(to, weber(), "So.", NOW), Err(Refusal::NothingBehind), "not behind a stop");
    session.answer(answer("."), NOW).unwrap();
    assert_eq!(session.go_back(to, weber(), "So.", NOW), Err(Refusal::Over));
}
