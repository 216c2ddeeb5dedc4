//! When a measurement ends, and what its readings are then; every figure by hand.

use super::super::Samples;
use super::super::ending::{Ended, Series, sampled};
use super::{measure, number, values};
use crate::card::Card;
use crate::graph::{Condition, Measure, Side, Test};
use crate::limit::{Fold, Formula, Reading};
use crate::meaning::{Room, Scene, States, Value, sides};
use crate::number::Num;

/// A card with two readings that are measured, and their difference.
fn card() -> Card {
    let reading = |name: &str, formula: Option<Formula>| {
        let known =
            r#"{"name":"hc","frame":0,"quantity":"dc-voltage","kind":"dc-voltage","unit":"V","decimals":1}"#;
        let known: Reading = serde_json::from_str(known).unwrap();
        Reading { name: name.into(), formula, ..known }
    };
    let difference = Formula::Minus(Box::new(Formula::Latest(0)), Box::new(Formula::Latest(1)));
    let card = r#"{"format":1,"procedure":"gases","title":"Gases","notice":"","axes":[],"slots":[],"hazards":[],
        "readings":[],"questions":[],"limits":[],"tools":[],"frames":[],"steps":[],"counters":[],"nodes":[]}"#;
    let card: Card = serde_json::from_str(card).unwrap();
    Card {
        readings: vec![reading("hc", None), reading("co", None), reading("drop", Some(difference))],
        ..card
    }
}

/// `reading at most high`.
fn at_most(reading: usize, high: &str) -> Test {
    let high = Some((Formula::Value(Num(number(high))), true));
    Test::Within { value: Formula::Latest(reading), low: None, high, written: String::new() }
}

fn all(tests: Vec<Test>) -> Condition {
    Condition { any: false, tests, groups: Vec::new(), says: String::new() }
}

/// Looks at a scene in which the readings have these samples, and are the last of them.
fn with<R>(card: &Card, known: &[Vec<Value>], look: impl FnOnce(&Scene<'_>) -> R) -> R {
    let last = |reading: usize, first: bool| {
        let samples = known.get(reading).filter(|_| !first);
        samples.and_then(|samples| samples.last()).cloned().unwrap_or(Value::Missing)
    };
    let samples = |reading: usize| Samples::Counted(known.get(reading).cloned().unwrap_or_default());
    look(&Scene {
        card,
        chosen: &[],
        slots: &[],
        read: &last,
        samples: &samples,
        answer: &|_| States::default(),
        judged: None,
    })
}

/// How it ends: moments, whether by `until`, and each reading with its count and flaw.
fn ended(measure: &Measure, times: &str, samples: &[&str]) -> String {
    let samples: Vec<Vec<Value>> = samples.iter().map(|text| values(text)).collect();
    let count = samples.iter().map(Vec::len).max().unwrap_or_default();
    let times = match times {
        "" => vec![None; count],
        _ => times.split_whitespace().map(|time| Some(number(time))).collect(),
    };
    let series = Series { times, values: samples };
    let Ended { moments, until, readings } = with(&card(), &[], |scene| sampled(measure, &series, scene));
    let mut words = vec![format!("{moments}{}", if until { " until" } else { "" })];
    for reading in readings {
        let value = reading.value.exact().map_or("none".to_owned(), ToString::to_string);
        let window = reading.window.map(|(from, to)| format!(" from {from} to {to}")).unwrap_or_default();
        let flaw = reading.flaw.map(|flaw| format!(" ({flaw})")).unwrap_or_default();
        words.push(format!("{value} of {}{window}{flaw}", reading.samples.len()));
    }
    words.join("; ")
}

/// A measurement of both readings until both are at most 3.
fn until_three(clauses: &str) -> Measure {
    let mut measure = measure(Fold::Last, clauses);
    measure.readings = vec![0, 1];
    if let Some(sampling) = &mut measure.sampling {
        sampling.until = Some(all(vec![at_most(0, "3"), at_most(1, "3")]));
    }
    measure
}

#[test]
fn without_until_all_in_the_window_count() {
    let mean = measure(Fold::Mean, "every=2 over=6");
    assert_eq!(ended(&mean, "0 2 4 6", &["1 2 3 4"]), "4; 2.5 of 4 from 0 to 6");
    assert_eq!(ended(&mean, "0 2 4 6 8", &["1 2 3 4 99"]), "5; 2.5 of 4 from 0 to 6");
    assert_eq!(ended(&mean, "", &["1 2 3 4"]), "4; 2.5 of 4 from 0 to 6");
    assert_eq!(ended(&measure(Fold::Mean, "over=6"), "", &["5"]), "1; 5 of 1");
}

#[test]
fn samples_that_end_too_early_are_no_reading() {
    let mean = measure(Fold::Mean, "every=2 over=6");
    assert_eq!(ended(&mean, "0 2 4", &["1 2 3"]), "3; 2 of 3 from 0 to 4"); // 6 - 2 = 4 is enough
    assert_eq!(
        ended(&mean, "0 2 3.9", &["1 2 3"]),
        "3; none of 0 from 0 to 3.9 (the samples end at 3.9 s, before 6 s)"
    );
    assert_eq!(ended(&mean, "", &["1"]), "1; none of 0 from 0 to 0 (the samples end at 0 s, before 6 s)");
    // Without `every` a tenth of the window may be missing: 60 - 6 = 54.
    let loose = measure(Fold::Mean, "over=60");
    assert_eq!(ended(&loose, "0 54", &["1 3"]), "2; 2 of 2 from 0 to 54");
    assert_eq!(
        ended(&loose, "0 53", &["1 3"]),
        "2; none of 0 from 0 to 53 (the samples end at 53 s, before 60 s)"
    );
}

#[test]
fn too_few_that_count_are_no_reading() {
    let spread = measure(Fold::Spread, "after=10 over=20");
    assert_eq!(
        ended(&spread, "1 2 19", &["1 2 3"]),
        "3; none of 0 from 19 to 19 (1 of the samples count, and 2 must)"
    );
    assert_eq!(ended(&spread, "1 11 19", &["1 2 3"]), "3; 1 of 2 from 11 to 19");
    let asked = measure(Fold::Mean, "needed=3");
    assert_eq!(ended(&asked, "", &["1 2"]), "2; none of 0 (2 of the samples count, and 3 must)");
    assert_eq!(ended(&asked, "", &[""]), "0; none of 0 (0 of the samples count, and 3 must)");
}

#[test]
fn until_ends_at_the_first_moment_where_it_holds() {
    let both = until_three("every=1 over=9 most");
    // hc is at most 3 from 1 s on, co from 2 s on.
    assert_eq!(
        ended(&both, "0 1 2 3", &["5 3 2 9", "5 5 3 9"]),
        "3 until; 2 of 3 from 0 to 2; 3 of 3 from 0 to 2"
    );
    // Each alone holds once, never both at one moment; at 9 s it is what it is.
    assert_eq!(
        ended(&both, "0 2 4 6 8 9", &["1 9 1 9 1 9", "9 1 9 1 9 1"]),
        "6; 9 of 6 from 0 to 9; 1 of 6 from 0 to 9"
    );
    // What comes later does not count, not even a gap or a sample that was not readable.
    assert_eq!(
        ended(&both, "0 1 50", &["5 3 -", "5 3 -"]),
        "2 until; 3 of 2 from 0 to 1; 3 of 2 from 0 to 1"
    );
    // After a gap it cannot hold any more.
    assert_eq!(
        ended(&both, "0 3.1 4", &["5 3 3", "5 3 3"]),
        "3; none of 0 from 0 to 4 (gap of 3.1 s at 0 s); none of 0 from 0 to 4 (gap of 3.1 s at 0 s)"
    );
    // Samples with times that end before either is over decide nothing.
    assert_eq!(
        ended(&both, "0 1", &["5 5", "5 5"]),
        "2; none of 0 from 0 to 1 (the samples end at 1 s, before 9 s); \
         none of 0 from 0 to 1 (the samples end at 1 s, before 9 s)"
    );
    // Nothing at all of one of the two.
    assert_eq!(
        ended(&both, "0 8", &["5 5", ""]),
        "2; none of 0 from 0 to 8 (gap of 8 s at 0 s); none of 0 (0 of the samples count, and 1 must)"
    );
}

#[test]
fn until_sees_only_what_was_before() {
    // The mean up to each moment: 9, (9 + 3) / 2 = 6, (9 + 3 + 0) / 3 = 4, (9 + 3 + 0 + 0) / 4 = 3.
    let mut mean = until_three("every=1 over=9 most");
    (mean.take, mean.readings) = (Fold::Mean, vec![0]);
    mean.sampling.as_mut().unwrap().until = Some(all(vec![at_most(0, "3")]));
    assert_eq!(ended(&mean, "0 1 2 3 4", &["9 3 0 0 0"]), "4 until; 3 of 4 from 0 to 3");
    // Not before `after`, although it holds there: 2, then 5, then 3.
    let mut late = mean.clone();
    late.take = Fold::Last;
    late.sampling.as_mut().unwrap().after = Some(Num(number("2")));
    assert_eq!(ended(&late, "1 2 3", &["2 5 3"]), "3 until; 3 of 2 from 2 to 3");
    // A computed reading follows: 5 - 1 = 4, then 5 - 2 = 3.
    let mut computed = until_three("every=1 over=9 most");
    computed.sampling.as_mut().unwrap().until = Some(all(vec![at_most(2, "3")]));
    assert_eq!(
        ended(&computed, "0 1 2", &["5 5 5", "1 2 3"]),
        "2 until; 5 of 2 from 0 to 1; 2 of 2 from 0 to 1"
    );
    // Steady so far needs two: 5 and 5.
    let mut still = mean;
    let test = Test::Steady { reading: 0, not: false, within: Some(Num(number("1"))) };
    still.sampling.as_mut().unwrap().until = Some(all(vec![test]));
    assert_eq!(ended(&still, "0 1 2", &["5 5 9"]), "2 until; 5 of 2 from 0 to 1");
}

/// How a test comes out at the vehicle, with these samples of both readings.
fn came(test: &Test, samples: [&str; 2]) -> Side {
    let known: Vec<Vec<Value>> = samples.iter().map(|text| values(text)).collect();
    let all = with(&card(), &known, |scene| sides(test, scene));
    assert_eq!(all.len(), 1, "{all:?}");
    all[0]
}

#[test]
fn moments_are_shared_by_all_readings() {
    let moments = |every| Test::Moments {
        readings: vec![0, 1],
        every,
        condition: Box::new(all(vec![at_most(0, "3"), at_most(1, "3")])),
    };
    assert_eq!(came(&moments(false), ["1 9 1", "9 1 9"]), Side::Other); // never both at once
    assert_eq!(came(&moments(false), ["1 3 9", "9 3 9"]), Side::In);
    assert_eq!(came(&moments(true), ["1 3 2", "3 3 1"]), Side::In);
    assert_eq!(came(&moments(true), ["1 3 2", "3 3 4"]), Side::Other);
    assert_eq!(came(&moments(true), ["", "1 2"]), Side::NoReading);
    // An interval across the limit decides nothing, unless another moment does.
    assert_eq!(came(&moments(true), ["1 >2", "1 1"]), Side::NoReading);
    assert_eq!(came(&moments(true), ["9 >2", "1 1"]), Side::Other);
    assert_eq!(came(&moments(false), ["9 >2", "1 1"]), Side::NoReading);
    assert_eq!(came(&moments(false), ["1 >2", "1 1"]), Side::In);
}

#[test]
fn samples_are_folded_in_formulas() {
    let at_most = |fold, high: &str| Test::Within {
        value: Formula::Samples(fold, 0),
        low: None,
        high: Some((Formula::Value(Num(number(high))), true)),
        written: String::new(),
    };
    assert_eq!(came(&at_most(Fold::Highest, "4"), ["4 2 1", ""]), Side::In);
    assert_eq!(came(&at_most(Fold::Highest, "3.9"), ["4 2 1", ""]), Side::High);
    assert_eq!(came(&at_most(Fold::Spread, "3"), ["4 2 1", ""]), Side::In);
    assert_eq!(came(&at_most(Fold::Spread, "3"), ["4", ""]), Side::NoReading);
    assert_eq!(came(&at_most(Fold::Spread, "3"), ["", ""]), Side::NoReading);
}

#[test]
fn steady_and_fluctuating_can_be_asked_both_ways() {
    let limit = Some(Num(number("1")));
    let steady = |not| Test::Steady { reading: 0, not, within: limit.clone() };
    let swings = |not| Test::Fluctuating { reading: 0, not, within: limit.clone() };
    assert_eq!(came(&steady(false), ["4 5 4", ""]), Side::In);
    assert_eq!(came(&steady(true), ["4 5 4", ""]), Side::Other);
    assert_eq!(came(&steady(false), ["4 6 4", ""]), Side::Other);
    assert_eq!(came(&swings(false), ["4 6 4", ""]), Side::In);
    assert_eq!(came(&swings(true), ["4 6 4", ""]), Side::Other);
    for not in [false, true] {
        assert_eq!(came(&steady(not), ["4", ""]), Side::NoReading);
        assert_eq!(came(&swings(not), ["4 6", ""]), Side::NoReading);
    }
}

#[test]
fn on_paper_nothing_is_known_of_samples() {
    let unknown = |missing| {
        let room = Room { missing, ..Room::number(dwell_quantity::Band::all()) };
        let read = |_, _| Value::Somewhere(room.clone());
        let test = Test::Steady { reading: 0, not: false, within: None };
        let card = card();
        sides(
            &test,
            &Scene {
                card: &card,
                chosen: &[],
                slots: &[],
                read: &read,
                samples: &|_| Samples::Unknown,
                answer: &|_| States::default(),
                judged: None,
            },
        )
    };
    assert_eq!(unknown(true), [Side::In, Side::Other, Side::NoReading]);
    assert_eq!(unknown(false), [Side::In, Side::Other]);
}
