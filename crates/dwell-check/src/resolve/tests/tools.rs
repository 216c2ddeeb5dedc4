//! What tools can do.

use super::shown;
use crate::model::{Ability, Model};
use crate::texts::{sound, troubled};
use expect_test::expect;

fn ability<'a>(model: &'a Model, tool: &str) -> &'a Ability {
    let tool = model.items.iter().find(|item| item.name == tool).and_then(|item| item.tool.as_ref()).unwrap();
    tool.measures.iter().chain(&tool.sets).next().unwrap()
}

fn told(line: &str) -> String {
    let model = sound(&format!("tool x: clip-on {{ {line} }}\n"));
    let ability = ability(&model, "x");
    let part =
        |part: &Option<dwell_quantity::Exact>| part.as_ref().map_or("none".to_owned(), ToString::to_string);
    format!(
        "{} = {} in {}; step {}; ± {} and ± {} of the reading; {} decimals",
        ability.written,
        shown(&ability.range),
        ability.unit,
        part(&ability.resolution),
        part(&ability.accuracy),
        part(&ability.accuracy_of_reading),
        ability.decimals
    )
}

#[test]
fn ranges_steps_and_accuracies() {
    expect!["10 .. 500 Hz = [10, 500] in Hz; step 0.1; ± 0.5 and ± none of the reading; 1 decimals"]
        .assert_eq(&told("measures frequency 10 .. 500 Hz resolution 0.1 Hz accuracy ± 0.5 Hz"));
    expect!["-600 .. 600 V = [-600, 600] in V; step 0.01; ± 0.02 and ± 0.002 of the reading; 2 decimals"]
        .assert_eq(&told(
            "measures dc-voltage -600 .. 600 V resolution 0.01 V accuracy ± 0.2 % of reading ± 2 digits",
        ));
    expect![
        "0 .. 40 in = [0, 1.016] in in; step 0.00079375; ± 0.000396875 and ± none of the reading; 5 decimals"
    ]
    .assert_eq(&told("measures length 0 .. 40 in resolution 1/32 in accuracy ± 1/64 in"));
    expect!["-30 .. 150 °C = [243.15, 423.15] in °C; step 0.5; ± 1 and ± none of the reading; 1 decimals"]
        .assert_eq(&told("measures temperature -30 .. 150 °C resolution 0.5 °C accuracy ± 1 °C"));
    expect!["500 V = [500, 500] in V; step none; ± none and ± none of the reading; 0 decimals"]
        .assert_eq(&told("sets dc-voltage 500 V"));
    expect!["0 .. 10 %vol = [0, 0.1] in %vol; step 0.0001; ± 0.0002 and ± none of the reading; 2 decimals"]
        .assert_eq(&told("measures co-content 0 .. 10 %vol resolution 0.01 %vol accuracy ± 0.02 %vol"));
}

#[test]
fn what_a_tool_cannot_be() {
    expect![[r#"
        KindMismatch { place: merle.dwell:2 «0.1 Hz», other: None, first: "0.1 Hz (frequency)", second: "length", why: None }
        NotExecutable { place: merle.dwell:3 «2», what: "digits of what? the tool has no resolution here", help: "add the smallest step that is shown: `resolution …`" }
        BandReversed { place: merle.dwell:4 «9 .. 1 mm», low: "9 mm", high: "1 mm" }
        NotFound { place: merle.dwell:5 «legnth», name: "legnth", what: "a quantity", near: ["length"], elsewhere: None }
        UnitMissing { place: merle.dwell:6 «0.2», number: "0.2", units: ["%"] }
    "#]]
    .assert_eq(&troubled(
        r#"tool x: clip-on {
    measures length 0 .. 10 mm resolution 0.1 Hz
    measures dc-voltage 0 .. 10 V accuracy ± 2 digits
    measures length 9 .. 1 mm
    measures legnth 0 .. 10 mm
    measures mass 0 .. 10 kg accuracy ± 0.2 of reading
}
"#,
    ));
}
