//! Values as they are typed: taken exactly, converted, or refused with the reason; a refusal changes nothing.

use super::build::*;
use crate::{Answer, Session};
use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Judge, Test, Way};
use dwell_card::limit::{Fold, Formula};
use dwell_card::number::{Num, Range};
use dwell_record::event::Measured;
use dwell_record::{Number, Value, What};

/// One reading, measured `times` times, and nothing else.
fn one(kind: &str, unit: &str, decimals: u32, times: u32, take: Fold) -> Card {
    let mut b = Build::new();
    let reading = b.reading("value", kind, unit, decimals);
    b.measure(&[reading], times, take);
    b.add(Act::Restore);
    b.finish()
}

fn measured(session: &Session) -> Measured {
    let found = session.events().iter().rev().find_map(|event| match &event.what {
        What::Measured(measured) => Some(measured.as_ref().clone()),
        _ => None,
    });
    found.unwrap()
}

fn given(card: &Card, text: &str, unit: Option<&str>) -> Result<String, String> {
    let mut session = begun(card);
    let before = session.clone();
    let answer = Answer::Value { text: text.into(), unit: unit.map(Into::into) };
    match session.answer(answer, NOW) {
        Ok(_) => Ok(measured(&session).shown),
        Err(refusal) => {
            assert_eq!(session, before, "a refusal changes nothing");
            Err(refusal.to_string())
        }
    }
}

#[test]
fn a_value_keeps_the_digits_that_were_typed() {
    let card = one("frequency", "Hz", 1, 1, Fold::Last);
    assert_eq!(given(&card, "62.30", Some("Hz")).unwrap(), "62.30 Hz");
    assert_eq!(given(&card, "62", Some("Hz")).unwrap(), "62.0 Hz");
    assert_eq!(given(&card, "62 Hz", None).unwrap(), "62.0 Hz");
}

#[test]
fn another_unit_of_the_same_kind_is_converted_exactly() {
    // 1 lbf·ft = 0.3048 m × 0.45359237 kg × 9.80665 m/s² (NIST SP 811, appendix B.8; exact by definition).
    let card = one("torque", "N·m", 1, 1, Fold::Last);
    let session = played(&card, "100 lbf·ft");
    let newton_metres = exact("0.3048").clone() * exact("0.45359237") * exact("9.80665") * exact("100");
    assert_eq!(measured(&session).value, Value::Number(Number(newton_metres)));
    assert_eq!(measured(&session).shown, "135.6 N·m");
    // 85 °C is 185 °F (ITS-90 scales: °F = 9/5 °C + 32, exact by definition).
    let card = one("temperature", "°C", 0, 1, Fold::Last);
    assert_eq!(given(&card, "185", Some("°F")).unwrap(), "85 °C");
}

#[test]
fn what_is_no_number_is_refused_with_the_reason() {
    let card = one("length", "mm", 2, 1, Fold::Last);
    for text in ["0,35", "nan", "1e400", "", "  ", "inf", "0.35.1", "1 000", "--5", "O.35", "above", "mm"] {
        let refused = given(&card, text, Some("mm"));
        assert!(refused.is_err(), "{text} was taken as {refused:?}");
    }
    let comma = given(&card, "0,35", Some("mm")).unwrap_err();
    assert!(comma.contains("0,35") && comma.contains("point"), "{comma}");
    let comma = given(&card, "0,35 mm", None).unwrap_err();
    assert!(comma.contains("point"), "{comma}");
    assert!(given(&card, &"9".repeat(5000), Some("mm")).is_err());
}

#[test]
fn a_unit_is_never_guessed() {
    let card = one("torque", "N·m", 0, 1, Fold::Last);
    let none = given(&card, "12", None).unwrap_err();
    assert_eq!(
        none,
        "`12` has no unit, so it could mean anything: write `12 N·m`, or the unit that you read"
    );
    let unknown = given(&card, "12", Some("Nmm2")).unwrap_err();
    assert!(unknown.starts_with("there is no unit `Nmm2`"), "{unknown}");
    let other = given(&card, "12", Some("bar")).unwrap_err();
    assert!(other.contains("bar") && other.contains("torque"), "{other}");
    let ambiguous = given(&card, "12", Some("lb")).unwrap_err();
    assert!(ambiguous.contains("could be two units"), "{ambiguous}");
}

#[test]
fn a_plain_number_needs_no_unit() {
    let card = one("number", "", 0, 1, Fold::Last);
    assert_eq!(given(&card, "3", None).unwrap(), "3");
}

#[test]
fn an_interval_is_an_answer() {
    let card = one("insulation-resistance", "MΩ", 0, 1, Fold::Last);
    assert_eq!(given(&card, "above 1000", Some("MΩ")).unwrap(), "above 1000 MΩ");
    assert_eq!(given(&card, "at least 1 GΩ", None).unwrap(), "at least 1000 MΩ");
}

#[test]
fn an_interval_decides_where_it_can() {
    let mut b = Build::new();
    let reading = b.reading("insulation", "insulation-resistance", "MΩ", 0);
    let enough = dwell_quantity::Band::at_least(exact("1000000"));
    let limit = b.limit("insulation-resistance", "MΩ", enough, None);
    b.measure(&[reading], 1, Fold::Last);
    let judge = b.judge(&[(reading, limit)], false, &[]);
    b.also(judge, dwell_card::graph::Way::In);
    b.add(Act::Restore);
    let card = b.finish();
    let words = |text: &str| played(&card, text).report().readings[0].as_left.words().unwrap();
    assert_eq!(words("above 1000 MΩ"), "in band");
    assert_eq!(words("above 0.5 MΩ"), "no reading");
    assert_eq!(words("below 0.5 MΩ"), "LOW by 0.5 MΩ");
    assert_eq!(words("x"), "no reading");
}

#[test]
fn no_reading_can_be_typed() {
    let card = one("length", "mm", 2, 1, Fold::Last);
    for text in ["no reading", " No Reading ", "not readable"] {
        assert_eq!(given(&card, text, None).unwrap(), "no reading");
    }
}

#[test]
fn several_values_become_one() {
    let take = |fold| measured(&played(&one("frequency", "Hz", 0, 3, fold), "62 Hz;63 Hz;61 Hz")).shown;
    assert_eq!(take(Fold::Mean), "62 Hz");
    assert_eq!(take(Fold::Highest), "63 Hz");
    assert_eq!(take(Fold::Lowest), "61 Hz");
    assert_eq!(take(Fold::Spread), "2 Hz");
    assert_eq!(take(Fold::Sum), "186 Hz");
    assert_eq!(take(Fold::Last), "61 Hz");
    let missing = played(&one("frequency", "Hz", 0, 3, Fold::Mean), "62 Hz;x;61 Hz");
    assert_eq!(measured(&missing).shown, "no reading");
}

#[test]
fn a_mean_is_exact() {
    let session = played(&one("frequency", "Hz", 0, 3, Fold::Mean), "1 Hz;0 Hz;0 Hz");
    assert_eq!(measured(&session).value, Value::Number(Number(exact("1/3"))));
}

#[test]
fn rounds_ask_reading_by_reading() {
    let mut b = Build::new();
    let left = b.reading("left", "length", "mm", 1);
    let right = b.reading("right", "length", "mm", 1);
    b.measure(&[left, right], 2, Fold::Mean);
    b.add(Act::Restore);
    let card = b.finish();
    expect_test::expect![[r#"
        left 1/2 -> 1 mm
        right 1/2 -> 2 mm
        left 2/2 -> 3 mm
        right 2/2 -> 4 mm
        = passed
    "#]]
    .assert_eq(&dialogue(&card, "1 mm;2 mm;3 mm;4 mm"));
}

#[test]
fn what_the_text_does_not_believe_is_asked_again() {
    let mut card = one("length", "mm", 1, 1, Fold::Last);
    let Act::Measure(measure) = &mut card.nodes[1].act else { panic!() };
    measure.expected = Some(Range::from(&band("0.01", "0.05")));
    let refused = given(&card, "6", Some("mm")).unwrap_err();
    assert!(refused.starts_with("6 mm cannot be right, a value here lies in 10.0 .. 50.0 mm"), "{refused}");
    assert_eq!(given(&card, "10", Some("mm")).unwrap(), "10.0 mm");
    assert_eq!(given(&card, "no reading", None).unwrap(), "no reading");
}

#[test]
fn a_value_that_the_quantity_cannot_have_is_asked_again() {
    let mut card = one("length", "mm", 1, 1, Fold::Last);
    card.readings[0].possible = Some(Range::from(&band("0", "0.05")));
    let refused = given(&card, "-0.1", Some("mm")).unwrap_err();
    assert!(refused.starts_with("-0.1 mm cannot be right, a value here lies in 0.0 .. 50.0 mm"), "{refused}");
    assert_eq!(given(&card, "0", Some("mm")).unwrap(), "0.0 mm");
}

/// "Below 0.05 mm" of what is never below 0 is 0 to 0.05 mm: it is in band, and shown as it was read.
#[test]
fn an_interval_ends_where_nothing_more_is_possible() {
    let length = |low: &str| Range::from(&dwell_quantity::Band::at_least(low.parse().unwrap()));
    let limit = |card: &mut Card| {
        let end = |text: &str| Some((Formula::Value(Num(text.parse().unwrap())), true));
        let test = Test::Within {
            value: Formula::Latest(0),
            low: end("0"),
            high: end("0.0001"),
            written: "0 .. 0.1 mm".into(),
        };
        let condition = Condition { tests: vec![test], says: "gap".into(), ..Condition::default() };
        card.nodes[2].act =
            Act::Judge(Judge { condition, adjusting: false, settles: vec![2], proves: Vec::new() });
        let next = card.nodes[2].next.remove(&Way::Then).unwrap();
        card.nodes[2].next = [(Way::In, next), (Way::Out, next)].into();
    };
    let came = |possible: Option<Range>, kind: &str, unit: &str, text: &str| {
        let mut b = Build::new();
        let gap = b.reading("gap", kind, unit, 2);
        b.measure(&[gap], 1, Fold::Last);
        b.add(Act::Note { text: "Judged.".into() });
        b.add(Act::Restore);
        let mut card = b.finish();
        card.readings[gap].possible = possible;
        limit(&mut card);
        let mut session = begun(&card);
        let answer = Answer::Value { text: text.into(), unit: Some(unit.into()) };
        session.answer(answer, NOW).map_err(|refusal| refusal.to_string())?;
        let judged = session.events().iter().find_map(|event| match &event.what {
            What::Judged(judged) => Some((judged.holds, judged.tests[0].value.clone().unwrap())),
            _ => None,
        });
        Ok::<_, String>(judged.unwrap())
    };
    let said = |holds, words: &str| Ok((holds, words.to_owned()));
    assert_eq!(came(Some(length("0")), "length", "mm", "below 0.05"), said(true, "below 0.05 mm"));
    assert_eq!(came(None, "length", "mm", "below 0.05"), said(false, "below 0.05 mm"));
    assert_eq!(came(Some(length("0")), "length", "mm", "below 0.2"), said(false, "below 0.20 mm"));
    // By nature: no resistance is below 0.
    assert_eq!(came(None, "resistance", "Ω", "at most 0.0001"), said(true, "at most 0.0001 Ω"));
    let refused = came(None, "resistance", "Ω", "below -2").unwrap_err();
    assert!(
        refused.starts_with("below -2 Ω cannot be right, a value here lies in at least 0.00 Ω"),
        "{refused}"
    );
}

#[test]
fn the_samples_of_a_spread_may_be_what_the_spread_itself_cannot() {
    let mut card = one("length", "mm", 2, 2, Fold::Spread);
    card.readings[0].possible = Some(Range::from(&band("0", "0.05")));
    // A dial gauge goes to both sides of its zero: -0.03 to 0.04 mm is a run-out of 0.07 mm.
    let first = |card: &Card| {
        let answer = Answer::Value { text: "-0.03".into(), unit: Some("mm".into()) };
        begun(card).answer(answer, NOW).map(|_| ()).map_err(|refusal| refusal.to_string())
    };
    assert_eq!(first(&card), Ok(()));
    let Act::Measure(measure) = &mut card.nodes[1].act else { panic!() };
    measure.take = Fold::Mean;
    let refused = first(&card).unwrap_err();
    assert!(refused.starts_with("-0.03 mm cannot be right"), "{refused}");
}

#[test]
fn an_answer_of_another_sort_is_refused() {
    let card = one("length", "mm", 1, 1, Fold::Last);
    let refused = begun(&card).answer(Answer::Done, NOW).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "that does not answer what is asked: give a value such as `12 mm`, or `no reading`"
    );
}

#[test]
fn a_time_must_be_one() {
    let card = one("length", "mm", 1, 1, Fold::Last);
    let refused = begun(&card).answer(Answer::NoReading, "12.4.2031 9:05").unwrap_err();
    assert!(refused.to_string().contains("RFC 3339"));
    assert!(Session::start(card, &[], "yesterday").is_err());
}
