//! A measurement whose values come by themselves: when it is over, and what is given to the session then.

use super::build::*;
use super::sampling::{at_most, card};
use crate::{Answer, Gathering, Given, Session};
use dwell_card::graph::{Condition, Sampling};
use dwell_card::limit::Fold;
use dwell_record::What;

fn volts(text: &str) -> Given {
    Given { text: text.into(), unit: Some("V".into()) }
}

/// Over 4 s, every 2 s.
fn timed() -> Session {
    let sampling = Sampling { every: Some(num("2")), least: 3, needed: 3, ..Sampling::default() };
    begun(&card(1, Fold::Mean, Some("4"), sampling, at_most(0, "15")))
}

fn source(session: &Session) -> Vec<Option<String>> {
    let measured = session.events().iter().filter_map(|event| match &event.what {
        What::Measured(measured) => Some(measured.source.clone()),
        _ => None,
    });
    measured.collect()
}

#[test]
fn it_is_over_with_the_last_sample_of_its_window_or_a_little_later() {
    let session = timed();
    let mut gathering = Gathering::of(&session).unwrap();
    assert_eq!((gathering.period(), gathering.long(), gathering.count()), (2000, Some(4000), 0));
    for (at, text) in [(0, "14.1"), (2000, "14.2"), (2000, "99"), (1000, "99")] {
        gathering.add(&session, at, vec![volts(text)]);
    }
    // Of one moment there is one sample, and time does not run backwards.
    assert_eq!(gathering.count(), 2);
    assert!(!gathering.is_over(6_999), "one more is waited for: one period and a second");
    assert!(gathering.is_over(7_000));
    gathering.add(&session, 4000, vec![volts("14.3")]);
    assert!(gathering.is_over(4_000));
}

#[test]
fn what_it_gathered_is_decided_by_the_session_and_its_source_is_kept() {
    let mut session = timed();
    let mut gathering = Gathering::of(&session).unwrap();
    for (at, text) in [(0, "14.1"), (2000, "14.2"), (4000, "14.3")] {
        gathering.add(&session, at, vec![volts(text)]);
    }
    for answer in gathering.answers() {
        let by = "DMM-9".to_owned();
        session.answer(Answer::Shown { by, answer: Box::new(answer) }, NOW).unwrap();
    }
    assert_eq!(source(&session), [Some("DMM-9".to_owned())]);
    let again = Session::resume(session.card().clone(), session.events()).unwrap();
    assert_eq!(again.events(), session.events());
}

#[test]
fn it_ends_at_the_first_moment_at_which_its_until_holds() {
    let until = Condition { tests: vec![at_most(0, "13")], says: "it is low".into(), ..Condition::default() };
    let sampling = Sampling {
        every: Some(num("2")),
        least: 1,
        at_most: true,
        until: Some(until),
        ..Sampling::default()
    };
    let session = begun(&card(1, Fold::Last, Some("60"), sampling, at_most(0, "13")));
    let mut gathering = Gathering::of(&session).unwrap();
    gathering.add(&session, 0, vec![volts("14.1")]);
    assert!(!gathering.is_over(0));
    gathering.add(&session, 2000, vec![volts("12.9")]);
    assert!(gathering.is_over(2000));
    gathering.add(&session, 4000, vec![volts("99")]);
    assert_eq!(gathering.count(), 2, "what comes later does not count");
}

#[test]
fn single_values_and_a_measurement_half_given_are_none() {
    assert!(Gathering::of(&begun(&tension(3))).is_none());
    let sampling = Sampling { every: Some(num("2")), least: 2, needed: 2, ..Sampling::default() };
    let mut session = begun(&card(2, Fold::Mean, Some("2"), sampling, at_most(0, "15")));
    assert_eq!(Gathering::of(&session).unwrap().wanted().len(), 2);
    session.answer(answer("14.1 14.1 V"), NOW).unwrap();
    assert!(Gathering::of(&session).is_none());
}
