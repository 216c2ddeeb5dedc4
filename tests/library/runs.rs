//! The readings of the library: each file runs its procedure to the result that its name promises.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;

use dwell_record::report::Found;
use dwell_record::{Event, Outcome, Report};
use dwell_run::{Row, Rows, Session, drive};

use super::cards::cards;
use crate::merle::folder;

/// The van that all readings are for.
const VAN: [(&str, &str); 3] = [("engine-family", "k9"), ("charging", "single"), ("wheelbase", "short")];

/// A readings file: its path below the library, the procedure, what its name promises.
struct Promise {
    path: String,
    procedure: String,
    result: Outcome,
}

/// All readings files.
fn promises() -> Vec<Promise> {
    let mut all = Vec::new();
    for system in ["charging", "cooling", "steering"] {
        for entry in fs::read_dir(folder().join(system).join("readings")).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            let (procedure, promised) = name.strip_suffix(".csv").unwrap().rsplit_once('-').unwrap();
            let result = match promised {
                "good" => Outcome::Passed,
                "adjusted" => Outcome::AdjustedAndPassed,
                "refused" => Outcome::Failed,
                "interrupted" => Outcome::Unfinished,
                other => panic!("{name}: nobody knows what `{other}` promises"),
            };
            let path = format!("{system}/readings/{name}");
            all.push(Promise { path, procedure: procedure.to_owned(), result });
        }
    }
    all.sort_by(|one, other| one.path.cmp(&other.path));
    all
}

/// The rows of a readings file as the runner takes them.
fn rows(path: &str) -> Rows {
    let text = fs::read_to_string(folder().join(path)).unwrap();
    let rows = dwell_readings::read(&text).unwrap_or_else(|faults| panic!("{path}: {faults:?}"));
    let row = |row: dwell_readings::Row| Row {
        name: row.name,
        place: row.at,
        value: row.typed,
        unit: row.unit.map(|unit| unit.typed),
        time: row.time.map(|time| time.to_string()),
        list: None,
    };
    Rows::new(rows.into_iter().map(row).collect())
}

/// Runs a procedure with a readings file; every row must be used.
fn run(procedure: &str, path: &str) -> (Session, Outcome) {
    let card = cards().remove(procedure).unwrap_or_else(|| panic!("there is no procedure {procedure}"));
    let variants: Vec<(String, String)> = VAN
        .iter()
        .filter(|(axis, _)| card.axes.iter().any(|known| known.name == *axis))
        .map(|(axis, value)| ((*axis).to_owned(), (*value).to_owned()))
        .collect();
    let mut minute = 0;
    let mut now = || {
        minute += 1;
        format!("2031-04-12T{:02}:{:02}:00+02:00", 9 + minute / 60, minute % 60)
    };
    let mut session =
        Session::start(card, &variants, &now()).unwrap_or_else(|refusal| panic!("{path}: {refusal}"));
    let mut rows = rows(path);
    let result =
        drive(&mut session, &mut rows, &mut now, &mut |_| ()).unwrap_or_else(|halt| panic!("{path}: {halt}"));
    assert_eq!(rows.left_over(), Vec::<usize>::new(), "{path}: rows that nobody asked for");
    (session, result)
}

#[test]
fn each_file_ends_as_its_name_promises() {
    let all = promises();
    for promise in &all {
        let (session, result) = run(&promise.procedure, &promise.path);
        assert_eq!(result, promise.result, "{}\n{:#?}", promise.path, session.report());
        assert_eq!(session.result(), Some(result));
        assert_eq!(session.open(), Vec::<String>::new(), "{} leaves something open", promise.path);
    }
    let told: BTreeSet<(&str, Outcome)> =
        all.iter().map(|promise| (promise.procedure.as_str(), promise.result)).collect();
    for main in ["belt-and-charging", "pressure-test", "front-toe"] {
        for result in [Outcome::Passed, Outcome::AdjustedAndPassed, Outcome::Failed] {
            assert!(told.contains(&(main, result)), "{main} has no readings that end {result}");
        }
    }
}

/// The lines of the report for a reading: as found and as left, each as value, band and words.
fn found_and_left(report: &Report, reading: &str) -> [String; 2] {
    let line = report.readings.iter().find(|line| line.reading.name == reading).unwrap();
    let told = |found: &Found| {
        format!(
            "{} | {} | {}",
            found.value,
            found.band.clone().unwrap_or_default(),
            found.words().unwrap_or_default()
        )
    };
    [told(&line.as_found), told(&line.as_left)]
}

#[test]
fn readings_are_reported_as_found_and_as_left() {
    // By hand: (49.2 + 50.1 + 49.5) / 3 = 49.6 and 56 - 49.6 = 6.4; (61.9 + 62.3 + 62.1) / 3 = 62.1.
    let (session, _) = run("belt-and-charging", "charging/readings/belt-and-charging-adjusted.csv");
    let report = session.report();
    assert_eq!(
        found_and_left(&report, "tension"),
        ["49.6 Hz | 56 .. 68 Hz | LOW by 6.4 Hz", "62.1 Hz | 59 .. 65 Hz | in band"]
    );
    let charge = "14.18 V | 13.8 .. 14.6 V | in band";
    assert_eq!(found_and_left(&report, "charge"), [charge, charge]);

    // By hand: 14 - 6 = 8.
    let (session, _) = run("pressure-test", "cooling/readings/pressure-test-adjusted.csv");
    assert_eq!(
        found_and_left(&session.report(), "drop"),
        ["14.0 kPa | at most 6 kPa | HIGH by 8.0 kPa", "2.0 kPa | at most 3 kPa | in band"]
    );

    // By hand: (5.2 + 5.1 + 5.3) / 3 = 5.2 and 5.2 - 3.0 = 2.2; (2.1 + 2.2 + 2.1) / 3 = 2.13, and the bar shows hundredths.
    let (session, _) = run("front-toe", "steering/readings/front-toe-adjusted.csv");
    assert_eq!(
        found_and_left(&session.report(), "toe"),
        ["5.20 mm | 1.0 .. 3.0 mm | HIGH by 2.20 mm", "2.13 mm | 1.6 .. 2.4 mm | in band"]
    );
}

#[test]
fn a_failed_run_says_what_is_wrong_with_the_vehicle() {
    let (session, _) = run("belt-and-charging", "charging/readings/belt-and-charging-refused.csv");
    let report = session.report();
    // By hand: 15.32 - 14.60 = 0.72.
    assert_eq!(found_and_left(&report, "charge")[1], "15.32 V | 13.8 .. 14.6 V | HIGH by 0.72 V");
    assert_eq!(report.told, ["Renew the regulator."]);
    let causes: Vec<&str> = report.causes.iter().map(|cause| cause.item.as_str()).collect();
    assert_eq!(causes, ["voltage regulator"]);
}

#[test]
fn a_record_is_read_back_and_goes_on_where_it_stopped() {
    for promise in promises() {
        let (session, result) = run(&promise.procedure, &promise.path);
        let text: String =
            session.events().iter().map(|event| dwell_record::write_line(event).unwrap()).collect();
        let read = dwell_record::read(text.as_bytes()).unwrap();
        assert!(read.torn.is_none(), "{}", promise.path);
        let events: Vec<Event> = read.events;
        assert_eq!(events, session.events(), "{}", promise.path);
        assert_eq!(Report::of(&events).result, Some(result), "{}", promise.path);
        let again = Session::resume(session.card().clone(), &events).unwrap();
        assert!(again == session, "{} is not the same when it goes on", promise.path);
    }
}

#[test]
fn every_line_of_a_record_is_valid_by_its_schema() {
    let validator = jsonschema::validator_for(&dwell_record::schema()).unwrap();
    let mut lines = 0;
    for promise in promises() {
        let (session, _) = run(&promise.procedure, &promise.path);
        for event in session.events() {
            let json = serde_json::to_value(event).unwrap();
            let wrong: Vec<String> = validator.iter_errors(&json).map(|error| error.to_string()).collect();
            assert!(wrong.is_empty(), "{}: {json}: {wrong:?}", promise.path);
            let mut damaged = json.clone();
            damaged["seq"] = serde_json::json!("first");
            assert!(!validator.is_valid(&damaged));
            lines += 1;
        }
    }
    assert!(lines > 100, "only {lines} lines");
}

#[test]
fn the_library_has_a_readings_folder_for_every_system() {
    let library = folder();
    let systems: BTreeSet<String> = fs::read_dir(&library)
        .unwrap()
        .map(|entry| entry.unwrap())
        .filter(|entry| entry.file_type().unwrap().is_dir())
        .map(|entry| entry.file_name().into_string().unwrap())
        .collect();
    assert_eq!(systems, ["charging", "cooling", "steering"].map(String::from).into());
    for system in systems {
        assert!(Path::new(&library.join(system).join("readings")).is_dir());
    }
}
