//! A size from a series: chosen, taken, recorded and shown, through the whole from the text to the record.

use dwell_check::check::check;
use dwell_record::event::Chosen;
use dwell_record::{Outcome, What};
use dwell_run::{Row, Rows, Session, drive};

use crate::one::One;

const TEXT: &str = include_str!("soundness/texts/shims.dwell");

fn found(text: &str) -> Vec<String> {
    let checked = check(&["shims.dwell".to_owned()], &One(text));
    checked.findings.into_iter().map(|found| format!("{}: {}", found.rule, found.message)).collect()
}

/// How a run with these gaps and old shims ends, what was chosen, and what was told.
fn run(gaps: &[&str], old: &[&str]) -> (Outcome, Vec<Chosen>, Vec<String>) {
    let checked = check(&["shims.dwell".to_owned()], &One(TEXT));
    let card = checked.procedures[0].card.clone().unwrap();
    let row = |name: &str, value: &&str| Row {
        name: name.to_owned(),
        place: None,
        value: (*value).to_owned(),
        unit: (*value != "no reading").then(|| "mm".to_owned()),
        ..Row::default()
    };
    let rows: Vec<Row> =
        gaps.iter().map(|value| row("gap", value)).chain(old.iter().map(|value| row("old", value))).collect();
    let now = || "2031-04-12T09:05:00+02:00".to_owned();
    let mut session = Session::start(card, &[], &now()).unwrap();
    let result = drive(&mut session, &mut Rows::new(rows), &mut { now }, &mut |_| ()).unwrap();
    let again = Session::resume(session.card().clone(), session.events()).unwrap();
    assert!(again == session, "a record with a chosen size does not go on");
    let mut chosen = Vec::new();
    let mut told = Vec::new();
    for event in session.events() {
        match &event.what {
            What::Chosen(what) => chosen.push((**what).clone()),
            What::Done(done) => told.extend(done.text.clone().or_else(|| Some(done.says.clone()))),
            What::Ended(ended) => told.extend(ended.text.clone()),
            _ => {}
        }
    }
    (result, chosen, told)
}

#[test]
fn the_nearest_shim_is_taken_and_stays_what_it_was() {
    // By hand: 2.70 + 0.40 - 0.25 = 2.85 mm, half way between 2.84 and 2.86. Then 2.84 + 0.18 - 0.25 = 2.77 mm, half way too.
    let (result, chosen, told) = run(&["0.400", "0.180", "0.250"], &["2.700", "2.840"]);
    assert_eq!(result, Outcome::AdjustedAndPassed);
    let said: Vec<(&str, &str, Option<&str>)> =
        chosen.iter().map(|one| (one.shown.as_str(), one.wanted.as_str(), one.as_near.as_deref())).collect();
    assert_eq!(said, [("2.84 mm", "2.850 mm", Some("2.86 mm")), ("2.76 mm", "2.770 mm", Some("2.78 mm"))]);
    assert!(told.contains(&"2.84 mm, figures down.".to_owned()), "{told:?}");
    assert!(told.contains(
        &"Take the new shim of 2.84 mm (2.86 mm is as near: the smaller one is taken).".to_owned()
    ));
}

#[test]
fn where_no_shim_fits_the_text_says_how_to_go_on() {
    // By hand: 3.10 + 0.50 - 0.25 = 3.35 mm, and the largest is 3.20.
    let (result, chosen, told) = run(&["0.500"], &["3.100"]);
    assert_eq!(result, Outcome::Failed);
    assert_eq!((chosen.len(), chosen[0].shown.as_str()), (1, "no size fits"));
    assert!(told.contains(&"No shim fits: 3.350 mm is wanted.".to_owned()), "{told:?}");
    // Nothing read, nothing chosen.
    let (result, chosen, _) = run(&["0.500"], &["no reading"]);
    assert_eq!((result, chosen[0].wanted.as_str()), (Outcome::Failed, "no reading"));
}

#[test]
fn slips_in_a_choice_are_told() {
    assert_eq!(found(TEXT), Vec::<String>::new());
    let open =
        TEXT.replace("                otherwise { end failed \"No shim fits: {wanted} is wanted.\" }\n", "");
    assert!(found(&open).iter().any(|said| said.starts_with("no-way-out")), "{:?}", found(&open));
    let elsewhere = TEXT.replace("from shims nearest", "from shins nearest");
    assert!(found(&elsewhere).iter().any(|said| said.contains("shins")), "{:?}", found(&elsewhere));
    let kind = TEXT.replace("nearest wanted", "nearest 3 bar");
    assert!(found(&kind).iter().any(|said| said.starts_with("kind-mismatch")), "{:?}", found(&kind));
    let sided = TEXT.replace("otherwise { end failed \"No shim", "otherwise low { end failed \"No shim");
    assert!(found(&sided).iter().any(|said| said.contains("neither low nor high")), "{:?}", found(&sided));
}
