//! Taking up a job: what ran out while nobody was there counts no more, is told, and is asked for again.

use super::build::*;
use crate::{Prompt, Refusal, Session, Start};
use dwell_card::Card;
use dwell_card::graph::{Act, Way, Work};
use dwell_card::limit::Fold;
use dwell_card::vehicle::Lapse;
use dwell_record::What;
use dwell_record::event::{By, TakenUp, Taking};

fn by(person: &str) -> By {
    By { person: Some(person.into()), device: Some("bay-2".into()) }
}

/// An engine that is brought to be warm, which lasts 20 minutes, is looked at, and must be warm after that.
fn warm() -> Card {
    let mut b = Build::new();
    let engine = b.slot("engine", &["cold", "warm"]);
    b.card.slots[engine].lasts.push(Lapse { state: 1, seconds: num("1200"), resting: None });
    b.card.slots[engine].may_stay.push(1);
    b.work("Warm the engine up.", engine, 0, 1, false);
    b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    let need = b.need(engine, 1, "The engine is warm");
    b.also(need, Way::No);
    b.add(Act::Work(Work { says: "Read the idle speed.".into(), ..Work::default() }));
    b.add(Act::Restore);
    b.finish()
}

fn taken(session: &Session) -> TakenUp {
    let known = session.events().iter().rev().find_map(|event| match &event.what {
        What::TakenUp(taken) => Some(TakenUp::clone(taken)),
        _ => None,
    });
    known.unwrap()
}

fn resumes(session: &Session) {
    let card = session.card().clone();
    assert!(Session::resume(card, session.events()).unwrap() == *session);
}

#[test]
fn what_still_lasts_is_known() {
    let mut session = played(&warm(), ".");
    session.take_up(by("A. Weber"), Taking::GoneOn, "2031-04-12T09:20:00+02:00").unwrap();
    let known = taken(&session);
    assert_eq!((known.away, known.expired.len()), (Some(900), 0));
    session.answer(answer("."), NOW).unwrap();
    let Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(confirm.says, "Read the idle speed.", "the need is known to hold");
    resumes(&session);
}

#[test]
fn what_ran_out_in_the_night_is_told_and_asked_for_again() {
    let mut session = played(&warm(), ".");
    session.take_up(by("B. Roth"), Taking::HandedOver, "2031-04-13T07:00:00+02:00").unwrap();
    let known = taken(&session);
    assert_eq!(known.expired, ["The engine was warm, which lasts 20 min"]);
    assert_eq!(session.by(), by("B. Roth"));
    let words = known.words();
    assert_eq!(words, "Handed over: from somebody to B. Roth on bay-2");
    session.answer(answer("."), "2031-04-13T07:01:00+02:00").unwrap();
    assert!(matches!(session.ask(), Prompt::Need { .. }), "{:?}", session.ask());
    assert_eq!(session.report().history.len(), 1);
    resumes(&session);
}

#[test]
fn where_the_clock_was_set_back_nothing_is_taken_to_last() {
    let mut session = played(&warm(), ".");
    session.take_up(by("A. Weber"), Taking::GoneOn, "2031-04-12T08:00:00+02:00").unwrap();
    let known = taken(&session);
    assert_eq!((known.away, known.expired.len()), (None, 1));
    assert_eq!(session.report().clock_back.len(), 1);
    resumes(&session);
}

#[test]
fn what_is_open_is_told() {
    let mut session = played(&tension(3), "50 Hz;.");
    session.take_up(by("A. Weber"), Taking::TakenOver, NOW).unwrap();
    assert_eq!(taken(&session).open, [format!("The belt guard is removed, since {NOW}")]);
    resumes(&session);
}

#[test]
fn going_back_does_not_bring_back_what_ran_out() {
    let mut session = played(&warm(), ".;.");
    let look = session.behind()[1].seq;
    session.take_up(by("A. Weber"), Taking::GoneOn, "2031-04-13T07:00:00+02:00").unwrap();
    session.go_back(look, by("A. Weber"), "Once more.", "2031-04-13T07:01:00+02:00").unwrap();
    session.answer(answer("."), "2031-04-13T07:02:00+02:00").unwrap();
    assert!(matches!(session.ask(), Prompt::Need { .. }), "{:?}", session.ask());
    resumes(&session);
}

#[test]
fn a_measurement_that_was_broken_off_is_begun_anew_by_another_person_and_after_long() {
    let mut b = Build::new();
    let tension = b.reading("tension", "frequency", "Hz", 1);
    b.measure(&[tension], 3, Fold::Mean);
    b.add(Act::Restore);
    let card = b.finish();
    let round = |session: &Session| match session.ask() {
        Prompt::Reading(reading) => reading.round,
        other => panic!("{other:?}"),
    };
    let mut session =
        Session::start_with(card, &[], Start { by: by("A. Weber"), ..Start::default() }, NOW).unwrap();
    session.answer(answer("50 Hz"), NOW).unwrap();
    session.answer(answer("51 Hz"), NOW).unwrap();
    let soon = "2031-04-12T09:10:00+02:00";
    session.take_up(by("A. Weber"), Taking::GoneOn, soon).unwrap();
    assert_eq!((round(&session), taken(&session).expired.len()), (3, 0));
    let mut handed = session.clone();
    handed.take_up(by("B. Roth"), Taking::HandedOver, soon).unwrap();
    assert_eq!(round(&handed), 1);
    assert_eq!(
        taken(&handed).expired,
        ["The tension was read 2 of 3 times, and is measured from the beginning"]
    );
    for value in ["60 Hz", "61 Hz", "62 Hz"] {
        handed.answer(answer(value), soon).unwrap();
    }
    assert_eq!(handed.report().readings[0].as_found.value, "61.0 Hz");
    resumes(&handed);
    session.take_up(by("A. Weber"), Taking::GoneOn, "2031-04-12T11:10:00+02:00").unwrap();
    assert_eq!(round(&session), 1);
    resumes(&session);
}

#[test]
fn a_job_that_is_over_is_not_taken_up() {
    let mut session = played(&tension(3), "62 Hz");
    assert_eq!(session.take_up(by("A. Weber"), Taking::GoneOn, NOW), Err(Refusal::Over));
}
