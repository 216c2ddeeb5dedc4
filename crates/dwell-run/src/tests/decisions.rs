//! Decisions with the tool's accuracy, with tables, with variants, with steadiness.

use super::build::*;
use crate::{Refusal, Session};
use dwell_card::graph::{Act, Condition, Judge, Test, Way};
use dwell_card::limit::{Fold, Formula, Limit, Row, RowGroup};
use dwell_card::number::Range;
use dwell_card::vehicle::Guard;
use dwell_card::{Axis, Card};
use dwell_quantity::Band;
use dwell_record::event::Tested;
use dwell_record::{Outcome, Verdict, What};

fn tested(session: &Session) -> Tested {
    let found = session.events().iter().rev().find_map(|event| match &event.what {
        What::Judged(judged) => judged.tests.first().cloned(),
        _ => None,
    });
    found.unwrap()
}

/// A length in a band of 10 mm ± 2 mm, measured with a tool of ± 0.5 mm.
fn gauged(guarded: bool) -> Card {
    let mut b = Build::new();
    b.card.guarded = guarded;
    let tool = b.tool(ability("length", "mm", Some("0.0001"), Some("0.0005")));
    let reading = b.reading("height", "length", "mm", 1);
    b.card.readings[reading].tool = Some(tool);
    let limit = b.limit("length", "mm", band("0.008", "0.012"), None);
    b.measure(&[reading], 1, Fold::Last);
    let judge = b.judge(&[(reading, limit)], false, &[]);
    b.also(judge, Way::In);
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn simple_acceptance_takes_the_band_as_it_stands() {
    assert_eq!(played(&gauged(false), "12 mm").result(), Some(Outcome::Passed));
    assert_eq!(played(&gauged(false), "12.01 mm").result(), Some(Outcome::Failed));
}

#[test]
fn guarded_acceptance_draws_the_band_in() {
    // ILAC-G8:09/2019, 4.2.2, guard band w = U: the band of 8 to 12 mm becomes 8.5 to 11.5 mm.
    assert_eq!(played(&gauged(true), "11.5 mm").result(), Some(Outcome::Passed));
    let session = played(&gauged(true), "11.6 mm");
    assert_eq!(session.result(), Some(Outcome::Failed));
    let tested = tested(&session);
    assert_eq!(tested.words(), "HIGH by 0.1 mm");
    assert_eq!(tested.band.as_deref(), Some("8 .. 12 mm"));
    assert_eq!(tested.guarded.as_deref(), Some("8.5 .. 11.5 mm"));
}

#[test]
fn the_record_has_the_verdict_and_the_probability() {
    // ILAC-G8:09/2019, 4.2.3: the four outcomes with w = U = 0.5 mm.
    let verdict = |text: &str| tested(&played(&gauged(false), text)).uncertain.unwrap();
    assert_eq!(verdict("11.5 mm").verdict, Verdict::Pass);
    assert_eq!(verdict("11.6 mm").verdict, Verdict::ConditionalPass);
    assert_eq!(verdict("12.5 mm").verdict, Verdict::ConditionalFail);
    assert_eq!(verdict("12.6 mm").verdict, Verdict::Fail);
    // JCGM 106, normal model with u = U/2 = 0.25 mm: on the limit one half; one U inside, two u, is Φ(2) = 0.97725 (table of the
    // normal distribution).
    assert_eq!(verdict("12 mm").conformance, "0.5000");
    assert_eq!(verdict("11.5 mm").conformance, "0.9772");
    assert_eq!(verdict("12.5 mm").conformance, "0.0228");
    assert_eq!(verdict("10 mm").conformance, "above 0.9999");
    assert_eq!(verdict("20 mm").conformance, "below 0.0001");
    assert_eq!(verdict("12 mm").uncertainty, "0.5 mm");
}

#[test]
fn without_an_accuracy_nothing_is_said_of_probabilities() {
    let mut card = gauged(false);
    card.tools[0].measures[0].accuracy = None;
    assert_eq!(tested(&played(&card, "12 mm")).uncertain, None);
}

/// A residual pressure looked up by temperature: points at 20 °C and 40 °C.
fn table(linear: bool) -> Card {
    let mut b = Build::new();
    let warm = b.reading("warm", "temperature", "°C", 0);
    let length = b.reading("stretch", "length", "mm", 1);
    let row = |at: &str, low: &str, high: &str| Row {
        key: Range::from(&Band::exactly(exact(at))),
        band: Range::from(&band(low, high)),
        written: String::new(),
    };
    // Base units: K and m. 20 °C is 293.15 K, 40 °C is 313.15 K.
    let rows = vec![row("293.15", "0.010", "0.020"), row("313.15", "0.020", "0.030")];
    b.card.limits.push(Limit {
        name: "stretch-by-temperature".into(),
        kind: "length".into(),
        unit: "mm".into(),
        decimals: 0,
        check: Vec::new(),
        adjust: Vec::new(),
        not_adjustable: false,
        source: None,
        condition: None,
        withdrawn: None,
        rows: vec![RowGroup { when: Vec::new(), rows }],
        linear,
    });
    b.measure(&[warm, length], 1, Fold::Last);
    let test = Test::Meets {
        value: Formula::Latest(length),
        limit: 0,
        adjusting: false,
        misses: false,
        at: Some(Formula::Latest(warm)),
    };
    let condition = Condition { tests: vec![test], says: "stretch fits".into(), ..Condition::default() };
    let settles = vec![b.card.nodes.len()];
    let judge = b.add(Act::Judge(Judge { condition, adjusting: false, settles, proves: Vec::new() }));
    b.loose = vec![(judge, Way::Out), (judge, Way::In)];
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn a_table_is_read_on_its_points_and_between_them_where_it_says_so() {
    let words = |card: &Card, text: &str| {
        let tested = tested(&played(card, text));
        format!("{}, {}", tested.band.clone().unwrap_or_default(), tested.words())
    };
    assert_eq!(words(&table(true), "20 °C;20 mm"), "10 .. 20 mm, in band");
    assert_eq!(words(&table(true), "30 °C;15 mm"), "15 .. 25 mm, in band");
    assert_eq!(words(&table(true), "30 °C;14.9 mm"), "15 .. 25 mm, LOW by 0.1 mm");
    assert_eq!(words(&table(true), "41 °C;25 mm"), ", no reading");
    assert_eq!(words(&table(false), "40 °C;30.5 mm"), "20 .. 30 mm, HIGH by 0.5 mm");
    assert_eq!(words(&table(false), "30 °C;20 mm"), ", no reading");
}

#[test]
fn steady_is_what_the_tool_cannot_tell_apart() {
    let card = |times| {
        let mut b = Build::new();
        let tool = b.tool(ability("length", "mm", Some("0.0001"), None));
        let reading = b.reading("height", "length", "mm", 1);
        b.card.readings[reading].tool = Some(tool);
        b.measure(&[reading], times, Fold::Mean);
        let tests = vec![Test::Steady { reading, not: false, within: None }];
        let condition = Condition { tests, says: "it is steady".into(), ..Condition::default() };
        let settles = vec![b.card.nodes.len()];
        let judge = b.add(Act::Judge(Judge { condition, adjusting: false, settles, proves: Vec::new() }));
        b.loose = vec![(judge, Way::Out), (judge, Way::In)];
        b.add(Act::Restore);
        b.finish()
    };
    assert_eq!(played(&card(2), "10.0 mm;10.1 mm").result(), Some(Outcome::Passed));
    assert_eq!(played(&card(2), "10.0 mm;10.2 mm").result(), Some(Outcome::Failed));
    assert_eq!(tested(&played(&card(1), "10 mm")).words(), "no reading");
    assert_eq!(tested(&played(&card(2), "10 mm;x")).words(), "no reading");
}

/// Two engine families with a band each.
fn families() -> Card {
    let mut card = gauged(false);
    card.axes.push(Axis { name: "engine-family".into(), values: vec!["k9".into(), "k9h".into()] });
    let mut second = card.limits[0].check[0].clone();
    second.band = Range::from(&band("0.020", "0.021"));
    second.when = vec![Guard::Variant { axis: 0, values: vec![1] }];
    card.limits[0].check[0].when = vec![Guard::Variant { axis: 0, values: vec![0] }];
    card.limits[0].check.push(second);
    card
}

fn with(value: &str) -> Vec<(String, String)> {
    vec![("engine-family".into(), value.into())]
}

#[test]
fn the_variant_chooses_the_band() {
    for (value, result) in [("k9", Outcome::Passed), ("k9h", Outcome::Failed)] {
        let mut session = Session::start(families(), &with(value), NOW).unwrap();
        let crate::Prompt::Reading(reading) = session.ask() else { panic!() };
        assert_eq!(reading.bands, [if value == "k9" { "8 .. 12 mm" } else { "20 .. 21 mm" }]);
        session.answer(answer("10 mm"), NOW).unwrap();
        assert_eq!(session.result(), Some(result));
    }
}

#[test]
fn a_variant_must_be_known() {
    let start =
        |variants: &[(String, String)]| Session::start(families(), variants, NOW).unwrap_err().to_string();
    assert!(start(&[]).contains("give engine-family as k9 or k9h"));
    assert!(start(&with("k8")).contains("not written for engine-family k8, only for k9 or k9h"));
    let twice = [with("k9"), with("k9h")].concat();
    assert!(start(&twice).contains("given twice"));
    let other = Session::start(families(), &[("engine".into(), "k9".into())], NOW);
    assert!(matches!(other, Err(Refusal::NoSuchVariant { .. })));
    let mut card = families();
    card.axes[0].values.truncate(1);
    assert!(Session::start(card, &[], NOW).is_ok());
}

#[test]
fn a_proof_is_never_asked_for_and_counts_once_it_is_made() {
    let mut b = Build::new();
    let system = b.slot("cooling system", &["unknown", "relieved"]);
    b.card.slots[system].proved = vec![1];
    let pressure = b.reading("residual", "gauge-pressure", "kPa", 0);
    let limit = b.limit("gauge-pressure", "kPa", band("0", "2000"), None);
    b.measure(&[pressure], 1, Fold::Last);
    let judge = b.judge(&[(pressure, limit)], false, &[]);
    let Act::Judge(known) = &mut b.card.nodes[judge].act else { panic!() };
    known.proves =
        vec![dwell_card::vehicle::Move { slot: system, from: vec![0, 1], to: 1, when: Vec::new() }];
    b.also(judge, Way::In);
    let required = dwell_card::vehicle::Required { slot: system, states: vec![1], when: Vec::new() };
    let need = b.add(Act::Need { required, says: "The cooling system is relieved".into(), proved: true });
    b.at(need, Way::No).end(dwell_card::graph::Outcome::Unfinished);
    b.also(need, Way::Yes);
    b.add(Act::Restore);
    let card = b.finish();
    let proved = played(&card, "1 kPa");
    assert!(proved.trace().contains(&(need, Way::Yes)));
    let open = played(&card, "40 kPa");
    assert!(open.trace().contains(&(need, Way::No)));
    assert_eq!(open.result(), Some(Outcome::Unfinished));
}

/// A height, a way that is chosen by whether it misses its limit, and then the same limit asked for.
fn forked() -> Card {
    let mut b = Build::new();
    let reading = b.reading("height", "length", "mm", 1);
    let limit = b.limit("length", "mm", band("0.008", "0.012"), None);
    b.measure(&[reading], 1, Fold::Last);
    let value = Formula::Latest(reading);
    let test = Test::Meets { value, limit, adjusting: false, misses: true, at: None };
    let condition = Condition { tests: vec![test], says: "height misses it".into(), ..Condition::default() };
    let branch = b.add(Act::Branch { condition });
    b.at(branch, Way::Yes).end(dwell_card::graph::Outcome::Failed);
    b.also(branch, Way::No).also(branch, Way::NoReading);
    let judge = b.judge(&[(reading, limit)], false, &[]);
    b.also(judge, Way::In);
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn a_way_that_is_chosen_by_a_limit_is_a_verdict_and_is_noted_once() {
    let verdicts = |text: &str| {
        let session = played(&forked(), text);
        let all = session.events().iter().filter_map(|event| match &event.what {
            What::Judged(judged) => Some((judged.says.clone(), judged.holds, judged.tests[0].words())),
            _ => None,
        });
        (all.collect::<Vec<_>>(), session.result().unwrap())
    };
    let says = "height misses it".to_owned();
    let (low, result) = verdicts("7.5 mm");
    assert_eq!((&low[0], result), (&(says.clone(), true, "LOW by 0.5 mm".to_owned()), Outcome::Failed));
    let (good, result) = verdicts("10 mm");
    // What is asked for afterwards is a decision of its own: only another choice by the same value would be left out.
    assert_eq!(good[0], (says, false, "in band".to_owned()));
    assert_eq!((good.len(), result), (2, Outcome::Passed));
}

#[test]
fn that_a_value_lies_outside_as_it_should_is_not_told_as_in_band() {
    let mut card = gauged(false);
    for node in &mut card.nodes {
        if let Act::Judge(judge) = &mut node.act
            && let Test::Meets { misses, .. } = &mut judge.condition.tests[0]
        {
            *misses = true;
            judge.condition.says = "height misses it".into();
        }
    }
    let outside = tested(&played(&card, "13 mm"));
    assert_eq!((outside.name.as_str(), outside.verdict().as_str()), ("height misses it", "yes"));
    assert_eq!((outside.reading, outside.band), (None, None));
    assert_eq!(tested(&played(&card, "10 mm")).verdict(), "no");
}
