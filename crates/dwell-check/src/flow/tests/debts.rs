//! What is owed at the end, on every way out, and when somebody stops.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn somebody_may_stop_between_two_lines() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        remove guard
        refit guard
    }
}"#,
        expect![[r#"
            3 not-restored: the guard may still be out at the end
                This happens when somebody stops at “Refit the guard”.
        "#]],
    );
    clean(
        r#"procedure p "P" {
    step a "A" {
        remove guard
        refit guard
    }
    restore { refit guard }
}"#,
    );
}

#[test]
fn a_stop_inside_what_is_performed_restores_both() {
    finds(
        r#"procedure inner "Inner" {
    step a "A" { remove cover }
    restore { refit cover }
}
procedure outer "Outer" {
    step a "A" {
        remove guard
        perform inner
        refit guard
    }
}"#,
        expect![[r#"
            7 not-restored: the guard may still be out at the end
                This happens when somebody stops at “Remove the cover”.
        "#]],
    );
}

#[test]
fn what_a_performed_procedure_leaves_is_owed_by_its_caller() {
    finds(
        r#"procedure inner "Inner" {
    leaves { guard is out }
    step a "A" { remove guard }
}
procedure outer "Outer" {
    step a "A" { perform inner }
}"#,
        expect![[r#"
            3 not-restored: the guard may still be out at the end
                This happens on every way through.
        "#]],
    );
}

#[test]
fn what_was_found_so_may_stay_so() {
    clean(
        r#"procedure p "P" {
    needs { guard is out }
    step a "A" {
        refit guard
        remove guard
    }
    restore { note "As it was." }
}"#,
    );
}

#[test]
fn an_end_inside_restore_leaves_an_open_list_that_the_caller_does_not_owe() {
    clean(
        r#"procedure inner "Inner" {
    step a "A" { remove guard }
    restore {
        ask broken "Is a clip broken?"
        if broken is yes { end unfinished "Order a clip." }
        refit guard
    }
}
procedure outer "Outer" {
    step a "A" { perform inner }
}"#,
    );
}

#[test]
fn what_goes_wrong_in_restore_by_itself_does_not_cut_it_short() {
    clean(
        r#"procedure inner "Inner" {
    step a "A" {
        ask fine "Is it fine?"
        if fine is no { end failed "No." }
    }
}
procedure p "P" {
    step a "A" {
        remove guard
        measure gap with gauge
    }
    restore {
        if gap meets right-gap { note "In." }
        perform inner
        refit guard
    }
}"#,
    );
}

#[test]
fn an_adjustment_settles_only_what_it_brings_in() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        ask noise "Is there a noise?"
        expect gap meets right-gap and noise is no
        otherwise {
            adjust gap to right-gap up to 2 times by { do "Shim it." }
            otherwise { end failed "No." }
            end passed
        }
    }
}"#,
        expect![[r#"
            9 out-unhandled: this ends passed although a reading may still be out of band
                This happens when gap is 2.00 mm (in band) and noise is yes.
        "#]],
    );
}

#[test]
fn a_reading_that_was_lost_may_have_been_found() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        measure gap again
        expect gap meets right-gap
        otherwise no reading {
            expect first gap meets right-gap
            otherwise { end failed "Was out." }
            remove guard
        }
        otherwise { end failed "Out." }
    }
}"#,
        expect![[r#"
            9 not-restored: the guard may still be out at the end
                This happens when gap is 2.00 mm (not decided) and there is no reading of gap.
        "#]],
    );
}

#[test]
fn an_open_reading_can_lie_across_another_limit() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure insulation: resistance with tester
        expect insulation at least 5 kΩ
        otherwise { end failed "Low." }
        expect insulation at most 20 kΩ
        otherwise high { end failed "High." }
    }
}
tool tester: hand-held "tester" { measures resistance 0 .. 60 kΩ resolution 0.01 kΩ accuracy ± 0.01 kΩ }
"#,
        expect![[r#"
            6 out-unhandled: nothing says what to do when “insulation at most 20 kΩ” does not hold
                This happens when insulation is above 12.50 kΩ (in band).
        "#]],
    );
}

#[test]
fn connect_moves_both_and_disconnect_frees_both() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        connect meter to post
        measure v: dc-voltage with meter
        expect v meets volts
        otherwise { end failed "Out." }
        disconnect meter
        connect meter to other-post
    }
    restore { disconnect meter }
}"#,
    );
}

#[test]
fn a_forgotten_disconnect_is_told_once_with_the_thing_that_stays_on() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        connect meter to post
        measure v: dc-voltage with meter
        expect v meets volts
        otherwise { end failed "Out." }
    }
}"#,
        expect![[r#"
            3 not-restored: the meter may still be connected at the end
                This happens when v is 12.00 V (in band).
        "#]],
    );
}
