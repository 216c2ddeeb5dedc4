//! Bolts that are tightened in stages: loose until the last one, every stage under the same needs, cautions and tools.

use super::{clean, finds};
use expect_test::expect;

/// Bolts, tools and a spec of three stages, on three lines, and the procedure after them.
fn with_bolts(lines: &str) -> String {
    format!(
        "tool disc: hand-held \"angle disc\" {{ sets turn-angle 0 .. 180 ° resolution 1 ° accuracy ± 1 ° }}\n\
         spec in-stages: torque {{ stages 30 ± 2 N·m then turn 90 ± 5 ° then turn 90 ± 5 ° }}\n\
         item stud: fastener \"stud\" {{ torque in-stages  tighten moves gap  tighten needs cover is out  tighten brings moving-parts }}\n\
         procedure p \"P\" {{\n{lines}\n}}"
    )
}

#[test]
fn the_bolts_are_tight_after_the_last_stage() {
    clean(&with_bolts(
        "step a \"A\" {
            warning moving-parts
            remove cover
            loosen stud
            tighten stud with wrench, disc
            refit cover
        }
        restore {
            warning moving-parts
            tighten stud with wrench, disc
            refit cover
        }",
    ));
}

#[test]
fn a_stop_between_two_stages_leaves_them_loose() {
    finds(
        &with_bolts(
            "step a \"A\" {
            warning moving-parts
            remove cover
            loosen stud
            tighten stud with wrench, disc
        }
        restore { refit cover }",
        ),
        expect![[r#"
            8 fastener-left-loose: the stud may still be loose at the end
                This happens when somebody stops at “Stage 1 of 3: tighten the stud to 30 ± 2 N·m with the wrench”.
        "#]],
    );
    finds(
        &with_bolts(
            "needs { stud is loose  cover is out }
        leaves { stud is tight  cover is out }
        step a \"A\" {
            warning moving-parts
            tighten stud to in-stages with wrench, disc
            loosen stud
            tighten stud to in-stages with wrench, disc
        }
        restore { note \"Nothing.\" }",
        ),
        expect![[r#""#]],
    );
}

#[test]
fn what_is_wrong_at_one_stage_is_told_once() {
    finds(
        &with_bolts(
            "step a \"A\" {
            warning moving-parts
            remove cover
            tighten stud with wrench, disc
            refit cover
        }
        restore { refit cover }",
        ),
        expect![[r#"
            8 wrong-state: the stud may be tight here; `tighten` is for one that is loose
                This happens on every way through.
        "#]],
    );
}

#[test]
fn needs_cautions_and_what_is_moved_hold_at_every_stage() {
    finds(
        &with_bolts(
            "step a \"A\" {
            measure gap with gauge
            loosen stud
            tighten stud with wrench, disc
            expect gap meets right-gap
            otherwise { end failed \"Out.\" }
        }
        restore { tighten stud with wrench, disc }",
        ),
        expect![[r#"
            8 caution-missing: no caution for moving-parts stands before this
                This happens on every way through.
            8 need-not-met: it is not certain that the cover is out, which is needed to tighten the stud
                This happens on every way through.
            9 stale-reading: gap is not what it was when it was measured, and this decides by it
                This happens on every way through.
            12 caution-missing: no caution for moving-parts stands before this
                This happens when somebody stops at “Stage 1 of 3: tighten the stud to 30 ± 2 N·m with the wrench”.
            12 need-not-met: it is not certain that the cover is out, which is needed to tighten the stud
                This happens when somebody stops at “Stage 1 of 3: tighten the stud to 30 ± 2 N·m with the wrench”.
        "#]],
    );
}

#[test]
fn each_stage_has_its_tool() {
    let tightened = |with: &str| {
        with_bolts(&format!(
            "step a \"A\" {{
            warning moving-parts
            remove cover
            loosen stud
            tighten stud{with}
            refit cover
        }}
        restore {{
            warning moving-parts
            tighten stud with wrench, disc
            refit cover
        }}"
        ))
    };
    finds(
        &tightened(" with wrench"),
        expect![[r#"
        9 tool-cannot-measure: no turn-angle for stage 2 of 3 can be read or set with the wrench
        9 tool-cannot-measure: no turn-angle for stage 3 of 3 can be read or set with the wrench
    "#]],
    );
    finds(
        &tightened(" with disc, wrench, gauge"),
        expect![[r#"
        9 tool-cannot-measure: no torque or turn-angle can be read or set with the gauge
    "#]],
    );
    finds(
        &tightened(""),
        expect![[r#"
            9 fastener-left-loose: the stud is to be tightened to 30 ± 2 N·m in stage 1 of 3, and no tool is named that sets a torque
            9 not-executable: no tool is named that stage 2 of 3 of `in-stages` is set with
            9 not-executable: no tool is named that stage 3 of 3 of `in-stages` is set with
        "#]],
    );
    let weak = tightened(" with wrench, disc")
        .replace("30 ± 2 N·m", "60 ± 2 N·m")
        .replace("90 ± 5 ° }", "190 ± 5 ° }");
    finds(
        &weak,
        expect![[r#"
        9 tool-out-of-range: 60 ± 2 N·m for stage 1 of 3 is not inside the range of the wrench, 1 .. 50 N·m
        9 tool-out-of-range: 190 ± 5 ° for stage 3 of 3 is not inside the range of the angle disc, 0 .. 180 °
        14 tool-out-of-range: 60 ± 2 N·m for stage 1 of 3 is not inside the range of the wrench, 1 .. 50 N·m
        14 tool-out-of-range: 190 ± 5 ° for stage 3 of 3 is not inside the range of the angle disc, 0 .. 180 °
    "#]],
    );
}

#[test]
fn nothing_is_judged_by_stages() {
    finds(
        &with_bolts(
            "step a \"A\" {
            read tightness: torque from \"the wrench\" expected 0 .. 200 N·m
            expect tightness meets in-stages
            otherwise { end failed \"Out.\" }
        }",
        ),
        expect![[r#"
            7 not-executable: `in-stages` says in which stages something is tightened; no reading is judged by it
        "#]],
    );
}
