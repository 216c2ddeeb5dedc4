//! Spans: what is held during a block, what breaks it, and every place at which it can be lost.

use super::{clean, finds};
use expect_test::expect;

const PEDAL: &str = r#"handling pedal { states released, pressed  press: released -> pressed  release: pressed -> released }
item brake: pedal "brake pedal"
quantity tempo: rotational-speed { never below 0 rpm }
tool counter: hand-held "counter" { measures rotational-speed 0 .. 9000 rpm resolution 10 rpm accuracy ± 20 rpm }
"#;

fn with_pedal(procedure: &str) -> String {
    format!("{PEDAL}{procedure}")
}

#[test]
fn a_state_is_held_to_the_end_of_its_block_and_free_after_it() {
    clean(&with_pedal(
        r#"procedure p "P" {
    step a "A" {
        press brake
        keep brake pressed "A helper holds it." {
            note "Look at the lamp."
        }
        otherwise { end unfinished "Nobody there to hold it." }
        release brake
    }
    restore { release brake }
}"#,
    ));
}

#[test]
fn what_changes_it_meanwhile_breaks_it() {
    finds(
        &with_pedal(
            r#"procedure p "P" {
    step a "A" {
        press brake
        keep brake pressed {
            release brake
        }
        otherwise { end unfinished }
    }
    restore { release brake }
}"#,
        ),
        expect![[r#"
            9 kept-broken: this changes the brake pedal, which is to be kept as it is
                This happens on every way through.
        "#]],
    );
}

#[test]
fn it_must_be_so_when_the_span_begins() {
    finds(
        &with_pedal(
            r#"procedure p "P" {
    step a "A" {
        keep brake pressed { note "Look." }
        otherwise { end unfinished }
    }
    restore { release brake }
}"#,
        ),
        expect![[r#"
            7 kept-broken: it is not certain that the brake pedal is so here, where it is to be kept so
                This happens on every way through.
            10 restored-untouched: on no way through is there anything to put back here: the brake pedal is as it was
        "#]],
    );
}

#[test]
fn what_is_lost_is_owed_like_anything_else() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        keep cover fitted { note "Look." }
        otherwise { end unfinished "Fit it again." }
    }
}"#,
        expect![[r#"
            3 not-restored: the cover may still be out at the end
                This happens when “The cover stays fitted” is lost at “Look”.
        "#]],
    );
}

#[test]
fn a_hazard_that_comes_about_when_it_is_lost_wants_its_caution() {
    let job = |caution: &str| {
        format!(
            r#"procedure p "P" {{
    step a "A" {{
        keep engine stopped {{ {caution} note "Look." }}
        otherwise {{ end unfinished "It runs." }}
    }}
    restore {{ stop engine }}
}}"#
        )
    };
    finds(
        &job(""),
        expect![[r#"
            3 caution-missing: no caution for moving-parts stands before this
                This happens when “The engine stays stopped” is lost at “Look”.
        "#]],
    );
    clean(&job("warning moving-parts"));
}

#[test]
fn a_caution_of_the_block_does_not_reach_past_its_being_lost() {
    finds(
        r#"procedure p "P" {
    step a "A" {
        keep cover fitted { warning moving-parts "Hands off." note "Look." }
        otherwise { switch-on fan }
    }
    restore {
        switch-off fan
        refit cover
    }
}"#,
        expect![[r#"
            4 caution-missing: no caution for moving-parts stands before this
                This happens when “The cover stays fitted” is lost at “Look”.
        "#]],
    );
}

#[test]
fn a_quantity_is_measured_at_both_ends_and_can_be_lost_at_each_prompt() {
    let job = |restore: &str| {
        with_pedal(&format!(
            r#"procedure p "P" {{
    step a "A" {{
        keep tempo within 2500 ± 300 rpm with counter "Hold the pedal." {{
            remove guard
            wait 30 s
            refit guard
        }}
        otherwise {{ end unfinished "The speed cannot be held." }}
    }}
    {restore}
}}"#
        ))
    };
    clean(&job("restore { refit guard }"));
    finds(
        &job(""),
        expect![[r#"
            8 not-restored: the guard may still be out at the end
                This happens when “The tempo stays 2500 ± 300 rpm” is lost at “Wait 30 s”.
        "#]],
    );
}

#[test]
fn going_back_from_inside_leaves_the_span() {
    clean(&with_pedal(
        r#"procedure p "P" {
    step a "A" {
        keep tempo within 2500 ± 300 rpm with counter {
            measure g: gap with gauge
            if g at most 0 mm {
                back to a up to 2 times
                otherwise { end unfinished "No gap." }
            }
        }
        otherwise {
            back to a up to 3 times
            otherwise { end unfinished "The speed cannot be held." }
        }
        press brake
    }
    restore { release brake }
}"#,
    ));
}

#[test]
fn what_a_span_cannot_be_is_refused() {
    finds(
        &with_pedal(
            r#"procedure p "P" {
    keep cover fitted { note "Look." } otherwise { end unfinished }
    step a "A" {
        keep tempo within 2500 ± 300 rpm with counter
        keep tempo within 2500 ± 300 rpm { note "Look." } otherwise { end unfinished }
        keep cover fitted { note "Look." }
        keep cover fitted { note "Look." } otherwise low { end unfinished } otherwise { end unfinished }
        keep cover fitted with counter { note "Look." } otherwise { end unfinished }
        keep cover fitted otherwise { end unfinished }
        keep cover fitted { perform q } otherwise { end unfinished }
    }
}
procedure q "Q" { step a "A" { note "Look." } }"#,
        ),
        expect![[r#"
            6 not-executable: a `keep` with a block outside the steps
            8 not-executable: `tempo` is kept, and nothing says how long
            9 not-executable: nothing says what `tempo` is watched with
            10 not-executable: nothing says what to do when this is lost
            11 not-executable: `otherwise low`, `high` and `no reading` after a `keep`
            12 not-executable: a state is not measured with a tool
            13 not-executable: an `otherwise` after a `keep` without a block
            14 not-executable: a procedure that is performed while something is kept
        "#]],
    );
}

#[test]
fn a_case_may_say_that_something_is_lost() {
    clean(&with_pedal(
        r#"procedure p "P" {
    step a "A" {
        keep tempo within 2500 ± 300 rpm with counter { note "Look." }
        otherwise { end unfinished "The speed cannot be held." }
    }
    case "lost" { tempo 2500 rpm, lost  ends unfinished }
}"#,
    ));
}

#[test]
fn a_span_that_cannot_be_held_is_told_once_and_its_block_is_read_all_the_same() {
    finds(
        &with_pedal(
            r#"procedure p "P" {
    step a "A" {
        keep tempo within 2500 ± 300 rpm {
            measure fast: rotational-speed with counter
        }
        otherwise { end unfinished }
        expect fast at least 2000 rpm
        otherwise { end failed "Slow." }
    }
}"#,
        ),
        expect![[r#"
            7 not-executable: nothing says what `tempo` is watched with
        "#]],
    );
}

#[test]
fn what_a_step_done_again_inside_a_span_changes_breaks_it_too() {
    let text = |inside: &str| {
        with_pedal(&format!(
            r#"procedure p "P" {{
    step look "Look" {{ {inside} }}
    step a "A" {{
        press brake
        keep brake pressed {{ perform look }}
        otherwise {{ end unfinished }}
        release brake
    }}
    restore {{ release brake }}
}}"#
        ))
    };
    clean(&text(r#"note "Look at the lamp.""#));
    finds(
        &text("press brake\n        release brake"),
        expect![[r#"
        6 wrong-state: the brake pedal may be pressed here; `press` is for one that is released
            This happens on every way through.
        7 kept-broken: this changes the brake pedal, which is to be kept as it is
            This happens on every way through.
        12 wrong-state: the brake pedal may be released here; `release` is for one that is pressed
            This happens on every way through.
    "#]],
    );
}
