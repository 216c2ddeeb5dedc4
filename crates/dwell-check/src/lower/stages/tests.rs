//! What stands on the card for a tightening in stages.

use crate::check::check;
use crate::texts::Texts;
use dwell_card::graph::{Act, Work};
use dwell_card::{Card, limit::Limit};

const TEXT: &str = r#"positions head-bolt-place: front, rear
item bleeder: removable "bleeder"
item head-bolt: fastener at each head-bolt-place "cylinder head bolt" { torque tightening  tighten brings bleeder is out }
tool torque-wrench: hand-held "torque wrench" { sets torque 5 .. 60 N·m resolution 0.1 N·m accuracy ± 4 % of reading }
tool large-wrench: hand-held "large wrench" { sets torque 40 .. 200 N·m resolution 1 N·m accuracy ± 4 % of reading }
tool angle-disc: hand-held "angle disc" { sets turn-angle 0 .. 180 ° resolution 1 ° accuracy ± 1 ° }
spec tightening: torque { stages 30 ± 2 N·m then 65 ± 5 N·m then turn 90 ± 5 °  source "Invented." }
procedure head-bolts "Head bolts" {
    step a "A" {
        loosen head-bolt at each head-bolt-place
        tighten head-bolt to tightening at each head-bolt-place with torque-wrench, large-wrench, angle-disc "Crosswise."
        refit bleeder
    }
    restore {
        tighten head-bolt at each head-bolt-place with torque-wrench, large-wrench, angle-disc
        refit bleeder
    }
}
"#;

fn card() -> Card {
    let checked = check(&["small.dwell".to_owned()], &Texts(&[("small.dwell", TEXT)]));
    let told = checked.findings.iter().filter(|found| found.rule != "thread-condition-missing");
    let found: Vec<&str> = told.map(|found| found.message.as_str()).collect();
    assert_eq!(found, Vec::<&str>::new());
    checked.procedures[0].card.clone().unwrap()
}

fn stages(card: &Card) -> Vec<&Work> {
    let works = card.nodes.iter().filter_map(|node| match &node.act {
        Act::Work(work) if work.stage.is_some() => Some(work),
        _ => None,
    });
    works.collect()
}

#[test]
fn one_instruction_for_each_stage_with_its_tool() {
    let card = card();
    let says: Vec<&str> = stages(&card).iter().map(|work| work.says.as_str()).collect();
    let three = [
        "Stage 1 of 3: tighten the cylinder head bolt at each head bolt place to 30 ± 2 N·m with the torque wrench.",
        "Stage 2 of 3: tighten the cylinder head bolt at each head bolt place to 65 ± 5 N·m with the large wrench.",
        "Stage 3 of 3: turn the cylinder head bolt at each head bolt place by 90 ± 5 ° with the angle disc.",
    ];
    assert_eq!(says, [three, three].concat());
    let tools: Vec<&str> = stages(&card)
        .iter()
        .flat_map(|work| &work.tools)
        .map(|tool| card.tools[*tool].name.as_str())
        .collect();
    let named = ["torque-wrench", "large-wrench", "angle-disc"];
    assert_eq!(tools, [named, named].concat());
}

#[test]
fn each_stage_has_its_own_limit_on_the_card() {
    let card = card();
    let limits: Vec<&Limit> = stages(&card).iter().map(|work| &card.limits[work.limit.unwrap()]).collect();
    let shown: Vec<String> = limits
        .iter()
        .take(3)
        .map(|limit| format!("{}: {} {}", limit.name, limit.kind, limit.check[0].written))
        .collect();
    assert_eq!(
        shown,
        [
            "tightening, stage 1 of 3: torque 30 ± 2 N·m",
            "tightening, stage 2 of 3: torque 65 ± 5 N·m",
            "tightening, stage 3 of 3: turn-angle 90 ± 5 °",
        ]
    );
    assert_eq!(card.limits.len(), 3);
    assert!(limits.iter().all(|limit| limit.source.as_deref() == Some("Invented.")));
}

#[test]
fn all_stages_ask_for_the_same_and_only_the_last_brings_anything_about() {
    let card = card();
    let works = stages(&card);
    for work in &works {
        assert_eq!((work.own.len(), work.moves.len()), (2, 2));
        assert_eq!(work.brings.is_empty(), work.stage.unwrap().goes_on());
    }
    let owed: Vec<bool> = works.iter().map(|work| work.if_owed).collect();
    assert_eq!(owed, [false, false, false, true, true, true]);
    let texts: Vec<Option<&str>> = works.iter().map(|work| work.text.as_deref()).collect();
    let crosswise = Some("Crosswise.");
    assert_eq!(texts, [crosswise, crosswise, crosswise, Some(super::BEGIN_ANEW), None, None]);
}
