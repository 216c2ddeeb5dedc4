//! What rests on a tool, event by event.

use super::super::event::*;
use super::super::trace::{How, Known, Wanted, trace};
use super::super::{Event, Number, Side, Value, What};

/// Node 7 works with the wrench; test 0 of node 9 rests on the readings 0 and 1.
struct Card;

impl Known for Card {
    fn tools(&self, node: usize) -> Vec<String> {
        if node == 7 { vec!["torque-wrench".into()] } else { Vec::new() }
    }
    fn rests_on(&self, node: usize, _: usize) -> Vec<usize> {
        if node == 9 { vec![0, 1] } else { Vec::new() }
    }
}

fn name(number: usize) -> ReadingName {
    ReadingName { number, name: format!("gap-{number}"), place: None, procedure: "belt".into() }
}

fn read(number: usize, with: Option<&str>, first: bool) -> What {
    What::Measured(Box::new(Measured {
        reading: name(number),
        as_found: first,
        quantity: "length".into(),
        unit: "mm".into(),
        value: Value::Number(Number("1.5".parse().unwrap())),
        shown: "1.5 mm".into(),
        samples: Vec::new(),
        times: Vec::new(),
        sampled: None,
        take: None,
        tool: Some("feeler gauge".into()),
        tool_number: with.map(str::to_owned),
        source: None,
    }))
}

fn judged(reading: Option<usize>, side: Side) -> What {
    let tested = Tested {
        name: "the gaps".into(),
        reading: reading.map(name),
        band: Some("1 .. 2 mm".into()),
        written: None,
        guarded: None,
        value: Some("1.5 mm".into()),
        side,
        off: None,
        uncertain: None,
    };
    What::Judged(Judged { says: String::new(), adjusting: false, holds: true, tests: vec![tested] })
}

fn set(tools: &[&str]) -> What {
    What::Done(Done {
        doing: Doing::Work,
        says: "Tighten it.".into(),
        text: None,
        band: None,
        setting: None,
        tools: tools.iter().map(|&tool| tool.to_owned()).collect(),
    })
}

fn events(all: Vec<(&str, Option<usize>, What)>) -> Vec<Event> {
    let one = |(seq, (day, node, what)): (u64, (&str, Option<usize>, What))| Event {
        seq,
        at: format!("{day}T09:00:00Z"),
        node,
        what,
    };
    (1..).zip(all).map(one).collect()
}

fn wanted(since: &str, until: Option<&str>) -> Wanted {
    Wanted {
        number: "fg-1".into(),
        serves: ["torque-wrench".to_owned()].into(),
        since: since.into(),
        until: until.map(str::to_owned),
    }
}

#[test]
fn a_value_has_its_decision_and_what_was_worked_out_from_it_too() {
    let events = events(vec![
        ("2031-01-01", None, read(0, Some("FG-1"), true)),
        ("2031-01-01", Some(8), judged(Some(0), Side::Low)),
        ("2031-01-01", None, read(1, Some("FG-2"), true)),
        ("2031-01-01", Some(9), judged(None, Side::In)),
        ("2031-01-01", Some(8), judged(Some(1), Side::In)),
        ("2031-01-02", None, read(0, Some("FG-1"), false)),
    ]);
    let all = trace(&events, &wanted("2031-01-01", None), &Card);
    let told: Vec<_> = all.iter().map(|one| (one.seq, one.how, one.stands(), one.verdict())).collect();
    assert_eq!(
        told,
        [
            (1, How::Measured, "as found", "LOW".to_owned()),
            (4, How::WorkedOut, "", "in band".to_owned()),
            (6, How::Measured, "as left", "not judged".to_owned()),
        ]
    );
}

#[test]
fn the_days_at_both_ends_count() {
    let day = |day| (day, None, read(0, Some("FG-1"), false));
    let events = events(vec![day("2031-01-01"), day("2031-01-02"), day("2031-01-03"), day("2031-01-04")]);
    let all = trace(&events, &wanted("2031-01-02", Some("2031-01-03")), &Card);
    assert_eq!(all.iter().map(|one| one.seq).collect::<Vec<_>>(), [2, 3]);
}

#[test]
fn what_nobody_noted_is_not_known_and_what_was_put_right_counts_no_more() {
    let wrong = Corrected {
        to: 1,
        reading: name(0),
        was: "1.5 mm".into(),
        by: By::default(),
        why: "slip".into(),
        reopened: Vec::new(),
    };
    let events = events(vec![
        ("2031-01-01", Some(7), read(0, None, true)),
        ("2031-01-01", Some(7), set(&[])),
        ("2031-01-01", Some(7), set(&["TW-9"])),
        ("2031-01-01", Some(7), set(&["FG-1"])),
        ("2031-01-01", None, What::Corrected(Box::new(wrong))),
        ("2031-01-01", Some(6), read(0, None, true)),
    ]);
    let all = trace(&events, &wanted("2031-01-01", None), &Card);
    let told: Vec<_> = all.iter().map(|one| (one.seq, one.how, one.counts, one.as_found)).collect();
    // What was set stays set.
    assert_eq!(
        told,
        [(1, How::Unknown, false, false), (2, How::Unknown, true, false), (4, How::Set, true, false)]
    );
}

#[test]
fn what_was_put_right_after_the_end_stands_beside_what_it_replaces() {
    let What::Measured(now) = read(0, Some("FG-1"), true) else { panic!("a value") };
    let tested = |side| match judged(Some(0), side) {
        What::Judged(judged) => judged.tests,
        _ => Vec::new(),
    };
    let right = PutRight {
        event: 1,
        reading: name(0),
        was: "1.5 mm".into(),
        now,
        decided: tested(Side::In),
        decides: tested(Side::High),
        result: None,
        by: By::default(),
        why: "misread".into(),
    };
    let events = events(vec![
        ("2031-01-01", None, read(0, Some("FG-1"), true)),
        ("2031-01-01", Some(8), judged(Some(0), Side::In)),
        ("2031-02-01", None, What::PutRight(Box::new(right))),
    ]);
    let all = trace(&events, &wanted("2031-01-01", None), &Card);
    let told: Vec<_> = all.iter().map(|one| (one.counts, one.verdict(), one.put_right)).collect();
    assert_eq!(told, [(false, "in band".to_owned(), None), (true, "HIGH".to_owned(), Some(3))]);
}
