//! A file to which another program writes readings: its rows, put together to rounds.

use crate::feed::{Feed, Heard, Round};
use dwell_readings::{Fault, LiveLog, Row, Value};
use dwell_run::{Given, Wanted};
use std::path::Path;
use std::sync::mpsc::{Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// How often the file is looked at.
const LOOK: Duration = Duration::from_millis(50);
/// How long a first value may take.
const PATIENCE: Duration = Duration::from_secs(5);

/// Listens to a file: rows that are written from now on count.
pub(crate) fn feed(path: &Path, wanted: &[Wanted]) -> Feed {
    let (give, rounds) = channel();
    let name = path
        .file_name()
        .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
    let (path, wanted) = (path.to_owned(), wanted.to_vec());
    // Followed before anybody is asked: no row that comes after the question is missed.
    let log = LiveLog::follow(&path);
    let (listening, heard) = Heard::pair();
    thread::spawn(move || {
        let told = match log {
            Ok(log) => follow(log, &wanted, &give, &heard),
            Err(fault) => Err(fault),
        };
        if let Err(fault) = told {
            let _ = give.send(Round::Fault(in_words(&path, &fault)));
        }
    });
    Feed::new(name, PATIENCE, rounds, listening)
}

fn in_words(path: &Path, fault: &Fault) -> String {
    format!("{}, {}: {}; {}", path.display(), fault.place(), fault.what, fault.help)
}

/// Gives rounds until nobody listens. A fault ends it: nobody knows what was lost.
fn follow(mut log: LiveLog, wanted: &[Wanted], give: &Sender<Round>, heard: &Heard) -> Result<(), Fault> {
    let mut half = Half { given: vec![None; wanted.len()], at: None };
    loop {
        for row in log.rows()? {
            let Some(place) = wanted.iter().position(|one| one.name == row.name && one.place == row.at)
            else {
                continue;
            };
            for round in half.put(place, &row) {
                if give.send(round).is_err() {
                    return Ok(());
                }
            }
        }
        if !heard.after(LOOK) {
            return Ok(());
        }
    }
}

/// A round of which some readings have come.
struct Half {
    given: Vec<Option<Given>>,
    at: Option<u64>,
}

impl Half {
    /// One more row: the rounds that are complete with it. Where a reading comes again before the others of its round have,
    /// those could not be read at that moment.
    fn put(&mut self, place: usize, row: &Row) -> Vec<Round> {
        let mut rounds = Vec::new();
        if self.given.get(place).is_some_and(Option::is_some) {
            rounds.push(self.take());
        }
        let at =
            row.time.as_ref().map(|time| (time.value.to_f64() * 1000.0).round().clamp(0.0, 9.0e15) as u64);
        self.at = self.at.or(at);
        if let Some(given) = self.given.get_mut(place) {
            *given = Some(given_by(row));
        }
        if self.given.iter().all(Option::is_some) {
            rounds.push(self.take());
        }
        rounds
    }

    fn take(&mut self) -> Round {
        let given = self.given.iter_mut().map(|given| given.take().unwrap_or_else(Given::nothing)).collect();
        Round::Values { given, at: self.at.take(), came: Instant::now() }
    }
}

fn given_by(row: &Row) -> Given {
    match row.value {
        Value::NoReading => Given::nothing(),
        _ => Given { text: row.typed.clone(), unit: row.unit.as_ref().map(|unit| unit.typed.clone()) },
    }
}
