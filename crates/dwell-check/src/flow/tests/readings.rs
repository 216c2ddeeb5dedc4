//! Readings that were moved: what may still be decided by them, and what was lost before they were taken.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn what_a_caller_moves_after_a_performed_procedure_judged_it_is_measured_again() {
    finds(
        r#"procedure inner "Inner" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise { end failed "Out." }
    }
}
procedure outer "Outer" {
    step a "A" {
        perform inner
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
        expect![[r#"
            12 no-recheck: gap is not measured again after this, which can move it
                This happens when gap is 2.00 mm (in band).
        "#]],
    );
}

#[test]
fn what_a_procedure_told_once_about_itself_its_caller_does_not_tell_again() {
    finds(
        r#"procedure inner "Inner" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise { end failed "Out." }
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}
procedure outer "Outer" { step a "A" { perform inner } }"#,
        expect![[r#"
            7 no-recheck: gap is not measured again after this, which can move it
                This happens when gap is 2.00 mm (in band).
        "#]],
    );
}

#[test]
fn what_was_judged_to_get_something_ready_may_be_moved_by_the_work() {
    clean(
        r#"item rail: pressure-line "rail"
procedure ready "Make it ready" {
    leaves { rail is relieved }
    step a "A" {
        measure gap with gauge
        expect gap at most 1 mm proves rail is relieved
        otherwise { end failed "Out." }
    }
}
procedure p "P" {
    needs { rail is relieved by ready }
    step a "A" {
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
    );
}

#[test]
fn a_procedure_that_failed_has_nothing_to_measure_again() {
    finds(
        r#"procedure inner "Inner" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise { end failed "Out." }
        end failed "Always."
    }
}
procedure outer "Outer" {
    step a "A" {
        perform inner
        otherwise { note "As we thought." }
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
        expect![[r#"
            1 never-passes: no vehicle can pass `inner`, whatever is read
        "#]],
    );
}

#[test]
fn a_table_is_not_looked_up_at_a_stale_reading() {
    finds(
        r#"table floor: dc-voltage by gap {
    at 1 mm: 11 .. 13 V
    at 3 mm: 12 .. 14 V
    between rows linear
    outside rows refuse
    source "Invented."
}
procedure p "P" {
    step a "A" {
        connect meter to post
        measure gap with gauge
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
        measure v: dc-voltage with meter
        expect v meets floor at gap
        otherwise { end failed "Out." }
    }
    restore {
        tighten bolt to torque-of-bolt with wrench
        disconnect meter
    }
}"#,
        expect![[r#"
            15 stale-reading: gap is not what it was when it was measured, and this decides by it
                This happens on every way through.
        "#]],
    );
}

#[test]
fn a_computed_quantity_that_is_moved_makes_its_readings_stale() {
    finds(
        r#"quantity sag: length
item rod: turnable "rod" { turn moves sag }
procedure p "P" {
    step a "A" {
        measure before: length with gauge
        measure behind: length with gauge
        let sag: sag = behind - before
        expect sag at most 1 mm
        otherwise { end failed "Out." }
        turn rod
        if sag at most 0.5 mm { note "Well." }
    }
}"#,
        expect![[r#"
            11 stale-reading: before and behind are not what they were when they were measured, and this decides by them
                This happens when before is 0.00 mm (in band) and behind is 0.00 mm (in band).
        "#]],
    );
}

#[test]
fn as_found_may_be_moved() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
        if first gap above 3 mm { note "It was worn." }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
    );
}

#[test]
fn no_reading_is_a_reading_as_found() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise {
            adjust gap to right-gap up to 3 times by {
                loosen bolt
                tighten bolt to torque-of-bolt with wrench
            }
            otherwise { end failed "Out." }
        }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
    );
}

#[test]
fn only_what_the_procedure_itself_does_loses_what_was_found() {
    let inner = |how: &str| {
        format!(
            r#"item lid: openable "lid"
procedure inner "Inner" {{
    leaves {{ lid is opened }}
    step a "A" {{
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
        open lid
    }}
    restore {{ tighten bolt to torque-of-bolt with wrench }}
}}
procedure p "P" {{
    {how}
        measure gap with gauge
        expect gap meets right-gap
        otherwise {{
            adjust gap to right-gap up to 3 times by {{
                loosen bolt
                tighten bolt to torque-of-bolt with wrench
            }}
            otherwise {{ end failed "Out." }}
        }}
    }}
    restore {{
        tighten bolt to torque-of-bolt with wrench
        close lid
    }}
}}"#
        )
    };
    clean(&inner("needs { lid is opened by inner }\n    step a \"A\" {"));
    finds(
        &inner("step a \"A\" {\n        perform inner"),
        expect![[r#"
            6 as-found-lost: this can move gap, which has not been measured yet
                This happens when gap is 1.40 mm (low).
        "#]],
    );
}

/// A formula of a gap, shown.
fn computed(formula: &str) -> String {
    format!(
        "procedure p \"P\" {{
    revision 1 on 2031-01-01 \"First.\"
    step s \"S\" {{
        measure gap with gauge
        let result{formula}
        note \"{{result}} {{gap}}\"
    }}
}}
"
    )
}

#[test]
fn a_sine_is_of_an_angle_and_a_root_of_an_area() {
    clean(&computed(": length = 2 mm * sine of 30 °"));
    clean(&computed(" = root of (gap * gap + 1 mm * 1 mm)"));
    clean(&computed(": ratio = root of (gap / 2 mm)"));
    finds(
        &computed(" = sine of gap"),
        expect![[r#"
        5 kind-mismatch: gap (length) does not go with angle
    "#]],
    );
    finds(
        &computed(" = root of gap"),
        expect![[r#"
        5 kind-mismatch: gap (length) does not go with area
    "#]],
    );
}
