//! Sampled measurements: which clauses go together, how many values are asked for, what cannot be told of one value.

use crate::check::check;
use crate::texts::Texts;
use dwell_card::Card;
use dwell_card::graph::{Act, Judge, Measure, Test};
use dwell_card::limit::{Fold, Formula};
use expect_test::{Expect, expect};

/// A procedure that measures so, and then does this.
fn text(measure: &str, then: &str) -> String {
    format!(
        r#"tool meter: hand-held "meter" {{ measures dc-voltage -60 .. 60 V resolution 0.01 V accuracy ± 0.01 V }}
tool old-meter: hand-held "old meter" {{ measures dc-voltage -60 .. 60 V accuracy ± 0.01 V }}
spec charging: dc-voltage {{ check 14 ± 0.4 V }}
procedure charge-check "Charge" {{
    step one "One" {{
        measure {measure}
        {then}
    }}
}}"#
    )
}

/// What is found, one line each: message and help.
fn found(measure: &str, then: &str) -> String {
    let text = text(measure, then);
    let checked = check(&["charge.dwell".to_owned()], &Texts(&[("charge.dwell", &text)]));
    let of_samples = checked.findings.iter().filter(|finding| finding.rule != "name-unused");
    let told = of_samples.map(|finding| {
        format!("{}: {}: {}\n", finding.rule, finding.message, finding.help.as_deref().unwrap_or(""))
    });
    told.collect()
}

fn card(measure: &str, then: &str) -> Card {
    let text = text(measure, then);
    let checked = check(&["charge.dwell".to_owned()], &Texts(&[("charge.dwell", &text)]));
    checked.procedures[0].card.clone().unwrap_or_else(|| panic!("{}", found(measure, then)))
}

fn measure_of(card: &Card) -> &Measure {
    let found = card.nodes.iter().find_map(|node| match &node.act {
        Act::Measure(measure) => Some(measure),
        _ => None,
    });
    found.unwrap()
}

const EXPECT: &str = "expect charge meets charging otherwise { end failed }";
const STEADY: &str = "expect charge is steady otherwise { end failed }";

/// How a measurement is taken: times, then the least and the needed number of samples.
fn numbers(clauses: &str, then: &str) -> (u32, Option<(u32, u32)>) {
    let card = card(&format!("charge: dc-voltage with meter {clauses}"), then);
    let measure = measure_of(&card);
    (measure.times, measure.sampling.as_ref().map(|sampling| (sampling.least, sampling.needed)))
}

#[test]
fn so_many_values_are_asked_for() {
    assert_eq!(numbers("", EXPECT), (1, None));
    assert_eq!(numbers("over 20 s", EXPECT), (1, None));
    assert_eq!(numbers("3 times take mean", EXPECT), (3, None));
    assert_eq!(numbers("3 times take mean", STEADY), (3, None));
    assert_eq!(numbers("over 20 s take mean", EXPECT), (1, Some((1, 0))));
    assert_eq!(numbers("over 20 s take mean", STEADY), (1, Some((2, 2))));
    // 20 / 2: with ten the last is at 18 s, one `every` before the end.
    assert_eq!(numbers("over 20 s every 2 s take mean", EXPECT), (1, Some((10, 0))));
    assert_eq!(numbers("after 5 s over 20 s every 2 s take mean", EXPECT), (1, Some((8, 0)))); // 15 / 2
    // Means of 5 s from 5 s on: 0 to 5.25 s in steps of 0.75 s are eight.
    let gas = "every 0.75 s averaging 5 s over at most 90 s until charge meets charging";
    assert_eq!(numbers(gas, EXPECT), (1, Some((8, 0))));
    assert_eq!(numbers("every 10 s 5 times take mean", EXPECT), (1, Some((5, 0))));
    assert_eq!(
        numbers("take spread", "expect charge within 0 ± 1 V otherwise { end failed }"),
        (1, Some((2, 2)))
    );
    let swings = "expect charge is fluctuating within 0.2 V otherwise { end failed }";
    assert_eq!(numbers("over 20 s take mean", swings), (1, Some((3, 3))));
}

#[test]
fn a_count_with_every_is_a_window() {
    let card = card("charge: dc-voltage with meter after 5 s every 10 s 5 times take mean", EXPECT);
    let over = measure_of(&card).over.as_ref().map(|over| over.0.to_string());
    assert_eq!(over.as_deref(), Some("45")); // 5 + 4 * 10
}

#[test]
fn until_stands_on_the_card_and_takes_the_last() {
    let clauses = "after 1 s every 0.5 s over at most 9 s until charge meets charging";
    let card = card(&format!("charge: dc-voltage with meter {clauses}"), EXPECT);
    let measure = measure_of(&card);
    let sampling = measure.sampling.clone().unwrap();
    assert_eq!((measure.take, sampling.at_most, measure.times), (Fold::Last, true, 1));
    let until = sampling.until.unwrap();
    assert_eq!(until.says, "charge meets charging");
    assert!(matches!(until.tests.as_slice(), [Test::Meets { value: Formula::Latest(0), .. }]));
    assert_eq!(
        measure.says,
        "Measure charge with the meter, after 1 s, every 0.5 s, over at most 9 s, until charge meets charging."
    );
}

fn tells(clauses: &str, expected: Expect) {
    expected.assert_eq(&found(&format!("charge: dc-voltage with meter {clauses}"), EXPECT));
}

#[test]
fn clauses_that_do_not_go_together_are_refused() {
    tells(
        "over 20 s until charge meets charging",
        expect![[r#"
            not-executable: nothing ends this measurement if its `until` never holds: say how long at most: `over at most 90 s`
        "#]],
    );
    tells(
        "until charge meets charging",
        expect![[r#"
            not-executable: nothing ends this measurement if its `until` never holds: say how long at most: `over at most 90 s`
        "#]],
    );
    tells(
        "over at most 20 s",
        expect![[r#"
            not-executable: `over at most` ends a measurement early, and nothing says when: add `until …`, or write `over 20 s`
        "#]],
    );
    tells(
        "every 2 s take mean",
        expect![[r#"
            not-executable: nothing says when this measurement ends: add `over 20 s`
        "#]],
    );
    tells(
        "every 2 s over 20 s",
        expect![[r#"
            not-executable: several readings, and nothing says how they become one: add `take mean`, `take highest` or `take lowest`
        "#]],
    );
    tells(
        "averaging 2 s over 20 s take mean",
        expect![[r#"
            not-executable: a mean over time needs to know how far apart its values are: add `every 1 s`, or whatever the tool does
        "#]],
    );
    tells(
        "every 1 s averaging 2 s 5 times take mean",
        expect![[r#"
            not-executable: a number of values and a mean over time or an `until` do not go together: say how long instead of how often: `every 1 s over 20 s`
        "#]],
    );
    tells(
        "every 1 s over 20 s 5 times take mean",
        expect![[r#"
            not-executable: `times` with `every` says how long it takes, and so does `over`: leave one of the three out
        "#]],
    );
    tells(
        "after 20 s every 1 s over 20 s take mean",
        expect![[r#"
            not-executable: the window is over before a value counts: make `over` longer than `after`, `every` and `averaging`; it counts from the beginning
        "#]],
    );
    tells(
        "every 0.001 s over 20 s take mean",
        expect![[r#"
            not-executable: these are more than 5000 values: make `every` longer or `over` shorter
        "#]],
    );
    tells(
        "every 0 s over 20 s take mean",
        expect![[r#"
            not-executable: the time between two values must be longer than nothing: write a time such as `2 s`
        "#]],
    );
    tells(
        "over at most 5 strokes until charge meets charging",
        expect![[r#"
            unit-unknown: `strokes` is no unit that is known here: write the unit as it stands in the table of units
        "#]],
    );
    tells(
        "over at most 9 s until meter is connected",
        expect![[r#"
            not-found: no state of this item is called `connected`: did you mean `off`?
        "#]],
    );
}

#[test]
fn what_one_value_cannot_tell_is_refused() {
    let tells = |measure: &str, then: &str, expected: Expect| expected.assert_eq(&found(measure, then));
    tells(
        "charge: dc-voltage with meter",
        STEADY,
        expect![[r#"
            not-executable: `charge` is measured with one value, and that cannot tell: measure it `over 20 s take mean`, or `3 times take mean`
        "#]],
    );
    let swings = "expect charge is fluctuating within 0.2 V otherwise { end failed }";
    tells(
        "charge: dc-voltage with meter 2 times take mean",
        swings,
        expect![[r#"
            not-executable: `charge` is measured with 2 values, and that cannot tell: measure it `over 20 s take mean`, or `3 times take mean`
        "#]],
    );
    tells(
        "charge: dc-voltage with old-meter 3 times take mean",
        STEADY,
        expect![[r#"
            not-executable: nothing says how much `charge` may move: say it, `within 0.1 V`, or give its tool a `resolution`
        "#]],
    );
    let far = "expect charge is steady within 2 A otherwise { end failed }";
    tells(
        "charge: dc-voltage with meter 3 times take mean",
        far,
        expect![[r#"
            kind-mismatch: 2 A (electric-current, dc-current or ac-current) does not go with charge (dc-voltage): use the quantity that is really read, or state the limit for that one
        "#]],
    );
    let back = "expect charge is steady within -2 V otherwise { end failed }";
    tells(
        "charge: dc-voltage with meter 3 times take mean",
        back,
        expect![[r#"
            not-executable: a movement is not negative: write the amount without its sign
        "#]],
    );
    let both = "expect charge is steady or fluctuating otherwise { end failed }";
    tells(
        "charge: dc-voltage with meter 3 times take mean",
        both,
        expect![[r#"
            not-executable: what drifts is neither steady nor fluctuating: the two are asked one by one: write `charge is steady or charge is fluctuating`
        "#]],
    );
    let computed =
        "let drop = charge - first charge expect drop is steady within 1 V otherwise { end failed }";
    tells(
        "charge: dc-voltage with meter 3 times take mean",
        computed,
        expect![[r#"
            not-executable: `drop` is worked out or read off, it has no samples: ask it of a reading that is measured several times
        "#]],
    );
    let state = "if meter is connected within 2 V { note \"x\" }";
    tells(
        "charge: dc-voltage with meter",
        &format!("{EXPECT} {state}"),
        expect![[r#"
            not-executable: `within` after `is` says how much a reading may move: write it after `is steady` or `is fluctuating`
        "#]],
    );
}

/// The one test of the first judging.
fn judged(card: &Card) -> Test {
    let found = card.nodes.iter().find_map(|node| match &node.act {
        Act::Judge(Judge { condition, .. }) => condition.tests.first().cloned(),
        _ => None,
    });
    found.unwrap()
}

#[test]
fn folds_and_quantifiers_look_at_the_samples_of_a_single_reading() {
    let then = "expect highest of charge within 0 ± 15 V otherwise { end failed }";
    let sampled = card("charge: dc-voltage with meter 3 times take mean", then);
    let Test::Within { value, .. } = judged(&sampled) else { panic!("{:?}", judged(&sampled)) };
    assert_eq!(value, Formula::Samples(Fold::Highest, 0));
    let two = "charge: dc-voltage, rest: dc-voltage with meter every 1 s over 9 s take last";
    let then = "expect any charge meets charging and rest within 0 ± 2 V otherwise { end failed }";
    let Test::Moments { readings, every, condition } = judged(&card(two, then)) else { panic!("no moments") };
    assert_eq!((readings, every, condition.any, condition.tests.len()), (vec![0, 1], false, false, 2));
    let then = "expect every charge meets charging or rest within 0 ± 2 V otherwise { end failed }";
    let Test::Moments { every, condition, .. } = judged(&card(two, then)) else { panic!("no moments") };
    assert_eq!((every, condition.any), (true, true));
    let apart = "measure lone: dc-voltage with meter \
        expect every charge meets charging and lone within 0 ± 2 V otherwise { end failed }";
    expect![[r#"
        reading-unused: `rest` is read, and nothing comes of it: judge it with `expect rest …`, show it in a text as `{rest}`, or leave it out
        not-executable: these have no moments in common: ask `every` and `any` only of readings of one `measure`, and the rest in a condition of its own
    "#]]
    .assert_eq(&found(two, apart));
}

#[test]
fn the_way_of_a_finding_has_samples_that_move_as_it_says() {
    let then = "if charge is not steady within 0.5 V { remove cap } else if charge is fluctuating within 2 V { remove cap } \
                if charge meets charging { note \"x\" }";
    let items = "item cap: removable \"cap\"\n";
    let text = format!("{items}{}", text("charge: dc-voltage with meter over 20 s take mean", then));
    let checked = check(&["charge.dwell".to_owned()], &Texts(&[("charge.dwell", &text)]));
    let ways: Vec<String> = checked
        .findings
        .iter()
        .filter_map(|finding| Some(format!("{}: {:?}", finding.message, finding.witness.as_ref()?.answers)))
        .collect();
    expect![[r#"the cap may still be out at the end: [Value { name: "charge", number: "12.99; 13.50; 14.01", unit: "V" }]"#]].assert_eq(&ways.join("\n"));
}

#[test]
fn a_window_says_its_unit() {
    expect![[r#"
        unit-missing: `20` has no unit: write the unit that is meant: `20 s`, or with `ms`, `µs` or `min`
    "#]]
    .assert_eq(&found("charge: dc-voltage with meter over 20 take mean", EXPECT));
}
