//! Steps that are performed again from another place of their procedure.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn a_step_is_done_again_and_its_reading_taken_again() {
    clean(
        r#"procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step look "Look" {
        measure gap with gauge
        ask worn "Is it worn?"
    }
    step judge "Judge" {
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
        perform look
        if worn is yes { end failed "Worn." }
        expect gap meets right-gap
        otherwise { end failed "Renew it." }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}
"#,
    );
}

#[test]
fn without_it_the_reading_is_old() {
    finds(
        r#"procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step look "Look" { measure gap with gauge }
    step judge "Judge" {
        perform open
        expect gap meets right-gap
        otherwise { end failed "Renew it." }
    }
    step open "Loosen" {
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}
"#,
        expect![[r#"
            6 stale-reading: gap is not what it was when it was measured, and this decides by it
                This happens on every way through.
            11 no-recheck: gap is not measured again after this, which can move it
                This happens when gap is 2.00 mm (in band).
        "#]],
    );
}

#[test]
fn a_step_that_performs_itself_or_goes_away_is_refused() {
    finds(
        r#"procedure p "P" {
    revision 1 on 2031-01-01 "First."
    step one "One" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise {
            back to one up to 2 times
            otherwise { end failed "Out." }
        }
    }
    step two "Two" { perform three }
    step three "Three" { perform two }
    step four "Four" {
        perform one
        otherwise { end failed "No." }
    }
}
"#,
        expect![[r#"
            7 not-executable: `back to one` in the step `one`, which is performed elsewhere
            11 perform-cycle: what is performed leads back to itself: three → two → three
            12 perform-cycle: what is performed leads back to itself: two → three → two
            15 not-executable: `otherwise` after a step that is performed
        "#]],
    );
}
