//! Slips: a value that looks like one is asked back once, taken when it is given again, and marked in the record.

use super::build::*;
use crate::{Answer, Doubt, Refusal, Session, by_hand};
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::limit::{Ability, Fold, Tool};
use dwell_card::number::{Num, Range};
use dwell_record::What;
use dwell_record::event::Measured;

/// One reading, held against a band, read with a tool that shows a range.
fn held(kind: &str, unit: &str, ends: (&str, &str), shows: (&str, &str), times: u32) -> Card {
    let mut b = Build::new();
    let reading = b.reading("value", kind, unit, 1);
    let limit = b.limit(kind, unit, band(ends.0, ends.1), None);
    b.card.tools.push(Tool {
        name: "meter".into(),
        label: "meter".into(),
        slots: Vec::new(),
        measures: vec![Ability {
            quantity: kind.into(),
            kind: kind.into(),
            unit: unit.into(),
            range: Range::from(&band(shows.0, shows.1)),
            resolution: Some(Num(exact("0.1"))),
            accuracy: None,
            accuracy_of_reading: None,
        }],
        sets: Vec::new(),
        impedance: None,
        calibrated_months: None,
    });
    let node = b.measure(&[reading], times, Fold::Mean);
    if let Act::Measure(measure) = &mut b.card.nodes[node].act {
        measure.tool = Some(0);
    }
    let judge = b.judge(&[(reading, limit)], false, &[]);
    b.also(judge, Way::In).also(judge, Way::Out);
    b.add(Act::Restore);
    b.finish()
}

fn value(text: &str) -> Answer {
    Answer::Value { text: text.into(), unit: None }
}

fn doubt(session: &mut Session, text: &str) -> Option<Doubt> {
    let before = session.clone();
    match session.answer(value(text), NOW) {
        Ok(_) => None,
        Err(Refusal::Doubtful { why, .. }) => {
            assert_eq!(*session, before, "what is asked back changes nothing");
            Some(why)
        }
        Err(other) => panic!("{text}: {other}"),
    }
}

fn first(card: &Card, text: &str) -> Option<Doubt> {
    doubt(&mut begun(card), text)
}

fn slip(meant: &str, what: &str) -> Option<Doubt> {
    Some(Doubt::Slip { meant: meant.into(), what: what.into() })
}

fn measured(session: &Session) -> Measured {
    let found = session.events().iter().rev().find_map(|event| match &event.what {
        What::Measured(measured) => Some(measured.as_ref().clone()),
        _ => None,
    });
    found.unwrap()
}

#[test]
fn a_lost_decimal_point_is_asked_back() {
    let card = held("frequency", "Hz", ("56", "68"), ("1", "100000"), 1);
    assert_eq!(first(&card, "620 Hz"), slip("62.0 Hz", "the decimal point is one place off"));
    assert_eq!(first(&card, "6.2 Hz"), slip("62.0 Hz", "the decimal point is one place off"));
    assert_eq!(first(&card, "6200 Hz"), slip("62.0 Hz", "the decimal point is two places off"));
    let card = held("frequency", "Hz", ("56", "68"), ("0", "100000"), 1);
    for plausible in ["62 Hz", "55.9 Hz", "80 Hz", "300 Hz", "0 Hz", "above 620 Hz"] {
        assert_eq!(first(&card, plausible), None, "{plausible}");
    }
}

#[test]
fn units_that_are_taken_for_each_other_are_asked_back() {
    // 1 ft = 12 in and 1 in = 25.4 mm (exact: NIST SP 811, appendix B.8); 1 psi = 6.894757 kPa (the same table).
    let card = held("torque", "lbf·ft", ("14", "19"), ("0", "1000"), 1);
    assert_eq!(first(&card, "144 lbf·ft"), slip("12.0 lbf·ft", "it was read in lbf·in"));
    let card = held("length", "mm", ("0.001", "0.0012"), ("0", "0.1"), 1);
    assert_eq!(first(&card, "0.041 mm"), slip("1.041 mm", "it was read in in"));
    let card = held("gauge-pressure", "kPa", ("235000", "262000"), ("0", "10000000"), 1);
    assert_eq!(first(&card, "36 kPa"), slip("248.2 kPa", "it was read in psi"));
}

#[test]
fn the_other_sign_is_asked_back() {
    let card = held("electric-potential", "V", ("12", "15"), ("0", "1000"), 1);
    assert_eq!(first(&card, "-13.8 V"), Some(Doubt::Sign { meant: "13.8 V".into() }));
    assert_eq!(first(&card, "-3 V"), None);
}

#[test]
fn what_the_tool_cannot_show_is_asked_back_even_in_band() {
    let card = held("frequency", "Hz", ("56", "68"), ("10", "60"), 1);
    let beyond = Doubt::BeyondTool { tool: "meter".into(), range: "10.0 .. 60.0 Hz".into() };
    assert_eq!(first(&card, "62 Hz"), Some(beyond));
    assert_eq!(first(&card, "above 60 Hz"), None);
}

#[test]
fn one_that_is_far_from_the_others_is_asked_back() {
    let card = held("frequency", "Hz", ("56", "68"), ("10", "100000000"), 3);
    let mut session = begun(&card);
    assert_eq!(doubt(&mut session, "62 Hz"), None);
    assert_eq!(doubt(&mut session, "61 Hz"), None);
    let others = vec!["62.0 Hz".to_owned(), "61.0 Hz".to_owned()];
    assert_eq!(doubt(&mut session, "99999999 Hz"), Some(Doubt::Apart { others }));
    assert_eq!(doubt(&mut session, "63 Hz"), None);
    assert_eq!(measured(&session).shown, "62.0 Hz");
}

#[test]
fn given_again_it_is_taken_marked_and_resumed() {
    let card = held("frequency", "Hz", ("56", "68"), ("1", "100000"), 1);
    let mut session = begun(&card);
    assert!(doubt(&mut session, "620 Hz").is_some());
    session.answer(Answer::Kept(Box::new(value("620 Hz"))), NOW).unwrap();
    assert!(measured(&session).samples[0].is_kept());
    assert_eq!(measured(&session).shown, "620.0 Hz");
    assert_eq!(measured(&session).how().as_deref(), Some("asked back and kept"));
    assert_eq!(Session::resume(card.clone(), session.events()).unwrap(), session);
    // What nobody doubts is not marked, whoever says that it is kept.
    let mut plain = begun(&card);
    plain.answer(Answer::Kept(Box::new(value("62 Hz"))), NOW).unwrap();
    assert!(!measured(&plain).samples[0].is_kept());
}

#[test]
fn a_real_fault_is_asked_back_once_only() {
    let card = held("frequency", "Hz", ("56", "68"), ("1", "100000"), 2);
    let mut session = begun(&card);
    assert!(doubt(&mut session, "6.1 Hz").is_some());
    session.answer(Answer::Kept(Box::new(value("6.1 Hz"))), NOW).unwrap();
    assert_eq!(doubt(&mut session, "6.2 Hz"), None);
}

#[test]
fn of_a_one_sided_band_only_what_is_near_its_end_is_meant() {
    let mut b = Build::new();
    let reading = b.reading("wear", "length", "mm", 2);
    let most = dwell_quantity::Band::at_most(exact("0.00005"));
    let limit = b.limit("length", "mm", most, None);
    b.measure(&[reading], 1, Fold::Last);
    let judge = b.judge(&[(reading, limit)], false, &[]);
    b.also(judge, Way::In).also(judge, Way::Out);
    b.add(Act::Restore);
    let card = b.finish();
    assert_eq!(first(&card, "0.4 mm"), slip("0.04 mm", "the decimal point is one place off"));
    assert_eq!(first(&card, "0.06 mm"), None);
    assert_eq!(first(&card, "0.1 mm"), None);
}

#[test]
fn a_comma_is_a_decimal_mark_where_it_can_be_nothing_else() {
    for (typed, taken) in [
        ("62,3", "62.3"),
        ("62.3", "62.3"),
        ("-0,5 mm", "-0.5 mm"),
        ("0,125", "0.125"),
        ("1234,5", "1234.5"),
        ("14,1 14,2 14,1 V", "14.1 14.2 14.1 V"),
        ("2,5; 3,5", "2.5; 3.5"),
        ("2 1/4", "2 1/4"),
        ("> 1000,5 MΩ", "above 1000.5 MΩ"),
        ("<=0,01", "at most 0.01"),
        ("no reading", "no reading"),
        ("1.234,5", "1.234,5"),
    ] {
        assert_eq!(by_hand(typed, 1).unwrap(), taken, "{typed}");
    }
    for (typed, fraction, whole) in [("1,234", "1.2340", "1234"), ("-12.345 mm", "-12.3450", "-12345")] {
        let Err(Refusal::Marks { fraction: one, whole: other, .. }) = by_hand(typed, 1) else {
            panic!("{typed}")
        };
        assert_eq!((one.as_str(), other.as_str()), (fraction, whole));
    }
    // A tool with three decimals reads 1.234 every day.
    assert_eq!(by_hand("1,234", 3).unwrap(), "1.234");
}
