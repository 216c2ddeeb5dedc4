//! STOP: the same list of what is put back, whatever was going on.

use super::build::*;
use crate::Refusal;
use dwell_card::graph::{Act, Way};
use dwell_record::{Outcome, What};

#[test]
fn stopping_in_the_middle_puts_back_and_is_unfinished() {
    let mut session = played(&tension(3), "50 Hz;.;.");
    session.stop("The customer needs the van.", NOW).unwrap();
    let crate::Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!(confirm.says, "Refit the belt guard.");
    session.answer(answer("."), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
    assert_eq!(session.report().stopped.as_deref(), Some("The customer needs the van."));
    assert!(session.report().open.is_empty());
}

#[test]
fn stopping_before_anything_was_changed_asks_nothing_more() {
    let mut session = begun(&tension(3));
    session.stop("Wrong van.", NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn stopping_while_putting_back_goes_on_putting_back() {
    let mut session = played(&tension(3), "50 Hz;.;.;62 Hz");
    session.stop("Late.", NOW).unwrap();
    assert_eq!(session.result(), None);
    session.answer(answer("."), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn stopping_in_a_performed_procedure_passes_over_the_callers_arms() {
    let mut b = Build::new();
    let guard = b.slot("belt guard", &["fitted", "removed"]);
    let cap = b.slot("cap", &["fitted", "removed"]);
    b.card.frames.push(frame("inner", Some(0)));
    b.work("Remove the belt guard.", guard, 0, 1, false);
    b.frame = 1;
    b.add(Act::Open);
    b.work("Remove the cap.", cap, 0, 1, false);
    b.add(Act::Note { text: "Look inside.".into() });
    b.add(Act::Restore);
    b.work("Refit the cap.", cap, 1, 0, true);
    let close = b.add(Act::Close);
    b.frame = 0;
    for way in [Way::Passed, Way::Failed, Way::Unfinished, Way::Referred] {
        b.also(close, way);
    }
    b.loose.retain(|(_, way)| *way != Way::Then);
    b.add(Act::Note { text: "Go on all the same.".into() });
    b.add(Act::Restore);
    b.work("Refit the belt guard.", guard, 1, 0, true);
    let card = b.finish();
    assert!(dialogue(&card, ".;.;.;.").contains("Go on all the same."));
    let mut session = played(&card, ".;.");
    session.stop("Enough.", NOW).unwrap();
    for says in ["Refit the cap.", "Refit the belt guard."] {
        let crate::Prompt::Confirm(confirm) = session.ask() else { panic!("{:?}", session.ask()) };
        assert_eq!(confirm.says, says);
        session.answer(answer("."), NOW).unwrap();
    }
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn nothing_can_be_stopped_or_answered_after_the_end() {
    let mut session = played(&tension(3), "62 Hz");
    assert_eq!(session.stop("Late.", NOW), Err(Refusal::Over));
    assert_eq!(session.answer(answer("."), NOW), Err(Refusal::Over));
    assert!(matches!(session.events().last().unwrap().what, What::Finished(_)));
}
