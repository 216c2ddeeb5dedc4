//! Limits of the law as Dwell texts, each run on its limit, just inside and just outside.
//!
//! `law/` holds the texts, `data/law_limits.csv` the limits with where they stand and where they were read. What counts is
//! the whole way: the texts are compiled by the checker, and the cards are driven by the runner.

mod idle;
mod isolation;
mod order;

use std::fs;
use std::path::PathBuf;

use dwell_card::Card;
use dwell_check::check::check;
use dwell_check::lower::lower;
use dwell_check::program::Program;
use dwell_check::resolve::resolve;
use dwell_quantity::Exact;
use dwell_record::Outcome;
use dwell_run::{Row as Given, Rows, Session, drive};
use dwell_workspace::Folder;

use super::{exact, rows};

const AT: &str = "2031-04-12T09:05:00+02:00";

/// The text that has holes where the law has them: what the checker says of it, and of nothing else.
const WITH_HOLES: &str = "49-cfr-570-60";

fn folder(file: &str) -> Folder {
    Folder::of(&[PathBuf::from(env!("CARGO_MANIFEST_DIR")).join(format!("outside/law/{file}.dwell"))])
}

/// The card of a procedure of a text, in which nothing but a hole in a table may be found.
fn card(file: &str, procedure: &str) -> Card {
    let found = folder(file);
    let checked = check(found.roots(), &found);
    let holes = checked.findings.iter().filter(|finding| finding.rule == "table-gap").count();
    assert_eq!(checked.findings.len(), holes, "{}", crate::merle::all_told(&checked));
    assert!(holes == 0 || file == WITH_HOLES, "{}", crate::merle::all_told(&checked));
    let mut troubles = Vec::new();
    let program = Program::load(found.roots(), &found, &mut troubles);
    let model = resolve(&program, &mut troubles);
    let place = model.procedures.iter().position(|head| head.name == procedure);
    let place = place.unwrap_or_else(|| panic!("{file} has no {procedure}"));
    let card = lower(&program, &model, place, &mut troubles).unwrap().card;
    let proved = checked.procedures.into_iter().find(|compiled| compiled.name == procedure).unwrap().card;
    assert!(file == WITH_HOLES || proved.as_ref() == Some(&card), "{file} {procedure} is not proved");
    card
}

/// The cases that stand in the texts themselves.
#[test]
fn every_case_of_the_law_ends_as_it_says() {
    let (mut run, mut wrong) = (0, Vec::new());
    for entry in fs::read_dir(crate::root().join("tests/outside/law")).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|ending| ending != "dwell") {
            continue;
        }
        let found = Folder::of(&[path]);
        let checked = check(found.roots(), &found);
        let tested = dwell_trial::test(&checked, None, AT);
        let failures = tested.cases().filter_map(|case| case.failure.as_ref());
        wrong.extend(failures.map(|failure| crate::merle::told(&checked, failure)));
        run += tested.cases().filter(|case| case.ends.is_some()).count();
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(run >= 20, "only {run} cases");
}

/// 49 CFR 570.60, Table 3: between which sizes the law itself says nothing.
#[test]
fn the_checker_names_every_hole_of_a_table() {
    let found = folder(WITH_HOLES);
    let checked = check(found.roots(), &found);
    let told: Vec<String> = checked.findings.iter().map(|finding| finding.message.clone()).collect();
    for seam in
        ["between at most 16 in and 16.01 .. 18.00 in", "between 16.01 .. 18.00 in and at least 18.01 in"]
    {
        assert_eq!(told.iter().filter(|message| message.contains(seam)).count(), 1, "{seam}: {told:#?}");
    }
    assert_eq!(told.len(), 2, "{told:#?}");
}

/// A row as `rim 16 in`, `stops yes`, `rim no reading`.
fn given(text: &str) -> Given {
    let (name, rest) = text.trim().split_once(' ').unwrap();
    let (value, unit) = match rest {
        "no reading" => (rest, None),
        _ => rest.split_once(' ').map_or((rest, None), |(value, unit)| (value, Some(unit.to_owned()))),
    };
    Given {
        name: name.to_owned(),
        place: None,
        value: value.to_owned(),
        unit,
        kept: true,
        ..Given::default()
    }
}

/// Runs a card with rows, of which none may be left over if all that is asked is in; how it ends, and the job.
fn run(card: &Card, values: &[String]) -> (Outcome, Session) {
    let mut session = Session::start(card.clone(), &[], AT).unwrap();
    let mut rows = Rows::new(values.iter().map(|text| given(text)).collect());
    let result = drive(&mut session, &mut rows, &mut || AT.to_owned(), &mut |_| ())
        .unwrap_or_else(|halt| panic!("{values:?}: {halt}"));
    assert!(result != Outcome::Passed || rows.left_over().is_empty(), "{values:?}");
    (result, session)
}

#[test]
fn every_limit_on_it_just_inside_and_just_outside() {
    let limits = rows(include_str!("data/law_limits.csv"));
    for row in &limits {
        let card = card(row.get("file"), row.get("procedure"));
        let (limit, step) = (exact(row.get("limit")), exact(row.get("step")));
        let more = row.get("side") == "at least";
        assert!(more || row.get("side") == "at most", "{}", row.get("id"));
        let (inside, outside) = match more {
            true => (limit.clone() + step.clone(), limit.clone() - step),
            false => (limit.clone() - step.clone(), limit.clone() + step),
        };
        for (value, wanted) in
            [(limit, Outcome::Passed), (inside, Outcome::Passed), (outside, Outcome::Failed)]
        {
            let mut values: Vec<String> =
                row.get("others").split(';').filter(|other| !other.is_empty()).map(str::to_owned).collect();
            values.push(format!("{} {} {}", row.get("reading"), value.fixed(8), row.get("unit")));
            assert_eq!(run(&card, &values).0, wanted, "{} with {values:?}", row.get("id"));
        }
    }
    for law in [
        "49 CFR 570.7, Table 1",
        "49 CFR 570.60",
        "49 CFR 570.7(d)",
        "40 CFR 85.2203(a)",
        "40 CFR 85.2203(b)",
        "UN R100 5.1.3.1",
    ] {
        assert!(limits.iter().any(|row| row.get("citation").starts_with(law)), "nothing of {law}");
    }
}

/// 49 CFR 570.7, Table 1 has rows for 16 in and less, 18, 20 and 22 in; Table 3 of 570.60 begins anew at 16.01 in.
#[test]
fn a_wheel_that_the_table_has_no_row_for_is_no_reading() {
    let card = card("49-cfr-570", "wheel-play");
    for rim in ["16.01", "17", "17.999", "18.001", "19", "21", "22.001", "24"] {
        for play in ["0", "2", "2.25", "9"] {
            let (result, session) = run(&card, &[format!("rim {rim} in"), format!("play {play} in")]);
            assert_eq!(result, Outcome::Unfinished, "rim {rim}, play {play}");
            let told = session.report().told;
            assert_eq!(told, ["The table has no row for this steering wheel."], "rim {rim}, play {play}");
        }
    }
    let heavy = self::card(WITH_HOLES, "heavy-linkage-play");
    for rim in ["16.001", "16.009", "18.005"] {
        let (result, _) = run(&heavy, &[format!("rim {rim} in"), "play 0 in".to_owned()]);
        assert_eq!(result, Outcome::Unfinished, "rim {rim}");
    }
}

/// 49 CFR 570.55(c): (A - B) / A. A pedal that already stands on the floor has no travel to be a share of.
#[test]
fn a_share_of_nothing_is_no_reading() {
    let card = card("49-cfr-570", "brakes");
    let (result, session) = run(&card, &["free 0 in".to_owned(), "pressed 0 in".to_owned()]);
    assert_eq!(result, Outcome::Unfinished);
    assert!(session.report().told[0].starts_with("The pedal stands on the floor"));
}

/// A limit in inches holds for a reading in millimetres: 25.4 mm to the inch, exactly.
#[test]
fn a_limit_in_inches_is_exact_in_millimetres() {
    let card = card("49-cfr-570", "wheel-play");
    for (play, wanted) in
        [("57.15", Outcome::Passed), ("57.1500001", Outcome::Failed), ("57.1499999", Outcome::Passed)]
    {
        let (result, _) = run(&card, &["rim 457.2 mm".to_owned(), format!("play {play} mm")]);
        assert_eq!(result, wanted, "{play} mm");
    }
    let quarter = exact("57.15").checked_div(&exact("25.4")).unwrap();
    assert_eq!(quarter, exact("2.25"));
    assert_ne!(quarter, Exact::zero());
}

/// 40 CFR 85.2203(a): both gases count, and 1.2 % is 12000 ppm (40 CFR 1066.20(b)(6): 10 mmol/mol is 1 %).
#[test]
fn one_gas_above_its_limit_fails_and_no_value_is_no_reading() {
    let card = card("40-cfr-85-2203", "idle-test");
    let ends = |hc: &str, co: &str| run(&card, &[format!("gas-hc {hc}"), format!("gas-co {co}")]).0;
    assert_eq!(ends("220 ppm", "12000 ppm"), Outcome::Passed);
    assert_eq!(ends("220 ppm", "12001 ppm"), Outcome::Failed);
    assert_eq!(ends("221 ppm", "0 %"), Outcome::Failed);
    assert_eq!(ends("0 ppm", "1.21 %"), Outcome::Failed);
    assert_eq!(ends("no reading", "1 %"), Outcome::Unfinished);
}
