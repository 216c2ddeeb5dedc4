//! A session is the fold of its events: it can go on from every one of them.

use super::build::*;
use crate::{Refusal, Session, Start};
use dwell_card::Card;
use dwell_card::graph::{Act, Work};
use dwell_card::limit::Fold;
use dwell_record::{Event, What};

/// Plays the answers and at every point resumes from every prefix of the events. A `!` is a STOP.
fn folds(card: &Card, answers: &str) {
    let mut session = begun(card);
    let mut stages = vec![session.clone()];
    for text in answers.split(';').map(str::trim) {
        match text {
            "!" => session.stop("Enough.", NOW).unwrap(),
            _ => session.answer(answer(text), NOW).unwrap(),
        };
        stages.push(session.clone());
    }
    for stage in &stages {
        assert_eq!(&Session::resume(card.clone(), stage.events()).unwrap(), stage);
    }
    for cut in 1..=session.events().len() {
        let before = &session.events()[..cut];
        let resumed = Session::resume(card.clone(), before).unwrap();
        assert_eq!(&resumed.events()[..cut], before);
        assert!(stages.contains(&resumed), "cut after event {cut}");
    }
}

#[test]
fn every_event_is_a_place_to_go_on_from() {
    folds(&tension(3), "50 Hz;.;.;58 Hz;.;62 Hz;.");
    folds(&tension(2), "50 Hz;.;.;x;.;above 70 Hz;.");
    folds(&tension(3), "50 Hz;.;.;!;.");
}

#[test]
fn every_value_of_several_is_a_place_to_go_on_from() {
    let mut b = Build::new();
    let left = b.reading("left", "length", "mm", 1);
    let right = b.reading("right", "angle", "°", 1);
    b.measure(&[left, right], 2, Fold::Mean);
    b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    b.add(Act::Restore);
    let card = b.finish();
    folds(&card, "1 1/4 in;0° 30′;30.00 mm;x;.");
    folds(&card, "1 1/4 in;-0° 30′ 15″;!");
}

#[test]
fn a_record_of_another_card_is_refused() {
    let session = played(&tension(3), "50 Hz");
    let refused = Session::resume(tension(2), session.events()).unwrap_err();
    assert!(matches!(refused, Refusal::AnotherCard { .. }), "{refused}");
}

#[test]
fn a_changed_record_is_refused_at_the_event() {
    let card = tension(3);
    let mut events: Vec<Event> = played(&card, "50 Hz;.").events().to_vec();
    let judged = events.iter().position(|event| matches!(event.what, What::Judged(_))).unwrap();
    let What::Judged(known) = &mut events[judged].what else { panic!() };
    known.holds = true;
    let refused = Session::resume(card.clone(), &events).unwrap_err();
    assert_eq!(refused, Refusal::AnotherCourse { seq: events[judged].seq });
    assert_eq!(Session::resume(card.clone(), &[]), Err(Refusal::AnotherCourse { seq: 1 }));
    let tail = played(&card, "50 Hz").events()[1..].to_vec();
    assert!(Session::resume(card, &tail).is_err());
}

#[test]
fn the_record_names_the_program_that_began_it() {
    let card = tension(3);
    let mut events = begun(&card).events().to_vec();
    let What::Begun(known) = &mut events[0].what else { panic!() };
    known.program = "dwell 0.0.1".into();
    let mut session = Session::resume(card, &events).unwrap();
    session.answer(answer("62 Hz"), NOW).unwrap();
    assert_eq!(session.report().begun.unwrap().program, "dwell 0.0.1");
}

#[test]
fn the_number_of_the_vehicle_goes_on_with_the_job() {
    let card = tension(3);
    let vehicle = dwell_record::Vehicle::from(&dwell_record::Vin::parse("1G4AH59H45G118341").unwrap());
    let start = Start { vehicle: Some(vehicle.clone()), ..Start::default() };
    let mut session = Session::start_with(card.clone(), &[], start, NOW).unwrap();
    session.answer(answer("62 Hz"), NOW).unwrap();
    let again = Session::resume(card, session.events()).unwrap();
    assert!(again == session);
    assert_eq!(again.report().begun.unwrap().vehicle, Some(vehicle));
}
