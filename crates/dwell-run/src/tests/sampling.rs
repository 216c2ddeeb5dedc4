//! Sampled measurements: typed in one line or given with times, ended by `until`, useless with a gap; kept and resumed.

use super::build::*;
use crate::{Answer, GivenSample, Prompt, Refusal, Row, Rows, Session, drive};
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Hold, Judge, Sampling, Test, Way};
use dwell_card::limit::{Fold, Formula};
use dwell_record::event::{Measured, Sample};
use dwell_record::{Outcome, What};
use expect_test::expect;

/// `reading at most high`, in base units.
pub(super) fn at_most(reading: usize, high: &str) -> Test {
    let written = format!("at most {high} V");
    let high = Some((Formula::Value(num(high)), true));
    Test::Within { value: Formula::Latest(reading), low: None, high, written }
}

/// One or two voltages that are sampled in this way, and judged by this test.
pub(super) fn card(count: usize, take: Fold, over: Option<&str>, sampling: Sampling, test: Test) -> Card {
    let mut b = Build::new();
    let tool = b.tool(ability("dc-voltage", "V", Some("0.1"), None));
    let names = ["charge", "rest"];
    let readings: Vec<usize> =
        names[..count].iter().map(|name| b.reading(name, "dc-voltage", "V", 1)).collect();
    for reading in &readings {
        b.card.readings[*reading].tool = Some(tool);
    }
    let node = b.measure(&readings, 1, take);
    let Act::Measure(measure) = &mut b.card.nodes[node].act else { panic!("no measure") };
    measure.over = over.map(num);
    measure.tool = Some(tool);
    measure.sampling = Some(sampling);
    let settles = vec![b.card.nodes.len()];
    let condition = Condition { tests: vec![test], says: "it is so".into(), ..Condition::default() };
    let judge = b.add(Act::Judge(Judge { condition, adjusting: false, settles, proves: Vec::new() }));
    b.loose = vec![(judge, Way::Out), (judge, Way::In)];
    b.add(Act::Restore);
    b.finish()
}

fn steady() -> Test {
    Test::Steady { reading: 0, not: false, within: None }
}

/// A charging voltage over 20 s, every 2 s, that must be steady.
fn charge() -> Card {
    let sampling = Sampling { every: Some(num("2")), least: 3, needed: 2, ..Sampling::default() };
    card(1, Fold::Mean, Some("4"), sampling, steady())
}

fn samples(lines: &[(&str, &str)]) -> Answer {
    let one = |(time, text): &(&str, &str)| GivenSample {
        time: (!time.is_empty()).then(|| (*time).to_owned()),
        text: (*text).to_owned(),
        unit: Some("V".into()),
        kept: false,
    };
    Answer::Samples(lines.iter().map(one).collect())
}

fn measured(session: &Session) -> Vec<Measured> {
    let events = session.events().iter();
    events
        .filter_map(|event| match &event.what {
            What::Measured(measured) => Some((**measured).clone()),
            _ => None,
        })
        .collect()
}

/// The value and how it came about.
fn told(session: &Session) -> String {
    let all = measured(session);
    let words: Vec<String> =
        all.iter().map(|one| format!("{} ({})", one.shown, one.how().unwrap_or_default())).collect();
    words.join("; ")
}

fn given(card: &Card, answers: Vec<Answer>) -> Session {
    let mut session = begun(card);
    for answer in answers {
        session.answer(answer, NOW).unwrap_or_else(|why| panic!("{why}"));
    }
    session
}

#[test]
fn all_values_are_typed_in_one_line() {
    let session = played(&charge(), "14.1 14.2 14.1 V");
    // By hand: (14.1 + 14.2 + 14.1) / 3 = 14.1333.
    assert_eq!(told(&session), "14.1 V (mean of 3, 0 s to 4 s)");
    assert_eq!(session.result(), Some(Outcome::Passed));
    let Sample::Typed { text, unit, .. } = &measured(&session)[0].samples[1] else { panic!("not typed") };
    assert_eq!((text.as_str(), unit.as_str()), ("14.2", "V"));
    assert_eq!(given(&charge(), vec![answer("14.1; 14.4; 14.1 V")]).result(), Some(Outcome::Failed));
}

#[test]
fn the_prompt_says_how_many_and_too_few_are_refused() {
    let mut session = begun(&charge());
    let Prompt::Reading(prompt) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(
        prompt.sampled.unwrap().how("V"),
        "type at least 3 values with blanks between, one every 2 s: 12 12 12 V"
    );
    for few in ["14.1 V", "14.1 14.2 V"] {
        let refused = session.answer(answer(few), NOW).unwrap_err();
        assert!(matches!(refused, Refusal::TooFewSamples { least: 3, .. }), "{refused:?}");
    }
    expect!["1 value was given, and 3 are needed to tell: type them one after another, `12 12 12 V`; where a value has a blank in it, with semicolons between"]
        .assert_eq(&session.answer(answer("14.1 V"), NOW).unwrap_err().to_string());
    assert!(matches!(session.answer(answer("14.1 14.2 x"), NOW), Err(Refusal::TooFewSamples { .. })));
    assert!(matches!(session.answer(answer("14.1; 14.2; 14.3 A"), NOW), Err(Refusal::OtherKind(_))));
    assert!(matches!(session.answer(answer("14.1 14.2 14.3"), NOW), Err(Refusal::UnitMissing { .. })));
    let many = vec![("", "14"); 5_001];
    assert!(matches!(session.answer(samples(&many), NOW), Err(Refusal::TooManySamples { .. })));
    assert_eq!(session.events().len(), begun(&charge()).events().len());
}

#[test]
fn no_reading_is_no_reading_and_one_in_the_middle_too() {
    let nothing = played(&charge(), "x");
    assert_eq!((told(&nothing).as_str(), nothing.result()), ("no reading ()", Some(Outcome::Failed)));
    let middle = given(&charge(), vec![answer("14.1; no reading; 14.1 V")]);
    assert_eq!(told(&middle), "no reading (no reading at 2 s)");
    assert_eq!(middle.result(), Some(Outcome::Failed));
}

#[test]
fn a_gap_or_an_early_end_is_no_reading() {
    let timed = |lines| told(&given(&charge(), vec![samples(lines)]));
    assert_eq!(timed(&[("0", "14.1"), ("2", "14.1"), ("4", "14.1")]), "14.1 V (mean of 3, 0 s to 4 s)");
    assert_eq!(timed(&[("0", "14.1"), ("4.1", "14.1")]), "no reading (the samples end at 0 s, before 4 s)");
    let long = card(
        1,
        Fold::Last,
        Some("20"),
        Sampling { every: Some(num("2")), least: 1, ..Sampling::default() },
        at_most(0, "15"),
    );
    let timed = |lines| told(&given(&long, vec![samples(lines)]));
    assert_eq!(timed(&[("0", "1"), ("2", "1"), ("6.5", "1")]), "no reading (gap of 4.5 s at 2 s)");
    assert_eq!(timed(&[("0", "1"), ("3", "1")]), "no reading (the samples end at 3 s, before 20 s)");
}

#[test]
fn times_rise_and_all_have_one() {
    let mut session = begun(&charge());
    let mut refused = |lines: &[(&str, &str)]| session.answer(samples(lines), NOW).unwrap_err().to_string();
    expect!["the times of the values cannot be used: `2` s is not later than the one before it"]
        .assert_eq(&refused(&[("2", "14"), ("2", "14")]));
    expect!["the times of the values cannot be used: some have none"]
        .assert_eq(&refused(&[("2", "14"), ("", "14")]));
    expect!["the times of the values cannot be used: `-1` lies before the measurement began"]
        .assert_eq(&refused(&[("-1", "14")]));
    assert!(refused(&[("soon", "14")]).contains("`soon` is no number of seconds"));
}

/// Both voltages until both are at most 3 V, at most 9 s.
fn both() -> Card {
    let condition = Condition {
        tests: vec![at_most(0, "3"), at_most(1, "3")],
        says: "both low".into(),
        ..Condition::default()
    };
    let sampling = Sampling {
        every: Some(num("1")),
        at_most: true,
        until: Some(condition),
        least: 1,
        ..Sampling::default()
    };
    card(2, Fold::Last, Some("9"), sampling, at_most(1, "3"))
}

#[test]
fn until_ends_the_measurement_of_both_at_one_moment() {
    let session = played(&both(), "5 3 2 9 V;5 5 3 9 V");
    assert_eq!(
        told(&session),
        "2.0 V (last of 3 of 4, 0 s to 2 s, ended by its until); \
         3.0 V (last of 3 of 4, 0 s to 2 s, ended by its until)"
    );
    assert_eq!(session.result(), Some(Outcome::Passed));
    // What came later is kept.
    assert_eq!(measured(&session)[0].samples.len(), 4);
    let never = played(&both(), "5 5 5 V;5 5 5 V");
    assert_eq!(told(&never), "5.0 V (last of 3, 0 s to 2 s); 5.0 V (last of 3, 0 s to 2 s)");
}

#[test]
fn both_are_read_at_the_same_moments() {
    let mut session = played(&both(), "5 3 2 V");
    let Prompt::Reading(prompt) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!((prompt.name.as_str(), prompt.sampled.unwrap().given), ("rest", Some(3)));
    expect!["2 values here, and 3 of charge: both are read at the same moments, so give as many of each"]
        .assert_eq(&session.answer(answer("5 3 V"), NOW).unwrap_err().to_string());
    let mut timed = given(&both(), vec![samples(&[("0", "5"), ("1", "3")])]);
    expect!["the times are not those of charge: both are read at the same moments"]
        .assert_eq(&timed.answer(samples(&[("0", "5"), ("1.5", "3")]), NOW).unwrap_err().to_string());
    // One of the two could not be read at all: it is no reading, and the other is what it is.
    assert_eq!(told(&played(&both(), "x;5 3 V")), "no reading (); 3.0 V (last of 2, 0 s to 1 s)");
}

#[test]
fn a_spread_is_never_taken_of_one_value() {
    let sampling = Sampling { least: 1, ..Sampling::default() };
    let mut run_out = card(1, Fold::Spread, None, sampling, at_most(0, "0.5"));
    let mut session = begun(&run_out);
    assert!(matches!(session.answer(answer("7 V"), NOW), Err(Refusal::TooFewSamples { least: 2, .. })));
    assert_eq!(told(&played(&run_out, "7 7.4 V")), "0.4 V (spread of 2)");
    // The same for a card of before, that says nothing of sampling.
    let node = run_out.nodes.iter().position(|node| matches!(node.act, Act::Measure(_))).unwrap();
    let Act::Measure(measure) = &mut run_out.nodes[node].act else { panic!("no measure") };
    measure.sampling = None;
    let mut session = begun(&run_out);
    assert!(matches!(session.answer(answer("7 V"), NOW), Err(Refusal::TooFewSamples { least: 2, .. })));
}

#[test]
fn a_record_of_samples_goes_on_where_it_stopped() {
    let cards = [
        (charge(), vec![samples(&[("0.0", "14.1"), ("2", "14.2"), ("4", "14.1")])]),
        (charge(), vec![answer("14.1; no reading; 14.1 V")]),
        (charge(), vec![Answer::NoReading]),
        (both(), vec![answer("5 3 2 V"), answer("5 5 3 V")]),
        (both(), vec![Answer::NoReading, samples(&[("0", "5"), ("1", "3")])]),
        (both(), vec![answer("5 3 V")]),
    ];
    for (card, answers) in cards {
        let session = given(&card, answers);
        let again = Session::resume(card, session.events()).unwrap();
        assert_eq!(again, session);
    }
}

#[test]
fn rows_with_times_are_taken_while_they_rise() {
    let row = |time: &str, value: &str| Row {
        name: "charge".into(),
        value: value.into(),
        unit: Some("V".into()),
        time: (!time.is_empty()).then(|| time.to_owned()),
        ..Row::default()
    };
    let run = |card: &Card, rows: Vec<Row>| {
        let (mut session, mut rows) = (begun(card), Rows::new(rows));
        drive(&mut session, &mut rows, &mut || NOW.into(), &mut |_| ()).unwrap();
        (told(&session), rows.left_over().len())
    };
    let timed: Vec<Row> = [("0", "14.1"), ("2", "14.2"), ("4", "14.1"), ("0", "9")]
        .map(|(time, value)| row(time, value))
        .into();
    assert_eq!(run(&charge(), timed), ("14.1 V (mean of 3, 0 s to 4 s)".to_owned(), 1));
    // Without times as many as are wanted, of a list all.
    let plain: Vec<Row> = ["14.1", "14.2", "14.1", "9"].map(|value| row("", value)).into();
    assert_eq!(run(&charge(), plain.clone()), ("14.1 V (mean of 3, 0 s to 4 s)".to_owned(), 1));
    let list = plain.into_iter().map(|row| Row { list: Some(1), ..row }).collect();
    assert_eq!(run(&charge(), list), ("14.1 V (mean of 3 of 4, 0 s to 4 s)".to_owned(), 0));
}

#[test]
fn the_report_says_how_the_value_came_about() {
    let report = played(&charge(), "14.1 14.2 14.1 V").report().to_string();
    assert!(report.contains("\n                       mean of 3, 0 s to 4 s\n"), "{report}");
}

/// Both voltages while a pedal is held; lost, it ends unfinished.
fn held_both() -> Card {
    let mut b = Build::new();
    let tool = b.tool(ability("dc-voltage", "V", Some("0.1"), None));
    let readings = ["charge", "rest"].map(|name| b.reading(name, "dc-voltage", "V", 1));
    for reading in readings {
        b.card.readings[reading].tool = Some(tool);
    }
    let hold = b.add(Act::Hold(Hold {
        name: "pedal".into(),
        at: None,
        says: "The pedal stays pressed.".into(),
        text: None,
        states: Vec::new(),
    }));
    let node = b.measure(&readings, 1, Fold::Last);
    let Act::Measure(measure) = &mut b.card.nodes[node].act else { panic!("no measure") };
    measure.tool = Some(tool);
    measure.sampling = Some(Sampling { every: Some(num("1")), least: 2, ..Sampling::default() });
    let release = b.add(Act::Release { hold, lost: false });
    b.at(node, Way::Lost).add(Act::Release { hold, lost: true });
    b.end(dwell_card::graph::Outcome::Unfinished);
    b.also(release, Way::Then).add(Act::Restore);
    b.finish()
}

#[test]
fn what_is_lost_between_the_two_leaves_neither_judged_and_both_on_record() {
    let mut session = played(&held_both(), "5 3 V");
    let Prompt::Reading(prompt) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(prompt.name, "rest");
    session.answer(answer("lost"), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
    assert!(measured(&session).is_empty(), "half of a measurement is none");
    let given: Vec<String> = session.events().iter().map(|event| format!("{:?}", event.what)).collect();
    assert!(given.iter().any(|what| what.contains("\"5\"") && what.contains("\"3\"")), "{given:#?}");
    for cut in 1..=session.events().len() {
        Session::resume(held_both(), &session.events()[..cut]).unwrap();
    }
    assert_eq!(Session::resume(held_both(), session.events()).unwrap(), session);
    assert_eq!(played(&held_both(), "5 3 V;5 5 V").result(), Some(Outcome::Passed));
}

#[test]
fn a_single_value_that_was_asked_back_and_kept_is_taken_up_again() {
    let sampling = Sampling { least: 1, ..Sampling::default() };
    let card = card(1, Fold::Last, Some("20"), sampling, at_most(0, "15"));
    let mut session = begun(&card);
    let sample = GivenSample { time: None, text: "99".into(), unit: Some("V".into()), kept: true };
    session.answer(Answer::Kept(Box::new(Answer::Samples(vec![sample]))), NOW).unwrap();
    let again = Session::resume(card, session.events()).unwrap();
    assert_eq!(again.events(), session.events());
    assert!(
        session
            .events()
            .iter()
            .any(|event| matches!(&event.what, What::Measured(one) if one.samples[0].is_kept()))
    );
}
