//! Cards that are withdrawn, or need something that is: refused from that day on, wherever the clock stands.

use super::build::*;
use crate::{Refusal, Session};
use dwell_card::{Card, Withdrawn};

fn on(day: &str) -> Option<Withdrawn> {
    Some(Withdrawn { on: day.into(), why: "New bolts.".into() })
}

fn refused(card: &Card, at: &str) -> Option<String> {
    Session::start(card.clone(), &[], at).err().map(|refusal| {
        assert!(matches!(refusal, Refusal::Withdrawn { .. }), "{refusal}");
        refusal.to_string()
    })
}

#[test]
fn a_withdrawn_card_is_refused_from_its_day_on() {
    let mut card = tension(3);
    card.withdrawn = on("2031-05-01");
    assert_eq!(refused(&card, "2031-04-30T23:59:59+02:00"), None);
    let words = refused(&card, "2031-05-01T00:00:00+02:00").unwrap();
    assert_eq!(
        words,
        "the procedure `belt` is withdrawn from 2031-05-01 on: \"New bolts.\" Work by the one that took its place"
    );
    assert!(refused(&card, "2040-01-01T00:00:00Z").is_some());
}

#[test]
fn so_is_one_that_needs_a_limit_or_a_procedure_that_is() {
    let mut card = tension(3);
    card.limits[0].withdrawn = on("2031-05-01");
    assert_eq!(refused(&card, "2031-04-30T23:59:59Z"), None);
    assert!(
        refused(&card, "2031-05-01T00:00:00Z").unwrap().starts_with("the limit `limit`, which it needs, is")
    );
    let mut card = tension(3);
    card.frames[0].withdrawn = on("2031-05-01");
    assert!(refused(&card, "2031-05-01T00:00:00Z").unwrap().contains("which it performs"));
}

#[test]
fn a_job_that_was_begun_before_that_day_may_go_on() {
    let mut card = tension(3);
    card.withdrawn = on("2031-05-01");
    let session = Session::start(card.clone(), &[], "2031-04-30T10:00:00Z").unwrap();
    let mut again = Session::resume(card, session.events()).unwrap();
    again.answer(answer("62 Hz"), "2031-05-02T10:00:00Z").unwrap();
}
