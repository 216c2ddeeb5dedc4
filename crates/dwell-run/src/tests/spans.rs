//! Spans: held while something is done, lost by the technician's word or by the last measurement.

use super::build::*;
use crate::{Prompt, Refusal, Row, Rows, Session, drive};
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Held, Hold, Test, Way, Work};
use dwell_card::limit::{Fold, Formula};
use dwell_record::{Outcome, What};
use expect_test::expect;

fn within(reading: usize) -> Act {
    let end = |text: &str| Some((Formula::Value(num(text)), true));
    let test = Test::Within {
        value: Formula::Latest(reading),
        low: end("40"),
        high: end("60"),
        written: "40 .. 60 Hz".into(),
    };
    Act::Branch { condition: Condition { tests: vec![test], says: "in band".into(), ..condition() } }
}

fn condition() -> Condition {
    Condition { any: false, tests: Vec::new(), says: String::new(), groups: Vec::new() }
}

/// A speed that is held while a question is asked; an arm that ends the job unfinished.
fn speed() -> Card {
    let mut b = Build::new();
    let speed = b.reading("speed", "frequency", "Hz", 0);
    b.card.questions.push(dwell_card::Question {
        name: "lamp".into(),
        text: "Is it lit?".into(),
        values: vec!["yes".into(), "no".into()],
    });
    b.measure(&[speed], 1, Fold::Last);
    let first = b.add(within(speed));
    let hold = b.at(first, Way::Yes).add(Act::Hold(Hold {
        name: "speed".into(),
        at: None,
        says: "The speed stays 40 .. 60 Hz.".into(),
        text: Some("Hold the pedal.".into()),
        states: Vec::new(),
    }));
    let ask = b.add(Act::Ask { question: 0 });
    let still = b.measure(&[speed], 1, Fold::Last);
    let last = b.add(within(speed));
    let release = b.at(last, Way::Yes).add(Act::Release { hold, lost: false });
    let lost = b.at(ask, Way::Lost).also(still, Way::Lost).also(last, Way::No).also(last, Way::NoReading);
    let lost = lost.add(Act::Release { hold, lost: true });
    b.also(first, Way::No).also(first, Way::NoReading);
    assert!(b.card.nodes[lost].next.is_empty());
    b.end(dwell_card::graph::Outcome::Unfinished);
    b.also(release, Way::Then);
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn a_held_quantity_is_measured_at_both_ends() {
    expect![[r#"
        speed 1/1 -> 50 Hz
        Is it lit? -> ?yes
        speed 1/1 -> 55 Hz
        = passed
    "#]]
    .assert_eq(&dialogue(&speed(), "50 Hz;?yes;55 Hz"));
    for gone in ["70 Hz", "x", "50 Hz;?yes;61 Hz", "50 Hz;?yes;x", "50 Hz;lost", "50 Hz;?yes;lost"] {
        assert_eq!(played(&speed(), gone).result(), Some(Outcome::Unfinished), "{gone}");
    }
}

#[test]
fn what_is_held_is_told_and_can_be_lost_only_meanwhile() {
    let mut session = begun(&speed());
    assert!(session.keeping().is_empty());
    assert_eq!(session.answer(answer("lost"), NOW), Err(Refusal::NothingHeld));
    session.answer(answer("50 Hz"), NOW).unwrap();
    let held = session.keeping();
    assert_eq!((held[0].name.as_str(), held[0].text.as_deref()), ("speed", Some("Hold the pedal.")));
    session.answer(answer("lost"), NOW).unwrap();
    assert!(session.keeping().is_empty());
    let lost = session.report().lost;
    assert!(lost.len() == 1 && lost[0].told);
    assert_eq!(lost[0].words(), "Not held: the speed stays 40 .. 60 Hz");
    let measured = played(&speed(), "50 Hz;?yes;61 Hz").report();
    assert!(measured.lost.len() == 1 && !measured.lost[0].told);
    assert!(played(&speed(), "70 Hz").report().lost.is_empty());
}

#[test]
fn a_stop_ends_what_is_held() {
    let mut session = played(&speed(), "50 Hz");
    session.stop("Late.", NOW).unwrap();
    assert!(session.keeping().is_empty());
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn a_record_goes_on_before_and_after_a_loss() {
    for answers in ["50 Hz", "50 Hz;lost", "50 Hz;?yes;lost", "50 Hz;?yes;61 Hz"] {
        let session = played(&speed(), answers);
        for cut in 1..=session.events().len() {
            Session::resume(speed(), &session.events()[..cut]).unwrap();
        }
        assert_eq!(Session::resume(speed(), session.events()).unwrap(), session, "{answers}");
    }
}

#[test]
fn a_row_says_that_it_is_lost_when_its_turn_has_come() {
    let row = |name: &str, value: &str, unit: Option<&str>| Row {
        name: name.into(),
        place: None,
        value: value.into(),
        unit: unit.map(str::to_owned),
        ..Row::default()
    };
    let run = |rows: &[Row]| {
        let (mut session, mut rows) = (begun(&speed()), Rows::new(rows.to_vec()));
        let result = drive(&mut session, &mut rows, &mut || NOW.into(), &mut |_| ()).unwrap();
        assert_eq!(rows.left_over(), Vec::<usize>::new());
        let answered = session.events().iter().any(|event| matches!(event.what, What::Answered(_)));
        (result, answered)
    };
    let (begin, lit) = (row("speed", "50", Some("Hz")), row("lamp", "yes", None));
    let lost = row("speed", "lost", None);
    assert_eq!(run(&[begin.clone(), lost.clone()]), (Outcome::Unfinished, false));
    assert_eq!(run(&[begin.clone(), lit.clone(), lost]), (Outcome::Unfinished, true));
    assert_eq!(run(&[begin.clone(), lit, begin]), (Outcome::Passed, true));
}

#[test]
fn a_state_that_is_lost_is_open_until_it_is_put_back() {
    let mut b = Build::new();
    let cover = b.slot("cover", &["fitted", "off"]);
    let hold = b.add(Act::Hold(Hold {
        name: "cover".into(),
        at: None,
        says: "The cover stays fitted.".into(),
        text: None,
        states: vec![Held { slot: cover, state: 0, lost: vec![1] }],
    }));
    let look = b.add(Act::Work(Work { says: "Look.".into(), ..Work::default() }));
    let release = b.add(Act::Release { hold, lost: false });
    b.at(look, Way::Lost).add(Act::Release { hold, lost: true });
    b.also(release, Way::Then).add(Act::Restore);
    b.work("Refit the cover.", cover, 1, 0, true);
    let card = b.finish();
    assert_eq!(played(&card, ".").result(), Some(Outcome::Passed));
    let mut session = played(&card, "lost");
    assert_eq!(session.open(), ["The cover is off"]);
    let Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(confirm.says, "Refit the cover.");
    session.answer(answer("."), NOW).unwrap();
    assert!(session.open().is_empty());
}

#[test]
fn a_span_that_never_begins_is_damage() {
    let mut card = speed();
    for node in &mut card.nodes {
        if let Act::Release { hold, .. } = &mut node.act {
            *hold = 0;
        }
    }
    let refused = Session::start(card, &[], NOW).unwrap_err();
    assert!(refused.to_string().contains("ends a span that never begins"), "{refused}");
}

/// Two values are read while a pedal is held; where it is lost, the first of them decides how it ends.
fn pair() -> Card {
    let mut b = Build::new();
    let [front, rear] = ["front", "rear"].map(|name| b.reading(name, "frequency", "Hz", 0));
    let hold = b.add(Act::Hold(Hold {
        name: "pedal".into(),
        at: None,
        says: "The pedal stays pressed.".into(),
        text: None,
        states: Vec::new(),
    }));
    let both = b.measure(&[front, rear], 1, Fold::Last);
    let release = b.add(Act::Release { hold, lost: false });
    let lost = b.at(both, Way::Lost).add(Act::Release { hold, lost: true });
    let read = b.at(lost, Way::Then).add(within(front));
    b.at(read, Way::Yes).end(dwell_card::graph::Outcome::Failed);
    let failed = b.card.nodes.len() - 1;
    b.at(read, Way::No).also(read, Way::NoReading).end(dwell_card::graph::Outcome::Unfinished);
    let unfinished = b.card.nodes.len() - 1;
    b.also(release, Way::Then).also(failed, Way::Then).also(unfinished, Way::Then).add(Act::Restore);
    b.finish()
}

#[test]
fn half_of_a_measurement_is_none() {
    // The checker walks the loss with nothing read; so must the runner, though the 50 Hz stay on record.
    let session = played(&pair(), "50 Hz;lost");
    assert_eq!(session.result(), Some(Outcome::Unfinished));
    assert!(session.events().iter().any(|event| matches!(event.what, What::Measured(_))));
    for cut in 1..=session.events().len() {
        Session::resume(pair(), &session.events()[..cut]).unwrap();
    }
    assert_eq!(Session::resume(pair(), session.events()).unwrap(), session);
    assert_eq!(played(&pair(), "50 Hz;50 Hz").result(), Some(Outcome::Passed));
}
