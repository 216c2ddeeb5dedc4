//! What verbs and states do to other things, and what is proved and lost.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn a_proof_is_lost_by_any_verb_on_the_thing() {
    finds(
        r#"item net: nets, openable "net"
handling nets {
    states live, dead
    by proof: live -> dead
    may stay dead
}
item terminal: removable "terminal" { remove needs net is dead }
procedure p "P" {
    step a "A" {
        connect meter to post
        measure v: dc-voltage with meter
        expect v within 0 .. 1 V proves net is dead
        otherwise { end failed "Live." }
        remove terminal
        refit terminal
        open net
        close net
        remove terminal
    }
    restore {
        refit terminal
        close net
        disconnect meter
    }
}"#,
        expect![[r#"
            18 stored-energy: it is no longer proved that the net is dead, which is needed to remove the terminal
                This happens when v is 0.50 V (in band).
        "#]],
    );
}

#[test]
fn what_restore_performs_may_fail_and_is_owed_then() {
    finds(
        r#"procedure put-back "Put back" {
    needs { guard is out }
    leaves { guard is fitted }
    step a "A" {
        ask fine "Is the guard whole?"
        if fine is no { end failed "Order one." }
        refit guard
    }
}
procedure p "P" {
    step a "A" { remove guard }
    restore { if guard is out { perform put-back } }
}"#,
        expect![[r#"
            11 not-restored: the guard may still be out at the end
                This happens when fine is no.
        "#]],
    );
}

#[test]
fn what_is_brought_for_one_variant_is_asked_for_the_other() {
    clean(
        r#"variant kind: old, young
item alarm: switchable "alarm"
item lead: connectable "lead" { disconnect brings alarm is on when kind is old }
procedure inner "Inner" {
    needs { alarm is off }
    step a "A" { do "Listen." }
}
procedure p "P" {
    step a "A" {
        disconnect lead
        if kind is young {
            perform inner
            otherwise { note "The alarm was on." }
        }
    }
    restore {
        connect lead
        switch-off alarm
    }
}"#,
    );
}

#[test]
fn a_variant_that_alone_misbehaves_is_named() {
    finds(
        r#"variant kind: old, young
procedure p "P" {
    step a "A" {
        if kind is old { remove guard }
        else { remove cover }
    }
    restore { refit cover }
}"#,
        expect![[r#"
            4 not-restored: the guard may still be out at the end
                This happens with kind old.
        "#]],
    );
}

#[test]
fn a_stale_reading_is_not_judged() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        loosen bolt
        tighten bolt to torque-of-bolt with wrench
        expect gap meets right-gap
        otherwise { end failed "Out." }
        measure gap again
        expect gap meets right-gap
        otherwise { end failed "Out." }
    }
    restore { tighten bolt to torque-of-bolt with wrench }
}"#,
        expect![[r#"
            6 stale-reading: gap is not what it was when it was measured, and this decides by it
                This happens on every way through.
        "#]],
    );
}

#[test]
fn what_is_kept_is_kept_in_what_is_performed() {
    finds(
        r#"procedure inner "Inner" {
    step a "A" { remove guard }
    restore { refit guard }
}
procedure p "P" {
    keep guard fitted
    step a "A" { perform inner }
}"#,
        expect![[r#"
            2 kept-broken: this changes the guard, which is to be kept as it is
                This happens on every way through.
        "#]],
    );
}

#[test]
fn an_arm_of_one_side_leaves_the_others() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure gap with gauge
        expect gap meets right-gap
        otherwise low { end failed "Low." }
        otherwise high { end failed "High." }
    }
}"#,
        expect![[r#"
            4 out-unhandled: nothing says what to do when “gap meets right-gap” does not hold
                This happens when there is no reading of gap.
        "#]],
    );
}

#[test]
fn back_to_a_step_that_takes_off_twice_is_wrong() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        remove guard
        measure gap with gauge
        expect gap meets right-gap
        otherwise {
            back to a up to 2 times
            otherwise { end failed "Out." }
        }
    }
    restore { refit guard }
}"#,
        expect![[r#"
            3 wrong-state: the guard may be out here; `remove` is for one that is fitted
                This happens when gap is 1.40 mm (low).
        "#]],
    );
}

#[test]
fn a_case_speaks_of_what_the_procedure_has() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        measure g: gap with gauge
        expect g meets right-gap
        otherwise { end failed "Out." }
        ask sound "Is it quiet?" one of quiet, loud
    }
    case "as it should be" { g 2 mm  sound quiet  ends passed }
    case "slips" { gg 2 mm  g 2 N  sound loudly  ends passed }
}"#,
        expect![[r#"
            9 not-found: no reading, answer or need of this procedure is called `gg`
            9 kind-mismatch: 2 N (force) does not go with g (length)
            9 not-found: no answer here is called `loudly`
        "#]],
    );
}
