//! How procedures come out: in at once, adjusted, failed, unfinished, referred; by every way through the flow.

use super::build::*;
use dwell_card::graph::{Act, End, Outcome, Side, Way};
use dwell_card::limit::{Fold, Formula};
use dwell_record::{Outcome as Out, What};
use expect_test::expect;

#[test]
fn in_band_at_once_passes_and_puts_nothing_back() {
    expect![[r#"
        tension 1/1 -> 62.0 Hz
        = passed
    "#]]
    .assert_eq(&dialogue(&tension(3), "62.0 Hz"));
}

#[test]
fn a_reading_on_the_limit_is_in() {
    assert_eq!(played(&tension(3), "56 Hz").result(), Some(Out::Passed));
    assert_eq!(played(&tension(3), "68.000 Hz").result(), Some(Out::Passed));
}

#[test]
fn out_of_band_is_adjusted_in_two_rounds_and_put_back() {
    expect![[r#"
        tension 1/1 -> 50 Hz
        Remove the belt guard. -> .
        Turn the adjuster. -> .
        tension 1/1 -> 58 Hz
        Turn the adjuster. -> .
        tension 1/1 -> 62 Hz
        Refit the belt guard. -> .
        = adjusted and passed
    "#]]
    .assert_eq(&dialogue(&tension(3), "50 Hz;.;.;58 Hz;.;62 Hz;."));
}

#[test]
fn as_found_and_as_left_are_the_first_and_the_last() {
    let report = played(&tension(3), "54.6 Hz;.;.;61.9 Hz;.").report();
    let line = &report.readings[0];
    assert_eq!(line.as_found.words().unwrap(), "LOW by 1.4 Hz");
    assert_eq!(line.as_found.band.as_deref(), Some("56 .. 68 Hz"));
    assert_eq!(line.as_left.words().unwrap(), "in band");
    assert_eq!(line.as_left.band.as_deref(), Some("60 .. 64 Hz"));
    assert_eq!((line.as_found.value.as_str(), line.as_left.value.as_str()), ("54.6 Hz", "61.9 Hz"));
}

#[test]
fn rounds_that_are_spent_fail_and_still_put_back() {
    expect![[r#"
        tension 1/1 -> 50 Hz
        Remove the belt guard. -> .
        Turn the adjuster. -> .
        tension 1/1 -> 51 Hz
        Turn the adjuster. -> .
        tension 1/1 -> 70 Hz
        Refit the belt guard. -> .
        = failed
    "#]]
    .assert_eq(&dialogue(&tension(2), "50 Hz;.;.;51 Hz;.;70 Hz;."));
}

#[test]
fn in_the_check_band_is_not_enough_while_adjusting() {
    let session = played(&tension(1), "50 Hz;.;.;57 Hz");
    assert_eq!(session.open(), ["The belt guard is removed"]);
    assert_eq!(played(&tension(1), "50 Hz;.;.;57 Hz;.").result(), Some(Out::Failed));
}

#[test]
fn no_rounds_at_all_are_spent_at_once() {
    assert_eq!(played(&tension(0), "50 Hz;.;.").result(), Some(Out::Failed));
}

/// Arms for low, high and no reading, each ending in its own way; then a fall to the end.
fn arms() -> dwell_card::Card {
    let mut b = Build::new();
    let voltage = b.reading("voltage", "dc-voltage", "V", 2);
    let limit = b.limit("dc-voltage", "V", band("13.8", "14.6"), None);
    b.measure(&[voltage], 1, Fold::Last);
    let judge = b.judge(&[(voltage, limit)], false, &[]);
    let low = b.side(judge, &[0], Side::Low);
    b.add(Act::Cause { item: "alternator".into(), text: None, located: None });
    let to = b.add(Act::End(End {
        outcome: Outcome::Referred,
        text: None,
        refer: Some("charging-faults".into()),
        in_restore: false,
    }));
    let high = b.at(low, Way::No).side(judge, &[0], Side::High);
    let note = b.add(Act::Note { text: "The regulator lets too much through.".into() });
    b.at(high, Way::No);
    let none = b.side(judge, &[0], Side::NoReading);
    let ended = b.end(Outcome::Unfinished);
    let rest = b.at(none, Way::No).add(Act::Unhandled);
    b.also(to, Way::Then)
        .also(note, Way::Then)
        .also(ended, Way::Then)
        .also(rest, Way::Then)
        .also(judge, Way::In);
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn each_side_has_its_own_arm() {
    assert_eq!(played(&arms(), "14.2 V").result(), Some(Out::Passed));
    assert_eq!(played(&arms(), "x").result(), Some(Out::Unfinished));
    assert_eq!(played(&arms(), "14.61 V;.").result(), Some(Out::Failed));
    let low = played(&arms(), "13.79 V");
    assert_eq!(low.result(), Some(Out::Referred));
    let report = low.report();
    assert_eq!(report.refer.as_deref(), Some("charging-faults"));
    assert_eq!(report.causes[0].item, "alternator");
}

#[test]
fn falling_to_the_end_with_something_open_is_failed() {
    let session = played(&arms(), "15 V;.");
    assert_eq!(session.result(), Some(Out::Failed));
    assert!(session.report().doubts.is_empty());
}

#[test]
fn end_passed_does_not_hide_what_is_open() {
    let mut b = Build::new();
    let tension = b.reading("tension", "frequency", "Hz", 1);
    let limit = b.limit("frequency", "Hz", band("56", "68"), None);
    b.measure(&[tension], 1, Fold::Last);
    let judge = b.judge(&[(tension, limit)], false, &[]);
    b.end(Outcome::Passed);
    b.also(judge, Way::In);
    b.add(Act::Restore);
    let card = b.finish();
    assert_eq!(played(&card, "50 Hz").result(), Some(Out::Failed));
}

#[test]
fn an_adjusting_that_falls_through_fails_even_without_an_expect() {
    let mut b = Build::new();
    let tension = b.reading("tension", "frequency", "Hz", 1);
    let limit = b.limit("frequency", "Hz", band("56", "68"), Some(band("60", "64")));
    b.card.counters.push(0);
    b.measure(&[tension], 1, Fold::Last);
    let set = b.judge(&[(tension, limit)], true, &[]);
    let count = b.add(Act::Count { counter: 0 });
    b.at(count, Way::Spent).also(set, Way::In);
    b.card.nodes[count].next.insert(Way::Again, set);
    b.add(Act::Restore);
    let card = b.finish();
    assert_eq!(played(&card, "50 Hz").result(), Some(Out::Failed));
    assert_eq!(played(&card, "62 Hz").result(), Some(Out::Passed));
}

/// A need for a stopped engine, without any way to bring it about.
#[test]
fn a_need_that_does_not_hold_ends_unfinished() {
    let mut b = Build::new();
    let engine = b.slot("engine", &["stopped", "running"]);
    let need = b.need(engine, 0, "The engine is stopped");
    b.work("Start the engine.", engine, 0, 1, false);
    let work = b.loose.clone();
    b.at(need, Way::No).end(Outcome::Unfinished);
    b.loose.extend(work);
    b.add(Act::Restore);
    b.work("Stop the engine.", engine, 1, 0, true);
    let card = b.finish();
    assert_eq!(played(&card, "+;.;.").result(), Some(Out::Passed));
    // The engine runs, but this job did not start it: the list of what is owed asks for it all the same.
    expect![[r#"
        The engine is stopped? -> -
        Stop the engine. -> .
        = unfinished
    "#]]
    .assert_eq(&dialogue(&card, "-;."));
}

#[test]
fn what_is_known_from_this_job_is_not_asked_again() {
    let mut b = Build::new();
    let engine = b.slot("engine", &["stopped", "running"]);
    b.work("Start the engine.", engine, 0, 1, false);
    let need = b.need(engine, 0, "The engine is stopped");
    let yes = b.loose.clone();
    b.at(need, Way::No).work("Stop the engine.", engine, 1, 0, false);
    b.loose.extend(yes);
    b.add(Act::Restore);
    let card = b.finish();
    let session = played(&card, ".;.");
    assert_eq!(session.result(), Some(Out::Passed));
    assert!(session.trace().contains(&(need, Way::No)));
}

/// Frame 1 measures and puts back what it changed; its caller goes on by its result.
fn performing() -> dwell_card::Card {
    let mut b = Build::new();
    let cap = b.slot("cap", &["fitted", "removed"]);
    let guard = b.slot("belt guard", &["fitted", "removed"]);
    b.card.frames.push(frame("battery-check", Some(0)));
    b.work("Remove the belt guard.", guard, 0, 1, false);
    b.frame = 1;
    b.add(Act::Open);
    let rest = b.reading("rest", "dc-voltage", "V", 2);
    let limit = b.limit("dc-voltage", "V", band("12.4", "13"), None);
    b.work("Remove the cap.", cap, 0, 1, false);
    b.measure(&[rest], 1, Fold::Last);
    let judge = b.judge(&[(rest, limit)], false, &[]);
    b.also(judge, Way::In);
    b.add(Act::Restore);
    b.work("Refit the cap.", cap, 1, 0, true);
    let close = b.add(Act::Close);
    b.frame = 0;
    b.at(close, Way::Passed).add(Act::Note { text: "The battery is good.".into() });
    let good = b.loose.clone();
    b.at(close, Way::Failed).also(close, Way::Unfinished).also(close, Way::Referred).end(Outcome::Failed);
    b.loose.extend(good);
    b.add(Act::Restore);
    b.work("Refit the belt guard.", guard, 1, 0, true);
    b.finish()
}

#[test]
fn a_performed_procedure_puts_back_its_own_and_hands_on_its_result() {
    expect![[r#"
        Remove the belt guard. -> .
        Remove the cap. -> .
        rest 1/1 -> 12.6 V
        Refit the cap. -> .
        The battery is good. -> .
        Refit the belt guard. -> .
        = passed
    "#]]
    .assert_eq(&dialogue(&performing(), ".;.;12.6 V;.;.;."));
    let session = played(&performing(), ".;.;11.9 V;.;.");
    assert_eq!(session.result(), Some(Out::Failed));
    let closed: Vec<String> = session
        .events()
        .iter()
        .filter_map(|event| match &event.what {
            What::Closed(closed) => Some(format!("{} {}", closed.procedure, closed.result)),
            _ => None,
        })
        .collect();
    assert_eq!(closed, ["battery-check failed", "belt failed"]);
}

/// A step that is gone back to at most twice.
#[test]
fn going_back_is_counted() {
    let mut b = Build::new();
    let play = b.reading("play", "length", "mm", 2);
    let limit = b.limit("length", "mm", band("0", "0.0005"), None);
    b.card.counters.push(2);
    let measure = b.measure(&[play], 1, Fold::Last);
    let judge = b.judge(&[(play, limit)], false, &[]);
    let count = b.add(Act::Count { counter: 0 });
    b.card.nodes[count].next.insert(Way::Again, measure);
    b.at(count, Way::Spent).end(Outcome::Failed);
    b.also(judge, Way::In);
    b.add(Act::Restore);
    let card = b.finish();
    assert_eq!(played(&card, "0.6 mm;0.6 mm;0.5 mm").result(), Some(Out::Passed));
    assert_eq!(played(&card, "0.6 mm;0.6 mm;0.6 mm").result(), Some(Out::Failed));
}

#[test]
fn a_question_leads_by_its_answer() {
    let mut b = Build::new();
    b.card.questions.push(dwell_card::Question {
        name: "noise".into(),
        text: "Is there a noise?".into(),
        values: vec!["none".into(), "squeal".into()],
    });
    b.add(Act::Ask { question: 0 });
    let test = dwell_card::graph::Test::Answer { question: 0, values: vec![1], not: false };
    let condition = dwell_card::graph::Condition {
        tests: vec![test],
        says: "noise is squeal".into(),
        ..Default::default()
    };
    let branch = b.add(Act::Branch { condition });
    b.at(branch, Way::Yes).end(Outcome::Failed);
    b.also(branch, Way::No).also(branch, Way::NoReading);
    b.add(Act::Restore);
    let card = b.finish();
    assert_eq!(played(&card, "?none").result(), Some(Out::Passed));
    assert_eq!(played(&card, "?squeal").result(), Some(Out::Failed));
    let refused = begun(&card).answer(answer("?hum"), NOW).unwrap_err();
    assert_eq!(refused.to_string(), "`hum` is none of the answers: answer none or squeal");
}

#[test]
fn a_computed_reading_follows_what_it_is_made_of() {
    let mut b = Build::new();
    let left = b.reading("left", "length", "mm", 1);
    let right = b.reading("right", "length", "mm", 1);
    let spread = b.reading("difference", "length", "mm", 1);
    b.card.readings[spread].formula = Some(Formula::Fold(Fold::Spread, vec![left, right]));
    let limit = b.limit("length", "mm", band("0", "0.002"), None);
    b.measure(&[left, right], 1, Fold::Last);
    let judge = b.judge(&[(spread, limit)], false, &[]);
    b.measure(&[right], 1, Fold::Last);
    let again = b.judge(&[(spread, limit)], false, &[judge]);
    b.also(again, Way::In).also(judge, Way::In);
    b.add(Act::Restore);
    let card = b.finish();
    let session = played(&card, "100 mm;103 mm;101 mm");
    assert_eq!(session.result(), Some(Out::Passed));
    let report = session.report();
    let line = report.readings.iter().find(|line| line.reading.name == "difference").unwrap();
    assert_eq!(line.as_found.words().unwrap(), "HIGH by 1.0 mm");
    assert_eq!((line.as_found.value.as_str(), line.as_left.value.as_str()), ("3.0 mm", "1.0 mm"));
    assert_eq!(played(&card, "100 mm;x;103 mm").result(), Some(Out::Failed));
}

#[test]
fn end_inside_restore_leaves_the_rest_as_an_open_list() {
    let mut b = Build::new();
    let guard = b.slot("belt guard", &["fitted", "removed"]);
    b.work("Remove the belt guard.", guard, 0, 1, false);
    b.add(Act::Restore);
    let end = b.add(Act::End(End {
        outcome: Outcome::Unfinished,
        text: Some("The clips are missing.".into()),
        refer: None,
        in_restore: true,
    }));
    b.at(end, Way::Then);
    let card = b.finish();
    let report = played(&card, ".").report();
    assert_eq!(report.result, Some(Out::Unfinished));
    assert_eq!(report.open, ["The belt guard is removed"]);
    assert_eq!(report.told, ["The clips are missing."]);
}
