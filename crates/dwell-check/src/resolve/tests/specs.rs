//! Specs, tables, series, and which variants they leave out.

use super::{shown, spec};
use crate::texts::{sound, troubled};
use expect_test::expect;

#[test]
fn what_is_set_must_pass_the_check() {
    expect![[r#"
        AdjustOutsideCheck { place: merle.dwell:1 «63 ± 6 Hz», check: merle.dwell:1 «62 ± 6 Hz», adjust_written: "63 ± 6 Hz", check_written: "62 ± 6 Hz", by: "1 Hz above 68 Hz", cut: Some(("57 .. 68 Hz", Band { low: Some(Bound { value: 57, closed: true }), high: Some(Bound { value: 68, closed: true }) }, false)) }
    "#]]
    .assert_eq(&troubled("spec x: frequency { check 62 ± 6 Hz  adjust 63 ± 6 Hz }\n"));
    expect![[r#"
        AdjustOutsideCheck { place: merle.dwell:1 «12 V ± 6 %», check: merle.dwell:1 «12 V ± 5 %», adjust_written: "12 V ± 6 %", check_written: "12 V ± 5 %", by: "0.12 V below 11.4 V and 0.12 V above 12.6 V", cut: Some(("12 V ± 5 %", Band { low: Some(Bound { value: 11.4, closed: true }), high: Some(Bound { value: 12.6, closed: true }) }, true)) }
    "#]]
    .assert_eq(&troubled("spec x: dc-voltage { check 12 V ± 5 %  adjust 12 V ± 6 % }\n"));
    expect![[r#"
        AdjustOutsideCheck { place: merle.dwell:1 «at most 2 mm», check: merle.dwell:1 «below 2 mm», adjust_written: "at most 2 mm", check_written: "below 2 mm", by: "2 mm itself", cut: Some(("below 2 mm", Band { low: None, high: Some(Bound { value: 0.002, closed: false }) }, true)) }
    "#]]
    .assert_eq(&troubled("spec x: length { check below 2 mm  adjust at most 2 mm }\n"));
    expect![[r#"
        AdjustOutsideCheck { place: merle.dwell:1 «at least 1 mm», check: merle.dwell:1 «1 .. 2 mm», adjust_written: "at least 1 mm", check_written: "1 .. 2 mm", by: "any amount above 2 mm", cut: Some(("1 .. 2 mm", Band { low: Some(Bound { value: 0.001, closed: true }), high: Some(Bound { value: 0.002, closed: true }) }, true)) }
    "#]]
    .assert_eq(&troubled("spec x: length { check 1 .. 2 mm  adjust at least 1 mm }\n"));
    sound("spec x: frequency { check 62 ± 6 Hz  adjust 62 ± 6 Hz }\n");
    sound("spec x: gauge-pressure { check 1 .. 2 bar  adjust 100 .. 200 kPa }\n");
}

#[test]
fn only_bands_that_can_hold_together_are_compared() {
    let text = |wheel: &str| {
        format!(
            "variant wheel-sort: steel, alloy\nitem hose-a: hose\nspec x: torque {{\n    check 152 ± 10 N·m when wheel-sort is steel\n    \
             check 132 ± 8 N·m when wheel-sort is alloy\n    adjust 135 ± 4 N·m when wheel-sort is {wheel}\n}}\n\
             spec y: gauge-pressure {{\n    check 36 ± 2 psi when hose-a is connected\n    check 43 ± 2 psi when hose-a is plugged\n    \
             adjust 43 ± 1 psi when hose-a is plugged\n}}\n"
        )
    };
    sound(&text("alloy"));
    expect![[r#"
        AdjustOutsideCheck { place: merle.dwell:6 «135 ± 4 N·m», check: merle.dwell:4 «152 ± 10 N·m», adjust_written: "135 ± 4 N·m", check_written: "152 ± 10 N·m", by: "11 N·m below 142 N·m", cut: None }
    "#]]
    .assert_eq(&troubled(&text("steel")));
}

#[test]
fn a_spec_says_what_to_check() {
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «x», what: "the spec `x` does not say what to check against", help: "add the band: `check …`" }
    "#]]
    .assert_eq(&troubled("spec x: torque { source \"Invented.\" }\n"));
    expect![[r#"
        KindMismatch { place: merle.dwell:1 «5 mm», other: None, first: "5 mm (length or total-length)", second: "turn-angle", why: None }
    "#]]
    .assert_eq(&troubled("spec x: torque { stages 30 ± 2 N·m then turn 90 ° ± 5 mm }\n"));
}

#[test]
fn stages_are_torques_and_turns() {
    let model = sound("spec x: torque { stages 30 ± 2 N·m then turn 90 ± 5 ° then turn 60 .. 70 ° }\n");
    let stages: Vec<String> = model.specs[0]
        .stages
        .iter()
        .map(|stage| format!("{}: {}", stage.kind.name(), stage.limit.written))
        .collect();
    assert_eq!(stages, ["torque: 30 ± 2 N·m", "turn-angle: 90 ± 5 °", "turn-angle: 60 .. 70 °"]);
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «x», what: "the spec `x` has stages and a band beside them", help: "make two specs of it: one with the stages, one with the band" }
    "#]]
        .assert_eq(&troubled("spec x: torque { stages 30 ± 2 N·m then 40 ± 2 N·m  check 40 ± 2 N·m }\n"));
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «stages 40 ± 2 N·m», what: "the stages of `x` are said twice", help: "write all stages in one line, with `then` between them" }
    "#]].assert_eq(&troubled("spec x: torque { stages 30 ± 2 N·m  stages 40 ± 2 N·m }\n"));
    expect![[r#"
        KindMismatch { place: merle.dwell:1 «stages 30 ± 2 mm then turn 90 ± 5 °», other: Some(merle.dwell:1 «x»), first: "`x` (length)", second: "a tightening in stages (torque)", why: None }
    "#]].assert_eq(&troubled("spec x: length { stages 30 ± 2 mm then turn 90 ± 5 ° }\n"));
    expect![[r#"
        BareNominal { place: merle.dwell:1 «90 °», shown: "90 °", counted: false }
    "#]]
    .assert_eq(&troubled("spec x: torque { stages 30 ± 2 N·m then turn 90 ° }\n"));
    expect![[r#"
        BandReversed { place: merle.dwell:1 «32 .. 28 N·m», low: "32 N·m", high: "28 N·m" }
    "#]]
    .assert_eq(&troubled("spec x: torque { stages 32 .. 28 N·m then turn 90 ± 5 ° }\n"));
}

#[test]
fn tables() {
    let model = sound(
        r#"variant climate: usual, hot
quantity case-temperature: temperature
table regulated: electric-potential by case-temperature {
    rows when climate is usual {
        at -20 °C: 14.2 .. 15.2 V
        at 20 °C: 13.8 .. 14.7 V
    }
    between rows linear
    outside rows refuse
    not adjustable
}
table play: free-play by length {
    at most 16 in: at most 2 in
    at 18 in: at most 2 1/4 in
    between rows refuse
    outside rows refuse
}
"#,
    );
    let regulated = spec(&model, "regulated").rows.as_ref().unwrap();
    assert!(regulated.linear);
    assert_eq!(shown(&regulated.groups[0].1[0].0.band), "[253.15, 253.15]");
    assert_eq!(shown(&regulated.groups[0].1[1].1.band), "[13.8, 14.7]");
    assert!(spec(&model, "regulated").not_adjustable.is_some());
    let play = spec(&model, "play").rows.as_ref().unwrap();
    assert_eq!(shown(&play.groups[0].1[0].0.band), "(, 0.4064]");
}

#[test]
fn a_table_says_what_holds_between_and_outside() {
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «x», what: "the table `x` does not say what holds between its rows", help: "add `between rows linear` or `between rows refuse`" }
        NotExecutable { place: merle.dwell:1 «x», what: "the table `x` does not say what holds outside its rows", help: "add `outside rows refuse`" }
        NotExecutable { place: merle.dwell:2 «at most 3 mm», what: "there is no straight line between a point and a class of values", help: "make it a point, or write `between rows refuse`" }
    "#]]
    .assert_eq(&troubled(
        "table x: length by length { at 2 mm: 1 .. 2 mm }\n\
         table y: length by length { at most 3 mm: 1 .. 2 mm  between rows linear  outside rows refuse }\n",
    ));
}

#[test]
fn series() {
    let model = sound("series shims: length 2.20 .. 3.20 mm steps of 0.02 mm\n");
    assert_eq!(shown(&model.series[0].range.band), "[0.0022, 0.0032]");
    assert_eq!(model.series[0].step.to_string(), "0.00002");
    expect![[r#"
        BadNumber { place: merle.dwell:1 «0 mm», why: "the step from one size to the next must be above zero" }
    "#]]
    .assert_eq(&troubled("series shims: length 2.20 .. 3.20 mm steps of 0 mm\n"));
}
