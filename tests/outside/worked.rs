//! Computations of the workshop against worked examples: what a formula comes to in its unit.

use super::{decimals, exact, rows, unit};
use crate::one::One;
use dwell_card::graph::Act;
use dwell_card::meaning::{Samples, Value, formula_value};
use dwell_check::check::check;
use dwell_quantity::{Exact, Kind, Rounding, Unit, from_base};
use dwell_record::What;
use dwell_run::{Answer, Prompt, Session};

#[test]
fn formulas_come_to_what_the_worked_examples_say() {
    for row in &rows(include_str!("data/worked.csv")) {
        let (kind, formula, result) = (row.get("kind"), row.get("formula"), row.get("result"));
        let unit = if row.get("unit").is_empty() { Unit::ONE } else { unit(row.get("unit")) };
        let value = computed(kind, formula).unwrap_or_else(|| panic!("{formula} has no value"));
        let value = from_base(&value, unit, Kind::named(kind).unwrap());
        assert_eq!(value.rounded(decimals(result), Rounding::HalfEven), exact(result), "{formula}");
    }
}

/// No voltage with the resistor in place is no reading, and no crash (UN R100).
#[test]
fn a_division_by_nothing_has_no_value() {
    assert_eq!(computed("resistance", "100 kΩ * (380 V / 0 V - 1)"), None);
}

/// A torque wrench with an adapter: the worked examples of NAVEDTRA 14315 and FAA AC 43.13-1B chapter 7, and what both say of an
/// adapter at a right angle. The last row is their formula with the cosine of 45 ° from a table.
#[test]
fn a_wrench_with_an_adapter_is_set_as_the_worked_examples_say() {
    let rows = [
        ("20 lbf·ft", "14 in", "3 in", "16.47"),
        ("90 N·m", "300 mm", "25 mm", "83.08"),
        ("100 lbf·in", "12 in", "6 in", "66.67"),
        ("100 lbf·in", "12 in", "-2 in", "120.00"),
        ("90 N·m", "300 mm", "25 mm at 45 °", "84.99"),
        ("90 N·m", "300 mm", "25 mm at 90 °", "90.00"),
    ];
    for (torque, wrench, adapter, set) in rows {
        let symbol = torque.split_once(' ').unwrap().1;
        let text = format!(
            "item nut: fastener \"nut\"
spec tight: torque {{ check {torque} .. 200 {symbol} }}
tool wrench: hand-held \"wrench\" {{ sets torque 0 .. 300 {symbol}  reaches {wrench} }}
tool arm: hand-held \"arm\" {{ extends {adapter} }}
procedure p \"P\" {{
    step s \"S\" {{
        loosen nut
        tighten nut to tight with wrench, arm
    }}
    restore {{ tighten nut to tight with wrench, arm }}
}}
"
        );
        let checked = check(&["set.dwell".to_owned()], &One(&text));
        let card = checked.procedures.first().and_then(|compiled| compiled.card.as_ref()).unwrap();
        let tightened = card.nodes.iter().find_map(|node| match &node.act {
            Act::Work(work) if work.limit.is_some() => Some(work),
            _ => None,
        });
        let tightened = tightened.unwrap();
        let band = card.limits[tightened.limit.unwrap()].check[0].band.band();
        let setting =
            tightened.leverage.as_ref().map_or(band.clone(), |leverage| leverage.setting(&band)).low.unwrap();
        let value = from_base(&setting.value, unit(symbol), Kind::named("torque").unwrap());
        assert_eq!(value.rounded(2, Rounding::HalfEven), exact(set), "{torque} {wrench} {adapter}");
    }
}

/// What a formula comes to, in base units.
fn computed(kind: &str, formula: &str) -> Option<Exact> {
    let text = format!(
        "procedure sum \"Sum\" {{\n    step all \"All\" {{\n        let result: {kind} = {formula}\n        note \"{{result}}\"\n    }}\n}}\n"
    );
    let checked = check(&["sum.dwell".to_owned()], &One(&text));
    let wrong: Vec<&String> = checked.findings.iter().map(|finding| &finding.message).collect();
    assert!(wrong.is_empty(), "{formula}: {wrong:?}");
    let card = checked.procedures.first().and_then(|compiled| compiled.card.as_ref()).unwrap();
    let reading = card.readings.iter().find(|reading| reading.name == "result").unwrap();
    let formula = reading.formula.as_ref().unwrap();
    formula_value(formula, &|_, _| Value::Missing, &|_| Samples::Unknown).about().cloned()
}

/// What the technician sees and what the record keeps: the torque at the nut, and the setting of the wrench rounded inwards.
#[test]
fn the_setting_is_shown_and_recorded_beside_the_torque() {
    let text = "item nut: fastener \"nut\"
spec tight: torque { check 90 ± 5 N·m }
tool wrench: hand-held \"wrench\" { sets torque 5 .. 200 N·m resolution 0.1 N·m  reaches 300 mm }
tool arm: hand-held \"arm\" { extends 25 mm }
procedure p \"P\" {
    needs { nut is loose }
    step s \"S\" { tighten nut to tight with wrench, arm }
}
";
    let now = "2031-04-12T09:05:00+02:00";
    let checked = check(&["set.dwell".to_owned()], &One(text));
    let card = checked.procedures[0].card.clone().unwrap();
    let mut session = Session::start(card, &[], now).unwrap();
    let (band, set) = ("90 ± 5 N·m", "78.5 .. 87.6 N·m at the wrench");
    let mut seen = None;
    while session.result().is_none() {
        let answer = match session.ask() {
            Prompt::Confirm(confirm) => {
                seen = confirm.setting.clone();
                Answer::Done
            }
            _ => Answer::Yes,
        };
        session.answer(answer, now).unwrap();
    }
    assert_eq!(seen.as_deref(), Some(set));
    let kept = session.events().iter().find_map(|event| match &event.what {
        What::Done(done) => Some((done.band.as_deref(), done.setting.as_deref())),
        _ => None,
    });
    assert_eq!(kept, Some((Some(band), Some(set))));
}

/// A limit that is worked out and then set: the torque and the drag on top, 1000 lbf·in and 6 lbf·in, that are 83.8 lbf·ft (NASA
/// ASRS 123429); and 20 lbf·ft at a wrench of 14 in with an adapter of 3 in, set to 16.47 lbf·ft (NAVEDTRA 14315). Both are
/// shown rounded inwards in the steps of the wrench, and recorded as shown.
#[test]
fn a_limit_that_is_worked_out_is_set_as_the_worked_examples_say() {
    let by_hand = [
        (
            "drag 6 lbf·in",
            "drag + 1000 lbf·in .. drag + 1100 lbf·in",
            "",
            "1006.0 .. 1106.0 lbf·in (83.9 .. 92.1 lbf·ft)",
            None,
        ),
        (
            "drag 0 lbf·in",
            "drag + 240 lbf·in .. drag + 264 lbf·in",
            ", arm",
            "240.0 .. 264.0 lbf·in (20.0 .. 22.0 lbf·ft)",
            Some("16.5 .. 18.1 lbf·ft at the wrench"),
        ),
    ];
    for (drag, limit, adapter, band, setting) in by_hand {
        let text = format!(
            "item nut: fastener \"nut\"
tool dial: hand-held \"dial wrench\" {{ measures torque 0 .. 20 lbf·in resolution 0.1 lbf·in accuracy ± 0.1 lbf·in }}
tool wrench: hand-held \"wrench\" {{ sets torque 5 .. 250 lbf·ft resolution 0.1 lbf·ft  reaches 14 in }}
tool arm: hand-held \"arm\" {{ extends 3 in }}
procedure p \"P\" {{
    needs {{ nut is loose }}
    step s \"S\" {{
        measure drag: torque with dial
        let nut-limit: torque = {limit}
        tighten nut to nut-limit with wrench{adapter}
    }}
}}
"
        );
        let (shown, kept, ends) = set(&text, Some(drag.trim_start_matches("drag ")));
        assert_eq!(shown, Some((Some(band.to_owned()), setting.map(str::to_owned))), "{limit}");
        assert_eq!(kept, shown, "{limit}");
        assert_eq!(ends, "passed");
        // Without the drag there is nothing to set to, and nothing is set.
        assert_eq!(set(&text, None), (None, None, "unfinished".to_owned()));
    }
}

/// What is worked out, as the technician sees it and as it is recorded: the band and the setting of the wrench.
type Set = Option<(Option<String>, Option<String>)>;

/// Goes through a procedure that asks for one reading: what is shown, what is recorded, how it ends.
fn set(text: &str, drag: Option<&str>) -> (Set, Set, String) {
    let now = "2031-04-12T09:05:00+02:00";
    let checked = check(&["set.dwell".to_owned()], &One(text));
    let wrong: Vec<&String> = checked.findings.iter().map(|finding| &finding.message).collect();
    let card = checked.procedures[0].card.clone().unwrap_or_else(|| panic!("{wrong:?}"));
    let mut session = Session::start(card, &[], now).unwrap();
    let mut seen = None;
    while session.result().is_none() {
        let answer = match (session.ask(), drag.and_then(|drag| drag.split_once(' '))) {
            (Prompt::Confirm(confirm), _) => {
                seen = Some((confirm.band.clone(), confirm.setting.clone()));
                Answer::Done
            }
            (Prompt::Reading(_), Some((text, unit))) => {
                Answer::Value { text: text.to_owned(), unit: Some(unit.to_owned()) }
            }
            (Prompt::Reading(_), None) => Answer::NoReading,
            _ => Answer::Yes,
        };
        session.answer(answer, now).unwrap();
    }
    let kept = session.events().iter().find_map(|event| match &event.what {
        What::Done(done) => Some((done.band.clone(), done.setting.clone())),
        _ => None,
    });
    (seen, kept, session.result().unwrap().to_string())
}
