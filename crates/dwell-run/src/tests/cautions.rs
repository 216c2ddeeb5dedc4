//! Cautions come before what they are about, and again in each step that exposes to their hazard.

use super::build::*;
use crate::Prompt;
use dwell_card::graph::{Act, Work};
use dwell_card::vehicle::{Level, Move};
use dwell_card::{Card, Step};

/// An engine that is started in one step and runs through the next one.
fn running() -> Card {
    let mut b = Build::new();
    let engine = b.slot("engine", &["stopped", "running"]);
    let parts = b.hazard("moving-parts");
    b.card.slots[engine].hazards = vec![(1, parts)];
    for name in ["start", "look", "after"] {
        b.card.steps.push(Step { name: name.into(), title: name.into(), frame: 0 });
    }
    let caution =
        b.add(Act::Caution { hazard: parts, level: Level::Warning, text: "Hands off the belt.".into() });
    b.add(Act::Step { step: 0 });
    let moves = vec![Move { slot: engine, from: vec![0], to: 1, when: Vec::new() }];
    b.add(Act::Work(Work { says: "Start the engine.".into(), moves, own: vec![engine], ..Work::default() }));
    b.add(Act::Note { text: "Listen.".into() });
    b.add(Act::Step { step: 1 });
    b.add(Act::Note { text: "Look at the belt.".into() });
    b.work("Stop the engine.", engine, 1, 0, false);
    b.add(Act::Uncover { cautions: vec![caution] });
    b.add(Act::Step { step: 2 });
    b.add(Act::Note { text: "Write it down.".into() });
    b.add(Act::Restore);
    b.finish()
}

#[test]
fn a_caution_stands_before_the_first_exposure_of_each_step() {
    let mut session = begun(&running());
    let mut seen = Vec::new();
    while session.result().is_none() {
        let Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
        let cautions: Vec<String> =
            confirm.cautions.iter().map(|caution| format!("{}: {} ", caution.level, caution.text)).collect();
        seen.push(format!("{}{}", cautions.concat(), confirm.says));
        session.answer(answer("."), NOW).unwrap();
    }
    assert_eq!(
        seen,
        [
            "WARNING: Hands off the belt. Start the engine.",
            "Listen.",
            "WARNING: Hands off the belt. Look at the belt.",
            "Stop the engine.",
            "Write it down.",
        ]
    );
    assert_eq!(session.report().cautions.len(), 1);
}
