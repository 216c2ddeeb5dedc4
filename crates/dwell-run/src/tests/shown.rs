//! What terminal and page share: an interruption is told from a wait, and a photo changes nothing that is asked.

use super::build::*;
use crate::{Refusal, Session};
use dwell_card::graph::Act;
use dwell_record::event::PhotoTaken;

fn photo() -> PhotoTaken {
    let (sha256, media, says) = ("ab".repeat(32), "image/jpeg".to_owned(), "Measure.".to_owned());
    PhotoTaken { sha256, media, bytes: 3, says, text: Some("a crack".to_owned()) }
}

#[test]
fn an_hour_without_an_answer_is_an_interruption_and_a_wait_is_none() {
    let session = begun(&tension(3));
    let after = |minutes: u32| format!("2031-04-12T{:02}:{:02}:00+02:00", 9 + minutes / 60, minutes % 60);
    let from = NOW.get(11..16).unwrap();
    assert_eq!(from, "09:05", "the times below count from there");
    assert_eq!(session.paused(&after(64)), None);
    assert_eq!(session.paused(&after(65)), Some(3_600));
    assert_eq!(session.paused("2031-04-12T08:00:00+02:00"), None);
    let mut b = Build::new();
    b.add(Act::Wait { seconds: num("7200"), since: None, ripens: Vec::new(), says: "Wait.".into() });
    b.add(Act::Restore);
    assert_eq!(begun(&b.finish()).paused(&after(120)), None);
}

#[test]
fn a_photo_is_noted_and_what_is_asked_stays() {
    let card = tension(3);
    let mut session = begun(&card);
    let asked = session.ask();
    session.note_photo(photo(), NOW).unwrap();
    assert_eq!(session.ask(), asked);
    assert_eq!(session.report().photos, [photo()]);
    assert_eq!(Session::resume(card.clone(), session.events()).unwrap(), session);
    let mut over = begun(&card);
    over.stop("Enough.", NOW).unwrap();
    assert!(over.result().is_some());
    assert!(matches!(over.note_photo(photo(), NOW), Err(Refusal::Over)));
}
