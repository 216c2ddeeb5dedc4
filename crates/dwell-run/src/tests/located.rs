//! Where a thing is to be found: told with the first question or instruction that touches it, once in a job.

use super::build::*;
use crate::{Prompt, Session};
use dwell_card::Card;
use dwell_card::graph::{Act, Work};
use dwell_card::vehicle::Move;

/// Two relays, of which the place of one is known, and a lead that is there twice.
fn fuse_box() -> Card {
    let mut b = Build::new();
    let relay = b.slot("pump relay", &["fitted", "removed"]);
    let other = b.slot("horn relay", &["fitted", "removed"]);
    b.card.slots[relay].located = Some("fuse box, place 14".into());
    let leads = ["left", "right"].map(|side| {
        let lead = b.slot(&format!("lead ({side})"), &["connected", "open"]);
        b.card.slots[lead].item = "lead".into();
        b.card.slots[lead].at = Some(side.into());
        b.card.slots[lead].located = Some("behind the lamp".into());
        lead
    });
    b.work("Remove the horn relay.", other, 0, 1, false);
    b.need(relay, 0, "The pump relay is fitted");
    b.work("Remove the pump relay.", relay, 0, 1, false);
    let open = |lead: usize| Move { slot: lead, from: vec![0], to: 1, when: Vec::new() };
    let both = Work {
        says: "Disconnect both leads.".into(),
        own: leads.to_vec(),
        moves: leads.map(open).to_vec(),
        ..Work::default()
    };
    b.add(Act::Work(both));
    b.add(Act::Restore);
    b.work("Refit the pump relay.", relay, 1, 0, true);
    b.finish()
}

/// What is told of places with what is asked now.
fn told(session: &Session) -> Vec<String> {
    let located = match session.ask() {
        Prompt::Confirm(confirm) => confirm.located,
        Prompt::Need { located, .. } => located,
        _ => Vec::new(),
    };
    located.into_iter().map(|thing| format!("{}: {}", thing.label, thing.at)).collect()
}

#[test]
fn it_is_told_with_what_touches_the_thing_first_and_not_again() {
    let card = fuse_box();
    let nothing: [&str; 0] = [];
    assert_eq!(told(&played(&card, "")), nothing, "nobody said where the horn relay is");
    assert_eq!(told(&played(&card, ".")), ["pump relay: fuse box, place 14"], "the need is the first");
    assert_eq!(told(&played(&card, ".;+")), nothing, "it was told with the need");
    assert_eq!(told(&played(&card, ".;+;.")), ["lead: behind the lamp"], "one thing at two places");
    assert_eq!(told(&played(&card, ".;+;.;.")), nothing, "put back from where it was told");
}

#[test]
fn a_run_that_goes_on_from_its_record_tells_it_at_the_same_place() {
    let card = fuse_box();
    for answers in ["", ".", ".;+", ".;+;.", ".;+;.;."] {
        let session = played(&card, answers);
        let resumed = Session::resume(card.clone(), session.events()).unwrap();
        assert_eq!(resumed.ask(), session.ask(), "after {answers}");
    }
}
