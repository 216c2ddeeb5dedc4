//! How far a caution reaches, and which exposures need one.

use super::{clean, finds};
use expect_test::expect;

#[test]
fn a_caution_reaches_to_the_end_of_its_block() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        warning moving-parts
        switch-on fan
        switch-off fan
    }
    step b "B" { switch-on fan }
    restore { switch-off fan }
}"#,
        expect![[r#"
            7 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
        "#]],
    );
}

#[test]
fn a_caution_of_the_procedure_reaches_over_all_of_it() {
    clean(
        r#"procedure p "P" {
    warning moving-parts
    step a "A" { switch-on fan }
    step b "B" {
        switch-off fan
        switch-on fan
        start engine
    }
    restore {
        switch-off fan
        stop engine
    }
}"#,
    );
}

#[test]
fn a_hazard_that_lasts_stays_covered_until_it_ends() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        warning moving-parts
        start engine
    }
    step b "B" {
        switch-on fan
        switch-off fan
    }
    step c "C" {
        stop engine
        start engine
    }
    restore {
        stop engine
        switch-off fan
    }
}"#,
        expect![[r#"
            12 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
        "#]],
    );
}

#[test]
fn a_caution_does_not_reach_into_what_is_performed_nor_out_of_it() {
    finds(
        r#"procedure inner "Inner" {
    leaves { engine is running }
    step a "A" {
        warning moving-parts
        start engine
    }
    restore { note "Runs." }
}
procedure quiet "Quiet" {
    step a "A" { switch-on fan }
    restore { switch-off fan }
}
procedure outer "Outer" {
    step a "A" {
        perform inner
        switch-on fan
        switch-off fan
    }
    step b "B" {
        warning moving-parts
        perform quiet
    }
    restore {
        switch-off fan
        stop engine
    }
}"#,
        expect![[r#"
            10 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
            16 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
        "#]],
    );
}

#[test]
fn a_state_that_is_needed_is_hazardous_from_the_start() {
    finds(
        r#"procedure p "P" {
    needs { engine is running }
    step a "A" { do "Look at the belt." }
    restore { note "Runs." }
}"#,
        expect![[r#"
            3 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
        "#]],
    );
    clean(
        r#"procedure p "P" {
    needs { engine is running }
    step a "A" {
        warning moving-parts
        do "Look at the belt."
    }
    restore { note "Runs." }
}"#,
    );
}

#[test]
fn a_caution_before_what_runs_already_lasts_with_it() {
    clean(
        r#"procedure p "P" {
    needs { engine is running }
    step a "A" {
        warning moving-parts
        do "Look at the belt."
    }
    step b "B" { switch-on fan }
    restore { switch-off fan }
}"#,
    );
}
