//! More ways than are kept apart: what is said of a join holds for each of its members.

use super::found;
use std::fmt::Write as _;
use std::time::{Duration, Instant};

/// A procedure that asks `count` questions and takes off a lid after each yes; `forgets` is not put back.
fn lids(count: usize, forgets: Option<usize>) -> String {
    let mut items = String::new();
    let mut steps = String::new();
    let mut restore = String::new();
    for lid in 0..count {
        let _ = writeln!(items, "item lid-{lid}: removable \"lid {lid}\"");
        let _ =
            writeln!(steps, "ask q-{lid} \"Take lid {lid} off?\"\nif q-{lid} is yes {{ remove lid-{lid} }}");
        if forgets != Some(lid) {
            let _ = writeln!(restore, "refit lid-{lid}");
        }
    }
    format!("{items}procedure p \"P\" {{\nstep a \"A\" {{\n{steps}}}\nrestore {{\n{restore}}}\n}}")
}

#[test]
fn eight_independent_questions_stay_sound_and_quick() {
    let begun = Instant::now();
    assert_eq!(found(&lids(8, None)), "");
    let told = found(&lids(8, Some(5)));
    assert!(told.contains("not-restored: the lid 5 may still be out at the end"), "{told}");
    assert_eq!(told.matches("not-restored").count(), 1, "{told}");
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}

#[test]
fn twenty_questions_come_to_an_end_and_miss_nothing() {
    let begun = Instant::now();
    let told = found(&lids(20, Some(13)));
    assert!(told.contains("not-restored: the lid 13 may still be out at the end"), "{told}");
    assert!(begun.elapsed() < Duration::from_secs(60), "{:?}", begun.elapsed());
}

#[test]
fn what_may_have_been_brought_about_is_no_state_to_begin_with() {
    // Many ways to the need: on some the engine was started here, on others nobody knows.
    let mut text = lids(8, None);
    let need = "ask run \"Start it?\"\nif run is yes { warning moving-parts\nstart engine }\n";
    text = text.replacen("step a \"A\" {\n", &format!("step a \"A\" {{\n{need}"), 1);
    text = text.replacen(
        "}\nrestore {",
        "}\nstep b \"B\" { perform inner otherwise { note \"Go on.\" } }\nrestore {",
        1,
    );
    text.push_str("\nprocedure inner \"Inner\" {\nneeds { engine is running }\nwarning moving-parts\nstep a \"A\" { do \"Look.\" }\n}\n");
    let told = found(&text);
    assert!(told.contains("not-restored: the engine may still be running at the end"), "{told}");
}

#[test]
fn a_long_row_of_readings_is_judged_in_good_time() {
    let row = |arms: &str| {
        let places: Vec<String> = (0..24).map(|place| format!("c{place}")).collect();
        format!(
            r#"positions cell: {}
quantity cell-volts: dc-voltage at each cell
tool probe: hand-held "probe" {{ measures dc-voltage 0 .. 60 V resolution 0.01 V accuracy ± 0.01 V }}
procedure p "P" {{
    step a "A" {{
        measure cell-volts with probe at each cell
        expect every cell-volts meets volts
        {arms}
    }}
}}"#,
            places.join(", ")
        )
    };
    let begun = Instant::now();
    let all = "otherwise low { end failed \"Low.\" }\notherwise high { end failed \"High.\" }\n";
    let told = found(&row(all));
    assert!(told.contains("out-unhandled"), "no reading is not handled: {told}");
    assert_eq!(found(&row(&format!("{all}otherwise no reading {{ end unfinished \"Nothing.\" }}"))), "");
    assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
}
