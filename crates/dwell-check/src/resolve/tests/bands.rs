//! Every form of a band, in base units.

use super::{shown, spec};
use crate::texts::{sound, troubled};
use expect_test::expect;

/// The check band of `spec x: KIND { check BAND }`, in base units, with how it is written and its decimals.
fn read(kind: &str, band: &str) -> String {
    let model = sound(&format!("spec x: {kind} {{ check {band} }}\n"));
    let limit = &spec(&model, "x").check[0].limit;
    let target = limit.target.as_ref().map(|target| format!(" target {target}")).unwrap_or_default();
    format!("{}{target} = {} in {}, {}", limit.written, shown(&limit.band), limit.unit, limit.decimals)
}

fn bad(kind: &str, band: &str) -> String {
    troubled(&format!("spec x: {kind} {{ check {band} }}\n"))
}

#[test]
fn two_ended() {
    expect!["820 .. 880 rpm = [41/3, 44/3] in rpm, 0"].assert_eq(&read("rotational-speed", "820 .. 880 rpm"));
    expect!["36 psi .. 3 bar"]
        .assert_eq(read("gauge-pressure", "36 psi .. 3 bar").split(" =").next().unwrap());
    expect!["62 ± 6 Hz = [56, 68] in Hz, 0"].assert_eq(&read("frequency", "62 ± 6 Hz"));
    expect!["62.0 Hz ± 6 = [56, 68] in Hz, 1"].assert_eq(&read("frequency", "62.0 Hz ± 6"));
    expect!["0 ± 12 V = [-12, 12] in V, 0"].assert_eq(&read("dc-voltage", "within 0 ± 12 V"));
}

#[test]
fn a_share_is_one_of_the_nominal_value_and_points_where_the_quantity_is_in_per_cent() {
    expect!["12 V ± 5 % = [11.4, 12.6] in V, 1"].assert_eq(&read("dc-voltage", "12 V ± 5 %"));
    expect!["-30 V ± 10 % = [-33, -27] in V, 0"].assert_eq(&read("dc-voltage", "-30 V ± 10 %"));
    expect!["50 % ± 5 % = [0.45, 0.55] in %, 0"].assert_eq(&read("duty-ratio", "50 % ± 5 %"));
    expect!["50 ± 5 % = [0.45, 0.55] in %, 0"].assert_eq(&read("duty-ratio", "50 ± 5 %"));
    expect!["0.5 ± 0.3 %vol = [0.002, 0.008] in %vol, 1"].assert_eq(&read("co-content", "0.5 ± 0.3 %vol"));
    expect!["1.00 ± 3 % = [0.97, 1.03] in , 2"].assert_eq(&read("lambda", "1.00 ± 3 %"));
    expect![[r#"
        UnitMissing { place: merle.dwell:1 «12», number: "12", units: ["V", "kV", "mV", "µV"] }
    "#]]
    .assert_eq(&bad("dc-voltage", "12 ± 5 %"));
}

#[test]
fn uneven() {
    // ISO 286-2: 25 H7 is 25 +0.021 -0 mm (from memory of the table).
    for band in ["25 +0.021 -0 mm", "25 mm +0.021 -0", "25 mm +0.021 mm -0 mm"] {
        let found = read("length", band);
        assert!(found.contains("= [0.025, 0.025021] in mm, 3"), "{found}");
    }
    expect!["12 V +10 -5 % = [11.4, 13.2] in V, 1"].assert_eq(&read("dc-voltage", "12 V +10 -5 %"));
}

#[test]
fn one_sided() {
    expect!["at least 2 mm = [0.002, ) in mm, 0"].assert_eq(&read("length", "at least 2 mm"));
    expect!["at most 2 1/4 in = (, 0.05715] in in, 2"].assert_eq(&read("length", "at most 2 1/4 in"));
    expect!["above 0 V = (0, ) in V, 0"].assert_eq(&read("dc-voltage", "above 0 V"));
    expect!["below 50 ppm = (, 0.00005) in ppm, 0"].assert_eq(&read("hc-content", "below 50 ppm"));
    expect!["exactly 5 = [5, 5] in , 0"].assert_eq(&read("number", "exactly 5"));
}

#[test]
fn a_one_sided_limit_on_a_signed_quantity_is_refused_where_the_wrong_sign_would_pass() {
    expect![[r#"
        OneSided { place: merle.dwell:1 «12 V», quantity: "dc-voltage", suggestion: "within 0 ± 12 V" }
    "#]]
    .assert_eq(&bad("dc-voltage", "below 12 V"));
    expect![[r#"
        OneSided { place: merle.dwell:1 «-0.5 °», quantity: "angle", suggestion: "within 0 ± 0.5 °" }
    "#]]
    .assert_eq(&bad("angle", "at least -0.5 °"));
    // After top dead centre counts as below zero: at least 5 ° after is at most minus 5 °.
    expect!["at least 5 °ATDC = (, -1/72] in °ATDC, 0"].assert_eq(&read("crank-angle", "at least 5 °ATDC"));
    expect!["at least 12.4 V = [12.4, ) in V, 1"].assert_eq(&read("dc-voltage", "at least 12.4 V"));
    let spanned = "quantity ripple: dc-voltage { never below 0 V }\nspec x: ripple { check at most 0.5 V }\n";
    assert_eq!(shown(&spec(&sound(spanned), "x").check[0].limit.band), "(, 0.5]");
    let inherited = "quantity ripple: dc-voltage { never below 0 V }\nquantity hum: ripple { never above 9 V }\n\
                     spec x: hum { check at most 0.5 V }\n";
    assert!(spec(&sound(inherited), "x").check.len() == 1);
}

#[test]
fn angles_in_parts_keep_their_sign() {
    expect!["-0° 30′ ± 0° 15′ = [-1/480, -1/1440] in °, 2"].assert_eq(&read("angle", "-0° 30′ ± 0° 15′"));
    expect!["0 .. 0° 10′ = [0, 1/2160] in °, 4"].assert_eq(&read("angle", "0 .. 0° 10′"));
    expect!["5 .. 10 °ATDC = [-1/36, -1/72] in °ATDC, 0"].assert_eq(&read("crank-angle", "5 .. 10 °ATDC"));
}

#[test]
fn a_temperature_is_a_point_and_its_tolerance_is_none() {
    expect!["85 ± 5 °C = [353.15, 363.15] in °C, 0"].assert_eq(&read("temperature", "85 ± 5 °C"));
    expect!["185 °F ± 5 K"].assert_eq(read("temperature", "185 °F ± 5 K").split(" =").next().unwrap());
    let both = read("temperature", "185 °F ± 9 °F");
    assert!(both.contains("[353.15, 363.15]"), "{both}");
}

#[test]
fn a_target_and_a_second_unit() {
    expect!["785 .. 815 rpm target 40/3 = [157/12, 163/12] in rpm, 0"]
        .assert_eq(&read("engine-speed", "785 .. 815 rpm target 800 rpm"));
    expect!["36 ± 2 psi"]
        .assert_eq(read("gauge-pressure", "36 ± 2 psi (235 .. 262 kPa)").split(" =").next().unwrap());
    expect![[r#"
        KindMismatch { place: merle.dwell:1 «235 N», other: None, first: "235 N (force)", second: "gauge-pressure", why: None }
    "#]]
    .assert_eq(&bad("gauge-pressure", "36 ± 2 psi (235 N .. 262 N)"));
}

#[test]
fn kinds_that_must_not_meet() {
    expect![[r#"
        KindMismatch { place: merle.dwell:1 «62 J», other: None, first: "62 J (energy)", second: "torque", why: Some("torque and energy are both newtons times metres, but a bolt at rest under torque does no work") }
    "#]]
    .assert_eq(&bad("torque", "at most 62 J"));
    expect![[r#"
        KindMismatch { place: merle.dwell:2 «36 psia», other: Some(merle.dwell:1 «rail-pressure»), first: "36 psia (absolute-pressure)", second: "`rail-pressure` (gauge-pressure)", why: Some("a gauge pressure counts from the air around it and an absolute pressure from a perfect vacuum: they differ by about one atmosphere") }
    "#]]
    .assert_eq(&troubled("quantity rail-pressure: gauge-pressure\nspec x: rail-pressure { check 36 psia ± 2 psi }\n"));
}

#[test]
fn what_is_no_band() {
    expect![[r#"
        BandReversed { place: merle.dwell:1 «880 .. 820 rpm», low: "880 rpm", high: "820 rpm" }
    "#]]
    .assert_eq(&bad("rotational-speed", "880 .. 820 rpm"));
    expect![[r#"
        BandReversed { place: merle.dwell:1 «10 .. 5 °ATDC», low: "10 °ATDC", high: "5 °ATDC" }
    "#]]
    .assert_eq(&bad("crank-angle", "10 .. 5 °ATDC"));
    expect![[r#"
        UnitMissing { place: merle.dwell:1 «820», number: "820", units: ["rpm", "r/s", "°/s"] }
    "#]]
    .assert_eq(&bad("rotational-speed", "820 .. 880"));
    expect![[r#"
        BareNominal { place: merle.dwell:1 «62 Hz», shown: "62 Hz", counted: false }
    "#]]
    .assert_eq(&bad("frequency", "62 Hz"));
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «exactly 5 mm», what: "length is measured, not counted: `exactly` can hardly ever be met", help: "give it a tolerance: `5 mm ± …`" }
    "#]]
    .assert_eq(&bad("length", "exactly 5 mm"));
    expect![[r#"
        BadNumber { place: merle.dwell:1 «5.5», why: "what is counted comes in whole numbers: no count can meet this" }
    "#]]
    .assert_eq(&bad("number", "exactly 5.5"));
    expect![[r#"
        NotExecutable { place: merle.dwell:1 «dry», what: "a limit here must be a number, not a formula", help: "write the number with its unit; work a limit out in the `expect` that needs it" }
    "#]]
    .assert_eq(&bad("length", "at most dry"));
}

#[test]
fn what_the_reading_of_the_text_has_told_is_not_told_again() {
    assert_eq!(bad("frequency", "62 ± 6 Hertzz"), "");
    assert_eq!(bad("torque", "62 ± 6 ft-lb"), "");
    assert_eq!(bad("frequency", "62,5 ± 6 Hz"), "");
}

#[test]
fn the_second_unit_of_a_one_sided_limit_is_its_number() {
    let found = read("gauge-pressure", "at least 690 kPa (100.1 psi)");
    assert!(found.starts_with("at least 690 kPa = [690000, )"), "{found}");
}
