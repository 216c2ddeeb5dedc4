//! Signatures: where they stand on the card, and that somebody may stop there.

use super::{THINGS, clean, finds};
use crate::check::check;
use crate::texts::Texts;
use dwell_card::graph::Act;
use expect_test::expect;

#[test]
fn a_signature_is_the_last_thing_of_its_step_and_of_restore() {
    let procedure = r#"procedure p "P" {
    step a "A" signed twice { remove guard }
    step b "B" { note "B." }
    restore signed { refit guard }
}"#;
    clean(procedure);
    let text = format!("{THINGS}{procedure}");
    let checked = check(&["small.dwell".to_owned()], &Texts(&[("small.dwell", &text)]));
    let card = checked.procedures[0].card.clone().unwrap();
    let signed: Vec<(usize, u32, Option<&str>)> = card
        .nodes
        .iter()
        .enumerate()
        .filter_map(|(at, node)| match node.act {
            Act::Sign { persons } => Some((
                at,
                persons,
                node.step.and_then(|step| card.steps.get(step)).map(|step| step.name.as_str()),
            )),
            _ => None,
        })
        .collect();
    let [(first, 2, Some("a")), (second, 1, None)] = signed[..] else { panic!("{signed:?}") };
    assert!(matches!(
        card.nodes[card.nodes[first].next[&dwell_card::graph::Way::Then]].act,
        Act::Step { step: 1 }
    ));
    assert!(matches!(card.nodes[card.nodes[second].next[&dwell_card::graph::Way::Then]].act, Act::Close));
}

#[test]
fn who_leaves_a_step_before_its_end_signs_nothing() {
    clean(
        r#"procedure p "P" {
    step a "A" signed { end unfinished "Not today." }
}"#,
    );
}

#[test]
fn somebody_may_stop_at_a_signature() {
    finds(
        r#"procedure p "P" {
    step a "A" signed { remove guard }
    step b "B" { refit guard }
}"#,
        expect![[r#"
            2 not-restored: the guard may still be out at the end
                This happens when somebody stops at “signature”.
        "#]],
    );
}

/// A lid that two must look at, a bolt that one signs for, in a step and a `restore` that are signed as given.
fn signed(step: &str, restore: &str, more: &str) -> String {
    format!(
        r#"item lid: removable "lid" {{ refit signed twice }}
spec tight: torque {{ check 20 ± 2 N·m  signed }}
procedure p "P" {{
    revision 1 on 2031-01-01 "First."
    step off "Off" {{ remove lid }}
    step on "On" {step} {{
        loosen bolt
        tighten bolt to tight with wrench
{more}        refit lid
    }}
    restore {restore} {{
        tighten bolt to tight with wrench
        refit lid
    }}
}}
"#
    )
}

#[test]
fn what_must_be_signed_for_is_signed() {
    clean(&signed("signed twice", "signed twice", ""));
}

#[test]
fn a_step_that_is_signed_by_too_few_is_told() {
    finds(
        &signed("signed", "signed twice", ""),
        expect![[r#"
        9 not-signed: this must be signed twice, and the step `on` is signed once
            This happens on every way through.
    "#]],
    );
    finds(
        &signed("", "signed", ""),
        expect![[r#"
        8 not-signed: this must be signed, and the step `on` is not signed
            This happens on every way through.
        9 not-signed: this must be signed twice, and the step `on` is not signed
            This happens on every way through.
        13 not-signed: this must be signed twice, and `restore` is signed once
            This happens when somebody stops at “Loosen the bolt”.
    "#]],
    );
}

#[test]
fn a_step_that_is_left_before_its_signatures_is_told() {
    let leaves = "        ask over \"Is it over?\"\n        if over is yes { end passed }\n";
    finds(
        &signed("signed twice", "signed twice", leaves),
        expect![[r#"
        8 not-signed: this must be signed, and the step `on` can be left before it comes to that
            This happens when over is yes.
    "#]],
    );
    clean(&signed("signed twice", "signed twice", &leaves.replace("passed", "failed")));
}

#[test]
fn a_signature_has_no_condition() {
    finds(
        r#"variant kind: one, other
item lid: removable "lid" { refit signed when kind is one }
"#,
        expect![[r#"
            2 not-executable: whether somebody signs cannot depend on a condition
        "#]],
    );
}
