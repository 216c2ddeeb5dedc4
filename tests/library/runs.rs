//! The readings of the library: each file runs its procedure to the result that its name promises.

use std::collections::BTreeSet;
use std::fs;

use dwell_card::graph::Act;
use dwell_record::report::Found;
use dwell_record::{Event, Outcome, Report};
use dwell_run::{Row, Rows, Session, drive};

use super::cards::cards;
use crate::merle::folder;

/// The van that all readings are for, as far as a procedure leaves it open.
const VAN: [(&str, &str); 4] =
    [("engine-family", "k9"), ("charging", "single"), ("wheelbase", "short"), ("wheel-kind", "steel")];

/// Files that leave something open on purpose, as the record then says.
const LEAVE_OPEN: [&str; 2] =
    ["high-voltage/readings/make-dead-interrupted.csv", "high-voltage/readings/make-dead-refused.csv"];

/// A readings file: its path below the library, the procedure, what its name promises.
struct Promise {
    path: String,
    procedure: String,
    kind: Kind,
}

/// What the name of a readings file promises.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Good,
    Adjusted,
    Refused,
    Interrupted,
}

impl Kind {
    /// Whether a run came out as promised. What is refused failed, or could not be finished for a reason in the readings.
    fn holds(self, result: Outcome, stopped: bool) -> bool {
        match self {
            Kind::Good => result == Outcome::Passed && !stopped,
            Kind::Adjusted => result == Outcome::AdjustedAndPassed && !stopped,
            Kind::Refused => matches!(result, Outcome::Failed | Outcome::Unfinished) && !stopped,
            Kind::Interrupted => result == Outcome::Unfinished && stopped,
        }
    }
}

/// The systems of the van: the folders of the library.
fn systems() -> Vec<String> {
    let entries = fs::read_dir(folder()).unwrap().map(|entry| entry.unwrap());
    let folders = entries.filter(|entry| entry.file_type().unwrap().is_dir());
    let mut all: Vec<String> = folders.map(|entry| entry.file_name().into_string().unwrap()).collect();
    all.sort();
    all
}

/// All readings files.
fn promises() -> Vec<Promise> {
    let mut all = Vec::new();
    for system in systems() {
        for entry in fs::read_dir(folder().join(&system).join("readings")).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            let (procedure, promised) = name.strip_suffix(".csv").unwrap().rsplit_once('-').unwrap();
            let kind = match promised {
                "good" => Kind::Good,
                "adjusted" => Kind::Adjusted,
                "refused" => Kind::Refused,
                "interrupted" => Kind::Interrupted,
                other => panic!("{name}: nobody knows what `{other}` promises"),
            };
            let path = format!("{system}/readings/{name}");
            all.push(Promise { path, procedure: procedure.to_owned(), kind });
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
        kept: row.kept,
        state: None,
    };
    Rows::new(rows.into_iter().map(row).collect())
}

/// Runs a procedure with a readings file; every row must be used.
fn run(procedure: &str, path: &str) -> (Session, Outcome) {
    tried(procedure, path).unwrap_or_else(|why| panic!("{path}: {why}"))
}

/// The same, with the reason where it cannot be run to its end.
fn tried(procedure: &str, path: &str) -> Result<(Session, Outcome), String> {
    let card = cards().remove(procedure).ok_or_else(|| format!("there is no procedure {procedure}"))?;
    let is_open = |axis: &str, value: &str| {
        card.axes.iter().any(|known| known.name == axis && known.values.iter().any(|known| known == value))
    };
    let variants: Vec<(String, String)> = VAN
        .iter()
        .filter(|(axis, value)| is_open(axis, value))
        .map(|(axis, value)| ((*axis).to_owned(), (*value).to_owned()))
        .collect();
    let mut minute = 0;
    let mut now = || {
        minute += 1;
        format!("2031-04-12T{:02}:{:02}:00+02:00", 9 + minute / 60, minute % 60)
    };
    let mut session = Session::start(card, &variants, &now()).map_err(|why| why.to_string())?;
    let mut rows = rows(path);
    let result = drive(&mut session, &mut rows, &mut now, &mut |_| ()).map_err(|why| why.to_string())?;
    match rows.left_over().as_slice() {
        [] => Ok((session, result)),
        left => Err(format!("ends {result:?}, and nobody asked for the rows {left:?} (from 0)")),
    }
}

fn is_stopped(session: &Session) -> bool {
    session.events().iter().any(|event| matches!(event.what, dwell_record::What::Stopped(_)))
}

#[test]
fn each_file_ends_as_its_name_promises() {
    let mut wrong = Vec::new();
    for promise in promises() {
        let (session, result) = match tried(&promise.procedure, &promise.path) {
            Ok(run) => run,
            Err(why) => {
                wrong.push(format!("{}: {why}", promise.path));
                continue;
            }
        };
        if !promise.kind.holds(result, is_stopped(&session)) {
            wrong.push(format!("{} ends {result:?}: {:?}", promise.path, session.report().told));
        }
        if session.open().is_empty() == LEAVE_OPEN.contains(&promise.path.as_str()) {
            wrong.push(format!("{} leaves open: {:?}", promise.path, session.open()));
        }
        assert_eq!(session.result(), Some(result));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_procedure_has_readings_of_every_kind() {
    let all = promises();
    for (name, card) in cards() {
        let has: BTreeSet<Kind> =
            all.iter().filter(|promise| promise.procedure == name).map(|promise| promise.kind).collect();
        let adjusts = card
            .nodes
            .iter()
            .any(|node| matches!(&node.act, Act::Judge(judge) if judge.adjusting && node.frame == 0));
        let mut wanted = BTreeSet::from([Kind::Good, Kind::Refused, Kind::Interrupted]);
        if adjusts {
            wanted.insert(Kind::Adjusted);
        }
        let missing: Vec<&Kind> = wanted.difference(&has).collect();
        assert!(missing.is_empty(), "{name} has no readings that are {missing:?}");
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
        let mut chain = dwell_record::Chain::default();
        let text: String = session.events().iter().map(|event| chain.line(event).unwrap()).collect();
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
fn the_library_is_as_large_as_it_says() {
    let systems = systems();
    assert!(systems.len() >= 8, "{systems:?}");
    assert!(cards().len() >= 12);
    for system in systems {
        assert!(folder().join(&system).join("readings").is_dir(), "{system} has no readings");
    }
}
