//! Signatures: a name, a second person at a hold point, never left out.

use super::build::*;
use crate::{Halt, Prompt, Refusal, Row, Rows, Session, drive};
use dwell_card::graph::{Act, Work};
use dwell_card::{Card, Step};
use dwell_record::{Outcome, What};
use expect_test::expect;

/// A step that two persons sign, and one signature for what was put back.
fn signed() -> Card {
    let mut b = Build::new();
    let cover = b.slot("cover", &["fitted", "removed"]);
    b.card.steps.push(Step { name: "close".into(), title: "Close the terminals".into(), frame: 0 });
    b.work("Remove the cover.", cover, 0, 1, false);
    b.add(Act::Work(Work { says: "Tighten the terminals.".into(), ..Work::default() }));
    let sign = b.add(Act::Sign { persons: 2 });
    b.card.nodes[sign].step = Some(0);
    b.add(Act::Restore);
    b.work("Refit the cover.", cover, 1, 0, true);
    b.add(Act::Sign { persons: 1 });
    b.finish()
}

#[test]
fn two_persons_sign_a_hold_point_and_what_was_put_back_is_signed_last() {
    expect![[r#"
        Remove the cover. -> .
        Tighten the terminals. -> .
        Close the terminals: signed 1/2 -> @A. Weber
        Close the terminals: signed 2/2 -> @Bo  Adler
        Refit the cover. -> .
        What was put back: signed 1/1 -> @A. Weber
        = passed
    "#]]
    .assert_eq(&dialogue(&signed(), ".;.;@A. Weber;@Bo  Adler;.;@A. Weber"));
}

#[test]
fn the_record_and_the_report_say_who_signed_for_what() {
    let session = played(&signed(), ".;.;@A. Weber;@Bo Adler;.;@A. Weber");
    let steps: Vec<(String, String)> = session
        .events()
        .iter()
        .filter_map(|event| match &event.what {
            What::Signed(signed) => Some((signed.step.clone(), signed.by.clone())),
            _ => None,
        })
        .collect();
    let names = [("close", "A. Weber"), ("close", "Bo Adler"), ("restore", "A. Weber")];
    assert_eq!(steps, names.map(|(step, by)| (step.to_owned(), by.to_owned())));
    let report = session.report().to_string();
    assert!(report.contains("SIGNED\n  - Close the terminals: A. Weber (1 of 2)"), "{report}");
}

#[test]
fn one_person_is_not_two_and_a_blank_is_nobody() {
    let mut session = played(&signed(), ".;.;@A. Weber");
    for same in ["A. Weber", "a. weber", " A.  WEBER ", "A Weber"] {
        let refused = session.answer(answer(&format!("@{same}")), NOW);
        assert!(matches!(refused, Err(Refusal::SamePerson { .. })), "{same}: {refused:?}");
    }
    for nobody in ["", "  ", "-", "7"] {
        let refused = session.answer(answer(&format!("@{nobody}")), NOW);
        assert!(matches!(refused, Err(Refusal::NoName { .. })), "{nobody}: {refused:?}");
    }
    assert!(matches!(session.answer(answer("."), NOW), Err(Refusal::NotAsked { .. })));
    session.answer(answer("@Bo"), NOW).unwrap();
}

#[test]
fn a_stop_at_a_signature_puts_back_and_that_is_signed_too() {
    let mut session = played(&signed(), ".;.;@A. Weber");
    session.stop("The second person is away.", NOW).unwrap();
    session.answer(answer("."), NOW).unwrap();
    let Prompt::Sign(sign) = session.ask() else { panic!("{:?}", session.ask()) };
    assert_eq!((sign.step.as_str(), sign.person, sign.signed.len()), ("restore", 1, 0));
    session.answer(answer("@A. Weber"), NOW).unwrap();
    assert_eq!(session.result(), Some(Outcome::Unfinished));
}

#[test]
fn a_record_goes_on_between_two_signatures() {
    let session = played(&signed(), ".;.;@A. Weber");
    let again = Session::resume(signed(), session.events()).unwrap();
    assert_eq!(again, session);
}

fn row(name: &str, place: Option<&str>, value: &str) -> Row {
    Row { name: name.into(), place: place.map(str::to_owned), value: value.into(), ..Row::default() }
}

#[test]
fn signatures_come_from_rows_and_one_that_is_missing_halts_the_run() {
    let run = |rows: Rows| {
        let (mut session, mut rows) = (begun(&signed()), rows);
        drive(&mut session, &mut rows, &mut || NOW.into(), &mut |_| ()).map_err(|halt| {
            assert!(matches!(halt, Halt::Missing { .. } | Halt::Refused { .. }));
            halt.to_string()
        })
    };
    let all = vec![
        row("SIGNATURE", Some("restore"), "A. Weber"),
        row("SIGNATURE", None, "Bo Adler"),
        row("SIGNATURE", Some("close"), "A. Weber"),
    ];
    assert_eq!(run(Rows::new(all.clone())), Ok(Outcome::Passed));
    assert_eq!(
        run(Rows::new(all[..2].to_vec())).unwrap_err(),
        "there is no row left for the signature of a second person of `close`: add `SIGNATURE,NAME,` with the name of the \
         person who signs"
    );
    assert!(run(Rows::new(vec![all[1].clone(), all[1].clone()])).unwrap_err().contains("another person's"));
    assert_eq!(run(Rows::default().signing()), Ok(Outcome::Passed));
}
