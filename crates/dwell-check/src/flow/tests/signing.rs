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
