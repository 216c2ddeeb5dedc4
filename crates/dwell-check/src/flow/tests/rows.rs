//! Work and readings at each place, formulas whose readings may be missing, and tables.

use super::{clean, finds};
use expect_test::expect;

const WHEELS: &str = r#"positions wheel: left, right
item nut: fastener at each wheel "nut" { tighten moves play }
item cap: removable at each wheel "cap"
quantity play: length at each wheel { never below 0 mm }
spec right-play: play { check at most 1 mm  adjust at most 0.5 mm }
"#;

fn wheels(rest: &str) -> String {
    format!("{WHEELS}{rest}")
}

#[test]
fn each_place_is_put_back_for_itself() {
    clean(&wheels(
        r#"procedure p "P" {
    step a "A" {
        for each wheel {
            remove cap
            measure play with gauge
            expect play meets right-play
            otherwise {
                adjust play to right-play up to 3 times by {
                    loosen nut
                    tighten nut to 20 ± 2 N·m with wrench
                }
                otherwise { end failed "Worn." }
            }
            refit cap
        }
    }
    restore {
        tighten nut to 20 ± 2 N·m at each wheel with wrench
        refit cap at each wheel
    }
}"#,
    ));
}

#[test]
fn one_place_that_is_forgotten_is_named() {
    finds(
        &wheels(
            r#"procedure p "P" {
    step a "A" {
        for each wheel { remove cap }
        refit cap at left
    }
    restore { refit cap at left }
}"#,
        ),
        expect![[r#"
            8 not-restored: the cap (right) may still be out at the end
                This happens on every way through.
        "#]],
    );
}

#[test]
fn a_place_that_is_passed_over_is_not_measured() {
    finds(
        &wheels(
            r#"procedure p "P" {
    step a "A" {
        measure play with gauge at each wheel
        for each wheel where play above 1 mm {
            loosen nut
            tighten nut to 20 ± 2 N·m with wrench
        }
        expect every play meets right-play
        otherwise { end failed "Worn." }
    }
    restore { tighten nut to 20 ± 2 N·m at each wheel with wrench }
}"#,
        ),
        expect![[r#"
            13 stale-reading: play is not what it was when it was measured, and this decides by it
                This happens on every way through.
        "#]],
    );
}

#[test]
fn work_at_one_place_leaves_the_reading_of_the_other() {
    clean(&wheels(
        r#"procedure p "P" {
    step a "A" {
        measure play with gauge at each wheel
        loosen nut at left
        tighten nut to 20 ± 2 N·m at left with wrench
        expect play at right at most 1 mm
        otherwise { end failed "Worn." }
    }
    restore { tighten nut to 20 ± 2 N·m at left with wrench }
}"#,
    ));
}

#[test]
fn a_formula_without_one_of_its_readings_has_no_value() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure before: length with gauge
        measure behind: length with gauge
        let drop = before - behind
        expect drop within -1 .. 1 mm
        otherwise low { end failed "Low." }
        otherwise high { end failed "High." }
    }
}"#,
        expect![[r#"
            6 out-unhandled: nothing says what to do when “drop within -1 .. 1 mm” does not hold
                This happens when before is 0.00 mm (not decided) and behind is 0.00 mm (not decided).
        "#]],
    );
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure before: length with gauge
        measure behind: length with gauge
        let drop = before - behind
        expect drop within -1 .. 1 mm
        otherwise low { end failed "Low." }
        otherwise high { end failed "High." }
        otherwise no reading { end unfinished "Nothing shown." }
    }
}"#,
    );
}

#[test]
fn what_is_only_read_on_one_way_may_be_missing() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        ask there "Is there a second shaft?"
        measure before: length with gauge
        if there is yes { measure behind: length with gauge }
        let drop = before - behind
        expect drop within -1 .. 1 mm
        otherwise low { end failed "Low." }
        otherwise high { end failed "High." }
    }
}"#,
        expect![[r#"
            7 out-unhandled: nothing says what to do when “drop within -1 .. 1 mm” does not hold
                This happens when there is no and before is 0.00 mm (not decided).
        "#]],
    );
}

#[test]
fn a_table_that_does_not_reach_so_far_gives_no_reading() {
    let with = |arm: &str| {
        format!(
            r#"table floor: dc-voltage by gap {{
    at 1 mm: 11 .. 13 V
    at 3 mm: 12 .. 14 V
    between rows linear
    outside rows refuse
    source "Invented."
}}
procedure p "P" {{
    step a "A" {{
        connect meter to post
        measure gap with gauge
        measure v: dc-voltage with meter
        expect v meets floor at gap
        otherwise low {{ end failed "Low." }}
        otherwise high {{ end failed "High." }}
        {arm}
    }}
    restore {{ disconnect meter }}
}}"#
        )
    };
    finds(
        &with(""),
        expect![[r#"
            13 out-unhandled: nothing says what to do when “v meets floor at gap” does not hold
                This happens when gap is 3.00 mm (not decided) and v is 0.00 V (not decided).
        "#]],
    );
    clean(&with("otherwise no reading { end unfinished \"Outside the table.\" }"));
}

#[test]
fn rows_of_a_table_for_one_variant_only() {
    finds(
        r#"variant market: standard, hot
table floor: dc-voltage by gap {
    rows when market is standard {
        at 1 mm: 11 .. 13 V
        at 3 mm: 12 .. 14 V
    }
    between rows linear
    outside rows refuse
    source "Invented."
}
procedure p "P" {
    step a "A" {
        connect meter to post
        measure gap with gauge
        measure v: dc-voltage with meter
        expect v meets floor at gap
        otherwise { end failed "Out." }
    }
    restore { disconnect meter }
}"#,
        expect![[r#"
            16 variant-uncovered: `floor` has no value when market is hot
        "#]],
    );
}
