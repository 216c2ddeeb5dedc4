//! "Cannot, because …": the work ends unfinished, what is owed is put back, and the reason stands in the record.

use super::build::*;
use crate::{Answer, Prompt, Refusal, Session};
use dwell_record::Outcome;

fn cannot(session: &mut Session, why: &str) -> Result<(), Refusal> {
    session.answer(Answer::Cannot(why.into()), NOW).map(drop)
}

fn asked(session: &Session) -> String {
    match session.ask() {
        Prompt::Confirm(confirm) => confirm.says,
        other => format!("{other:?}"),
    }
}

#[test]
fn a_reading_or_work_that_cannot_be_done_leads_to_what_is_put_back() {
    for answers in ["50 Hz;.", "50 Hz;.;."] {
        let mut session = played(&tension(3), answers);
        cannot(&mut session, " the adjuster  is seized ").unwrap();
        assert_eq!(asked(&session), "Refit the belt guard.", "{answers}");
        session.answer(Answer::Done, NOW).unwrap();
        assert_eq!(session.result(), Some(Outcome::Unfinished));
        assert_eq!(session.report().cannot[0].why, "the adjuster is seized");
        assert_eq!(Session::resume(tension(3), session.events()).unwrap(), session);
    }
    let mut session = begun(&tension(3));
    cannot(&mut session, "the meter is broken").unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn what_cannot_be_put_back_stays_open_and_nothing_passes() {
    let mut session = played(&tension(3), "50 Hz;.;.;62 Hz");
    assert_eq!(asked(&session), "Refit the belt guard.");
    cannot(&mut session, "a clip is broken").unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
    assert_eq!(session.report().open, ["The belt guard is removed"]);
    assert_eq!(Session::resume(tension(3), session.events()).unwrap(), session);
}

#[test]
fn without_a_reason_it_is_no_answer() {
    let mut session = begun(&tension(3));
    assert_eq!(cannot(&mut session, " . "), Err(Refusal::NoReason));
    assert_eq!(session, begun(&tension(3)));
}
