//! Work that is set to a limit that is worked out from readings: where it has no value, what the tools can be set to.

use super::{clean, finds};
use expect_test::expect;

/// A tool for the drag, a bolt that is loosened and measured, and what follows it, from the fifth line on.
fn after_the_drag(lines: &str) -> String {
    format!(
        "tool dial: hand-held \"dial wrench\" {{ measures torque 0 .. 20 N·m resolution 0.1 N·m accuracy ± 0.1 N·m }}
item nut: fastener \"nut\"
procedure p \"P\" {{ step a \"A\" {{ loosen nut
measure drag: torque with dial
{lines}"
    )
}

/// In `restore` it is put on again to what was worked out: no way leaves it loose unseen.
#[test]
fn a_nut_is_set_to_its_drag_and_some_more() {
    clean(&after_the_drag(
        "expect drag within 0 .. 10 N·m otherwise { end failed }
        let nut-limit: torque = drag + 10 N·m .. drag + 12 N·m
        tighten nut to nut-limit with wrench }
        restore { tighten nut to nut-limit with wrench } }",
    ));
}

/// What can be set is held against all that the limit can come to after what was decided before, with its cap.
#[test]
fn the_range_of_the_tool_is_held_against_all_that_the_limit_can_come_to() {
    finds(
        &after_the_drag(
            "let nut-limit: torque = 3 * drag + 10 N·m .. 3 * drag + 12 N·m
        tighten nut to nut-limit with wrench }
        restore { tighten nut to nut-limit with wrench } }",
        ),
        expect![[r#"
            6 tool-out-of-range: `nut-limit`, which can come to 10.0 .. 72.0 N·m, is not inside the range of the wrench, 1 .. 50 N·m
            7 tool-out-of-range: `nut-limit`, which can come to 10.0 .. 72.0 N·m, is not inside the range of the wrench, 1 .. 50 N·m
        "#]],
    );
    clean(&after_the_drag(
        "let nut-limit: torque = 3 * drag + 10 N·m .. 3 * drag + 12 N·m never above 50 N·m
        expect drag within 0 .. 12 N·m otherwise { end failed }
        tighten nut to nut-limit with wrench }
        restore { tighten nut to 20 ± 2 N·m with wrench } }",
    ));
}

#[test]
fn a_tool_for_something_else_sets_no_torque() {
    finds(
        &after_the_drag(
            "let nut-limit: torque = drag + 10 N·m .. drag + 12 N·m
        tighten nut to nut-limit with gauge }
        restore { tighten nut to nut-limit } }",
        ),
        expect![[r#"
            6 tool-cannot-measure: no torque can be read or set with the gauge
            7 fastener-left-loose: the nut is to be tightened to drag + 10 N·m .. drag + 12 N·m, and no tool is named that sets a torque
        "#]],
    );
}

/// Set to a single value nothing can be; a limit that was moved since its reading is told like every reading.
#[test]
fn one_value_is_no_limit_and_a_reading_that_was_moved_makes_none() {
    finds(
        &after_the_drag(
            "let set: torque = drag + 10 N·m
        tighten nut to set with wrench }
        restore { tighten nut to 20 ± 2 N·m with wrench } }",
        ),
        expect![[r#"
            6 not-executable: `set` is one value, and nothing can be set to one value exactly
        "#]],
    );
    finds(
        "item lock: fastener \"lock nut\" { tighten moves gap }
procedure p \"P\" { step a \"A\" { loosen lock
measure width: gap with gauge
let lock-limit: torque = width / 1 mm * 10 N·m .. width / 1 mm * 11 N·m never above 40 N·m never below 5 N·m
tighten lock to lock-limit with wrench
loosen lock
tighten lock to lock-limit with wrench }
restore { tighten lock to 20 ± 2 N·m with wrench } }",
        expect![[r#"
            7 stale-reading: width is not what it was when it was measured, and this decides by it
                This happens on every way through.
        "#]],
    );
}

/// What comes after it can still be reached where it has no value: it ends unfinished, and the debts are put back.
#[test]
fn without_a_value_the_rest_is_put_back() {
    finds(
        &after_the_drag(
            "let nut-limit: torque = drag + 10 N·m .. drag + 12 N·m
        remove cover
        tighten nut to nut-limit with wrench
        refit cover }
        restore { tighten nut to 20 ± 2 N·m with wrench } }",
        ),
        expect![[r#"
            6 not-restored: the cover may still be out at the end
                This happens when `nut-limit` cannot be worked out.
        "#]],
    );
}
