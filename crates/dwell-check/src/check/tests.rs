//! The way from texts to findings and cards: what is waived, what follows from a hole, which cards are made.

use super::{Checked, check};
use crate::finding::Level;
use crate::texts::Texts;
use expect_test::{Expect, expect};

/// The guard of the belt, for procedures to take off.
const VEHICLE: &str = r#"item belt-guard: removable "belt guard""#;

/// Checks files, the first of them the root.
fn checked(files: &[(&str, &str)]) -> Checked {
    let roots: Vec<String> = files.iter().take(1).map(|(name, _)| (*name).to_owned()).collect();
    check(&roots, &Texts(files))
}

/// Rule, place and message of each finding, then the procedures that have a card.
fn told(checked: &Checked) -> String {
    let mut out = String::new();
    for finding in &checked.findings {
        let file = &checked.program.files[finding.place.file];
        let (line, _) = file.lines.place(&file.text, finding.place.span.start);
        out.push_str(&format!("{}:{line} {}: {}\n", file.path, finding.rule, finding.message));
    }
    for waived in &checked.waived {
        out.push_str(&format!("waived {}: {}\n", waived.finding.rule, waived.because));
    }
    let cards = checked.procedures.iter().filter(|compiled| compiled.card.is_some());
    let cards: Vec<&str> = cards.map(|compiled| compiled.name.as_str()).collect();
    out.push_str(&format!("cards: {}\n", cards.join(", ")));
    out
}

fn tells(files: &[(&str, &str)], expected: Expect) {
    expected.assert_eq(&told(&checked(files)));
}

#[test]
fn a_sound_procedure_has_a_card_with_a_place_for_each_node() {
    let text = format!(
        r#"{VEHICLE}
procedure belt "Belt" {{
    step off "Off" {{ remove belt-guard }}
    restore {{ refit belt-guard }}
}}"#
    );
    let checked = checked(&[("belt.dwell", &text)]);
    assert!(!checked.has_errors());
    let compiled = &checked.procedures[0];
    let card = compiled.card.as_ref().unwrap();
    assert_eq!(card.nodes.len(), compiled.places.len());
    assert_eq!(card.procedure, "belt");
}

#[test]
fn a_waiver_reaches_to_the_end_of_its_block_and_keeps_its_reason() {
    let text = format!(
        r#"{VEHICLE}
item wheel: removable "wheel"
procedure both "Both" {{
    step guard "Guard" {{
        waive not-restored because "The painter takes it from here."
        remove belt-guard
    }}
    step next "Wheel" {{ remove wheel }}
}}"#
    );
    tells(
        &[("both.dwell", &text)],
        expect![[r#"
            both.dwell:8 not-restored: the wheel may still be out at the end
            waived not-restored: The painter takes it from here.
            cards: 
        "#]],
    );
}

#[test]
fn a_waiver_of_the_procedure_reaches_over_all_of_it() {
    let text = format!(
        r#"{VEHICLE}
procedure belt "Belt" {{
    waive not-restored because "The painter takes it from here."
    step guard "Guard" {{ remove belt-guard }}
}}"#
    );
    tells(
        &[("belt.dwell", &text)],
        expect![[r#"
        waived not-restored: The painter takes it from here.
        cards: belt
    "#]],
    );
}

#[test]
fn a_waiver_in_a_declaration_reaches_over_that_declaration() {
    const WAIVE: &str = "waive name-unused because \"Kept for the other vans.\"";
    let declared = |waive: &str| {
        let short = if waive.is_empty() { String::new() } else { format!("{{ {waive} }}") };
        format!(
            r#"handling lever {{ states down, up  lift: down -> up  {waive} }}
item belt-guard: removable "belt guard" {{ {waive} }}
tool feeler: hand-held "feeler gauges" {{ measures length 0.05 .. 1.00 mm resolution 0.05 mm accuracy ± 0.01 mm  {waive} }}
quantity gap: length "of the plate" {{ never below 0 mm  {waive} }}
spec belt-gap: length {{ check 0.25 ± 0.03 mm  not adjustable  source "Invented."  {waive} }}
table wear: length by length {{ at 1 mm: 1 .. 2 mm  at 2 mm: 2 .. 3 mm  between rows linear  outside rows refuse  source "Invented."  {waive} }}
series plates: length 1.00 .. 2.00 mm steps of 0.05 mm {short}
hazard dust: warning "Do not breathe it." {short}
variant market: north, south {short}
positions wheel-side: left, right {short}
procedure look "Look" {{ step look "Look" {{ do "Look." }} }}
"#
        )
    };
    let open = told(&checked(&[("all.dwell", &declared(""))]));
    assert_eq!(open.matches("name-unused").count(), 10, "{open}");
    let waived = told(&checked(&[("all.dwell", &declared(WAIVE))]));
    assert_eq!(waived.matches("waived name-unused: Kept").count(), 10, "{waived}");
    assert!(!waived.contains("all.dwell:"), "{waived}");
    let idle = told(&checked(&[("all.dwell", &declared("waive not-restored because \"Agreed.\""))]));
    assert_eq!(idle.matches("waiver-unused").count(), 10, "{idle}");
}

#[test]
fn only_what_leaves_a_sound_card_can_be_waived() {
    let text = format!(
        r#"{VEHICLE}
procedure belt "Belt" {{
    waive not-restord because "A slip of the pen."
    waive kind-mismatch because "It works anyway."
    step guard "Guard" {{ remove belt-guard }}
    restore {{ refit belt-guard }}
}}"#
    );
    tells(
        &[("belt.dwell", &text)],
        expect![[r#"
        belt.dwell:3 not-found: no rule is called `not-restord`
        belt.dwell:4 not-executable: `kind-mismatch` cannot be waived
        cards: 
    "#]],
    );
}

#[test]
fn a_waiver_that_lets_nothing_pass_is_told_unless_something_was_not_looked_at() {
    let told_of = |more: &str| {
        let text = format!(
            r#"{VEHICLE}
procedure belt "Belt" {{
    waive not-restored because "The painter takes it from here."
    waive branch-without-case because "Its cases are in the house."
    step guard "Guard" {{ remove belt-guard {more} }}
    restore {{ refit belt-guard }}
}}"#
        );
        told(&checked(&[("belt.dwell", &text)]))
    };
    expect![[r#"
        belt.dwell:3 waiver-unused: this waiver lets nothing pass: `not-restored` finds nothing here
        cards: belt
    "#]]
    .assert_eq(&told_of(""));
    assert!(!told_of("nothing known").contains("waiver-unused"));
}

#[test]
fn a_needless_waiver_may_be_waived_and_a_reason_is_needed() {
    let text = format!(
        r#"{VEHICLE}
procedure belt "Belt" {{
    waive waiver-unused because "The rule is set on and off."
    waive not-restored because "The painter takes it from here."
    waive need-lost because " "
    step guard "Guard" {{ remove belt-guard }}
    restore {{ refit belt-guard }}
}}"#
    );
    let whole = told(&checked(&[("belt.dwell", &text)]));
    expect![[r#"
        belt.dwell:5 not-executable: `need-lost` is waived without a reason
        cards: 
    "#]]
    .assert_eq(&whole);
    let text = text.replace("    waive need-lost because \" \"\n", "");
    expect![[r#"
        waived waiver-unused: The rule is set on and off.
        cards: belt
    "#]]
    .assert_eq(&told(&checked(&[("belt.dwell", &text)])));
}

#[test]
fn a_lost_statement_hides_the_ways_of_its_procedure_only() {
    let text = format!(
        r#"{VEHICLE}
procedure torn "Torn" {{
    step one "One" {{
        remove belt-guard
        refit
    }}
}}
procedure whole "Whole" {{
    step one "One" {{ remove belt-guard }}
}}"#
    );
    tells(
        &[("two.dwell", &text)],
        expect![[r#"
            two.dwell:5 syntax: a verb or its item is missing beside `refit`
            two.dwell:9 not-restored: the belt guard may still be out at the end
            cards: 
        "#]],
    );
}

#[test]
fn what_performs_a_torn_procedure_is_not_walked() {
    let text = format!(
        r#"{VEHICLE}
procedure torn "Torn" {{
    step one "One" {{ refit }}
}}
procedure outer "Outer" {{
    step one "One" {{
        remove belt-guard
        perform torn
    }}
}}"#
    );
    tells(
        &[("two.dwell", &text)],
        expect![[r#"
        two.dwell:3 syntax: `refit` is no word of the language here
        cards: 
    "#]],
    );
}

#[test]
fn a_name_that_is_not_there_is_all_that_is_said() {
    let text = format!(
        r#"{VEHICLE}
procedure belt "Belt" {{
    step one "One" {{
        remove belt-gard
        refit belt-guard
    }}
}}"#
    );
    tells(
        &[("belt.dwell", &text)],
        expect![[r#"
        belt.dwell:4 not-found: no item or tool is called `belt-gard`
        cards: 
    "#]],
    );
}

#[test]
fn a_name_that_two_things_have_is_all_that_is_said() {
    let text = r#"variant engine: k9, k9h
item engine: startable "engine"
procedure run "Run" {
    needs { engine is stopped }
    step one "One" { start engine }
}"#;
    tells(
        &[("run.dwell", text)],
        expect![[r#"
        run.dwell:2 declared-twice: the name `engine` is taken already
        cards: 
    "#]],
    );
}

#[test]
fn a_file_that_is_not_there_is_all_that_is_said() {
    let text = r#"use "vehicle.dwell"
procedure belt "Belt" {
    step one "One" { remove belt-guard }
}"#;
    tells(
        &[("belt.dwell", text)],
        expect![[r#"
        belt.dwell:1 not-found: `vehicle.dwell` cannot be read: there is no such file
        cards: 
    "#]],
    );
    tells(
        &[],
        expect![[r#"
        cards: 
    "#]],
    );
    let checked = check(&["nowhere.dwell".to_owned()], &Texts(&[]));
    expect![[r#"
        nowhere.dwell:1 not-found: `nowhere.dwell` cannot be read: there is no such file
        cards: 
    "#]]
    .assert_eq(&told(&checked));
}

#[test]
fn what_two_callers_share_is_said_once() {
    let text = format!(
        r#"{VEHICLE}
procedure off "Off" {{
    step one "One" {{ remove belt-guard }}
}}
procedure first "First" {{
    step one "One" {{ perform off }}
}}
procedure second "Second" {{
    step one "One" {{ perform off }}
}}"#
    );
    tells(
        &[("three.dwell", &text)],
        expect![[r#"
        three.dwell:3 not-restored: the belt guard may still be out at the end
        cards: 
    "#]],
    );
}

#[test]
fn an_error_in_a_used_file_takes_the_card_and_a_warning_does_not() {
    let vehicle = r#"item belt-guard: removable "belt guard"
spec bore: length { check 7.042 .. 7.017 mm }"#;
    let root = r#"use "vehicle.dwell"
procedure belt "Belt" {
    step one "One" { remove belt-guard }
    restore { refit belt-guard }
}"#;
    tells(
        &[("belt.dwell", root), ("vehicle.dwell", vehicle)],
        expect![[r#"
        vehicle.dwell:2 band-reversed: the low end 7.042 mm is above the high end 7.017 mm
        cards: 
    "#]],
    );
    let dead = r#"procedure dead "Dead" {
    step one "One" {
        end failed "Always."
        note "Never read."
    }
}"#;
    let found = checked(&[("dead.dwell", dead)]);
    assert!(found.findings.iter().all(|finding| finding.level == Level::Warning), "{}", told(&found));
    expect![[r#"
        dead.dwell:4 unreachable: nothing leads to this
        cards: dead
    "#]]
    .assert_eq(&told(&found));
}
