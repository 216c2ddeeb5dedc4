//! Texts that show what was read, answered and chosen: from the braces of the writer to the words at the vehicle.

use dwell_check::check::check;
use dwell_check::finding::Level;
use dwell_record::What;
use dwell_run::{Row, Rows, Session, drive};

use crate::one::One;

const TEXT: &str = r#"
variant market: cold, hot
positions wheel: left, right
item vehicle: removable "vehicle"
quantity gap: length at each wheel { never below 0 mm }
tool rule: hand-held "rule" { measures length 0 .. 100 mm resolution 0.1 mm accuracy ± 0.1 mm }
spec right-gap: gap {
    check 10 ± 3 mm when market is cold
    check 12 ± 3 mm when market is hot
    source "Invented."
}

procedure shown "Shown" {
    revision 1 on 2031-02-11 "First issue."
    applies to market cold, hot
    step one "One" {
        ask seen "Is the {market} sticker there?"
        for each wheel {
            measure gap with rule "On the {wheel} side."
            do "The {wheel} gap is {gap}; the sticker: {seen}."
        }
        note "Left {gap at left}, both {gap}."
        measure once-more: length with rule
        if once-more below 5 mm { end failed "Only {once-more} are left." }
        expect every gap meets right-gap
        otherwise { cause vehicle "{gap at right} on the right."  end failed "Out." }
    }
}
"#;

fn messages(text: &str) -> Vec<String> {
    check(&["shown.dwell".to_owned()], &One(text)).findings.into_iter().map(|found| found.message).collect()
}

#[test]
fn a_text_shows_what_was_read_answered_and_chosen() {
    let checked = check(&["shown.dwell".to_owned()], &One(TEXT));
    let grave = checked.findings.iter().filter(|found| found.level <= Level::Warning);
    let said: Vec<String> = grave.map(|found| found.message.clone()).collect();
    assert_eq!(said, Vec::<String>::new());
    let card = checked.procedures[0].card.clone().unwrap();
    let rows = [
        ("seen", "yes", None),
        ("gap", "9.5", Some("mm")),
        ("gap", "14.2", Some("mm")),
        ("once-more", "8", Some("mm")),
    ];
    let rows = rows.map(|(name, value, unit)| Row {
        name: name.into(),
        place: None,
        value: value.into(),
        unit: unit.map(str::to_owned),
        ..Row::default()
    });
    let now = || "2031-04-12T09:05:00+02:00".to_owned();
    let mut session = Session::start(card, &[("market".into(), "hot".into())], &now()).unwrap();
    drive(&mut session, &mut Rows::new(rows.to_vec()), &mut { now }, &mut |_| ()).unwrap();
    let told: Vec<String> = session
        .events()
        .iter()
        .filter_map(|event| match &event.what {
            What::Answered(answered) => Some(answered.text.clone()),
            What::Done(done) => Some(done.says.clone()),
            What::Ended(ended) => ended.text.clone(),
            What::Cause(cause) => cause.text.clone(),
            _ => None,
        })
        .collect();
    assert_eq!(
        told,
        [
            "Is the hot sticker there?",
            "The left gap is 9.5 mm; the sticker: yes.",
            "The right gap is 14.2 mm; the sticker: yes.",
            "Left 9.5 mm, both left: 9.5 mm, right: 14.2 mm.",
        ]
    );
}

#[test]
fn what_a_text_cannot_show_is_told() {
    let wrong = TEXT.replace("{gap at left}, both", "{gap at left}, bth {gab}, both");
    assert!(messages(&wrong).iter().any(|said| said.contains("`gab`")), "{:?}", messages(&wrong));
    let open = TEXT.replace("Only {once-more} are left.", "Only {once-more are left.");
    assert!(
        messages(&open).iter().any(|said| said.contains("{once-more are left.")),
        "{:?}",
        messages(&open)
    );
    let elsewhere = TEXT.replace("Only {once-more}", "Only {wheel}");
    assert!(messages(&elsewhere).iter().any(|said| said.contains("{wheel}")), "{:?}", messages(&elsewhere));
}
