//! Adjustments inside each other, and loops that never end.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn an_adjustment_inside_another_settles_its_own_reading() {
    clean(
        r#"quantity second-gap: length
item rod: turnable "rod" { turn moves second-gap }
spec right-second: second-gap { check 5 ± 0.5 mm  adjust 5 ± 0.3 mm }
procedure p "P" {
    step a "A" {
        measure gap with gauge
        measure second-gap with gauge
        expect gap meets right-gap and second-gap meets right-second
        otherwise {
            adjust gap to right-gap, second-gap to right-second up to 3 times by {
                loosen bolt
                adjust second-gap to right-second up to 5 times by { turn rod }
                otherwise { end failed "The rod is bent." }
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
fn what_the_inner_adjustment_moves_the_outer_one_measures_again() {
    finds(
        r#"quantity second-gap: length { moves gap }
item rod: turnable "rod" { turn moves second-gap }
spec right-second: second-gap { check 5 ± 0.5 mm  adjust 5 ± 0.3 mm }
procedure p "P" {
    step a "A" {
        measure gap with gauge
        measure second-gap with gauge
        adjust second-gap to right-second up to 5 times by {
            adjust gap to right-gap up to 2 times by {
                loosen bolt
                tighten bolt to torque-of-bolt with wrench
            }
            otherwise { end failed "Out." }
            turn rod
        }
        otherwise { end failed "The rod is bent." }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
        expect![[r#"
            9 stale-reading: gap is not what it was when it was measured, and this decides by it
                This happens when gap is 2.00 mm (in band) and second-gap is 4.60 mm (low).
            14 no-recheck: gap is not measured again after this, which can move it
                This happens when gap is 2.00 mm (in band), second-gap is 4.60 mm (low) and second-gap is 5.00 mm (in band).
        "#]],
    );
}

#[test]
fn an_inner_adjustment_that_cannot_be_brought_in_must_say_what_then() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        adjust gap to right-gap up to 3 times by {
            loosen bolt
            adjust gap to right-gap up to 2 times by { do "Tap it." }
            tighten bolt to torque-of-bolt with wrench
        }
        otherwise { end failed "Out." }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
        expect![[r#"
            6 no-way-out: nothing says what to do when the last try has failed: gap meets right-gap
        "#]],
    );
}

#[test]
fn a_loop_says_how_often_and_measures_something() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        adjust gap to right-gap by { do "Tap it." }
        otherwise { end failed "Out." }
    }
    step b "B" {
        do "Look."
        back to b up to 3 times
        otherwise { end unfinished "Enough." }
    }
    step c "C" {
        measure v: length with gauge
        expect v at most 1 mm
        otherwise {
            back to c
            otherwise { end unfinished "Enough." }
        }
    }
}"#,
        expect![[r#"
            4 endless: nothing says how often it may be tried
            9 endless: nothing is measured or asked on the way round
            16 endless: nothing says how often it may go back
        "#]],
    );
}

#[test]
fn a_loop_that_is_used_up_goes_on() {
    clean(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise {
            back to a up to 2 times
            otherwise { end failed "Out." }
        }
    }
}"#,
    );
}
