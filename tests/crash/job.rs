//! A job of the demo library as it is meant to go, and a look at how far one came that was broken off.

use crate::program::bench::{Bench, Said, library};
use dwell_card::Card;
use dwell_record::{Event, Outcome, What};
use dwell_run::{Answer, Prompt, Session};
use dwell_store::{JobNumber, Records, Sqlite, Trouble};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::PathBuf;

/// The variants of the vehicle.
pub(super) const VARIANTS: [(&str, &str); 2] = [("engine-family", "k9"), ("charging", "single")];

/// The values that are read: the belt is slack, is set, and the charging voltage is in band.
const READINGS: [(&str, &[&str]); 3] = [
    ("rest", &["12.62"]),
    ("tension", &["49.2", "50.1", "49.5", "61.9", "62.3", "62.1"]),
    ("charge", &["14.18"]),
];

/// The job, answered to its end.
pub(super) struct Reference {
    pub(super) bench: Bench,
    pub(super) card: Card,
    /// Where each answer was asked for; the last one is the end.
    pub(super) places: Vec<String>,
    /// What is typed for each.
    pub(super) typed: Vec<String>,
    /// What each answer says in the record.
    pub(super) words: Vec<String>,
    pub(super) result: Outcome,
}

/// A prompt by what it is about, without what is only shown with it.
fn place(prompt: &Prompt) -> String {
    match prompt {
        Prompt::Confirm(known) => format!("{}: {}", known.node, known.says),
        Prompt::Need { node, says, .. } => format!("{node}: {says}"),
        Prompt::Reading(known) => format!("{}: {} {} of {}", known.node, known.name, known.round, known.of),
        Prompt::Question(known) => format!("{}: {}", known.node, known.text),
        Prompt::Sign(known) => format!("{}: {}", known.node, known.title),
        Prompt::Done { result } => format!("over: {result}"),
    }
}

/// The answers in a record, in words. Several values become one reading, which is no answer of its own.
fn answers(events: &[Event]) -> Vec<String> {
    let is_answer = |event: &&Event| match &event.what {
        What::NeedAnswered(need) => need.asked,
        What::Measured(measured) => measured.samples.len() == 1,
        other => matches!(other, What::Done(_) | What::Sampled(_)),
    };
    events.iter().filter(is_answer).map(Event::words).collect()
}

impl Reference {
    pub(super) fn new() -> Reference {
        let bench = Bench::new(&[]);
        let file = library().join("charging/belt-and-charging.dwell");
        assert_eq!(bench.run(&["build", file.to_str().unwrap(), "-o", "cards"]).status, 0);
        let card = Card::from_json(&bench.get("cards/belt-and-charging.card.json")).unwrap();
        let variants: Vec<(String, String)> =
            VARIANTS.iter().map(|(axis, value)| ((*axis).to_owned(), (*value).to_owned())).collect();
        let mut session = Session::start(card.clone(), &variants, "2031-04-12T09:05:00Z").unwrap();
        let mut values: BTreeMap<&str, std::slice::Iter<'_, &str>> =
            READINGS.iter().map(|(name, values)| (*name, values.iter())).collect();
        let (mut places, mut typed, mut words) = (Vec::new(), Vec::new(), Vec::new());
        while session.result().is_none() {
            let prompt = session.ask();
            places.push(place(&prompt));
            let (line, answer) = match &prompt {
                Prompt::Confirm(_) => (String::new(), Answer::Done),
                Prompt::Need { .. } => ("yes".to_owned(), Answer::Yes),
                Prompt::Reading(reading) => {
                    let value = values.get_mut(reading.name.as_str()).and_then(Iterator::next).unwrap();
                    let unit = Some(reading.unit.symbol().to_owned());
                    ((*value).to_owned(), Answer::Value { text: (*value).to_owned(), unit })
                }
                other => panic!("{other:?}"),
            };
            typed.push(line);
            session.answer(answer, "2031-04-12T09:05:00Z").unwrap();
        }
        places.push(place(&session.ask()));
        words.extend(answers(session.events()));
        let result = session.result().unwrap();
        assert!(typed.len() > 25, "a longer job is wanted");
        Reference { bench, card, places, typed, words, result }
    }

    /// What is typed from an answer on.
    pub(super) fn input(&self, from: usize) -> String {
        self.typed.iter().skip(from).fold(String::new(), |mut all, line| {
            writeln!(all, "{line}").unwrap();
            all
        })
    }

    /// The arguments that begin the job, or go on with it.
    pub(super) fn arguments(&self, store: &str, job: Option<JobNumber>) -> Vec<String> {
        let mut all: Vec<String> = match job {
            Some(job) => vec!["resume".into(), job.to_string()],
            None => vec!["run".into(), "cards/belt-and-charging.card.json".into()],
        };
        if job.is_none() {
            all.extend(
                VARIANTS.iter().flat_map(|(axis, value)| ["--variant".into(), format!("{axis}={value}")]),
            );
        }
        all.extend(["--store", store, "--person", "A. Weber"].map(str::to_owned));
        all
    }

    /// How many answers a screen acknowledges: after each but the last one the next thing is asked.
    pub(super) fn acknowledged(&self, out: &str) -> usize {
        let asks = |line: &&str| {
            let Some(line) = line.strip_prefix("  ").filter(|line| !line.starts_with(' ')) else {
                return false;
            };
            let is_reading = READINGS.iter().any(|(name, _)| line.starts_with(name)) && line.contains(" in ");
            line.contains(':')
                && (is_reading || line.starts_with("Enter when") || line.starts_with("yes or no"))
        };
        let over = usize::from(out.contains("\nResult: ") && !out.contains("Result: UNFINISHED"));
        (out.lines().filter(asks).count() + over).saturating_sub(1)
    }

    /// How far the last job of a store came. It must be whole, be what was typed, and wait at the right step.
    pub(super) fn came(&self, store: &str) -> Came {
        let path: PathBuf = self.bench.path(store);
        let opened = match Sqlite::look(&path) {
            Ok(opened) => opened,
            // Broken off before anything was in it.
            Err(error) if matches!(error.trouble, Trouble::Missing | Trouble::Foreign) => {
                return Came::default();
            }
            Err(error) => panic!("{error}"),
        };
        let Some(job) = opened.jobs().unwrap().pop() else { return Came::default() };
        let verified = opened.verify(Some(job.number)).unwrap();
        assert!(verified.wrong.is_empty(), "{:?}", verified.wrong);
        let record = opened.record(job.number).unwrap();
        let session = Session::resume(self.card.clone(), &record.events).unwrap();
        assert_eq!(session.events().len(), record.events.len(), "an answer is half in the record");
        let over = session.result().is_some();
        let noted = answers(&record.events);
        let answers = noted.len();
        assert_eq!(noted, self.words[..answers], "other answers than were given");
        assert_eq!(place(&session.ask()), self.places[answers], "the wrong step after {answers} answers");
        Came { job: Some(job.number), answers, over }
    }

    /// Goes on to the end without any trouble, which must be the same as always.
    pub(super) fn carried_through(&self, store: &str, came: &Came) {
        let said = self.said(store, came);
        assert!(said.out.contains("Result: ADJUSTED AND PASSED"), "{}\n{}", said.out, said.err);
        assert_eq!(said.status, 0, "{}", said.err);
        self.is_whole(store);
    }

    /// The last job of a store is over, its record is whole and says what it always says.
    pub(super) fn is_whole(&self, store: &str) {
        assert!(self.came(store).over);
        let opened = Sqlite::look(&self.bench.path(store)).unwrap();
        assert!(opened.verify(None).unwrap().wrong.is_empty());
        let job = opened.jobs().unwrap().pop().unwrap();
        assert_eq!(job.result.as_deref(), Some(self.result.words()));
        let report = dwell_record::Report::of(&opened.record(job.number).unwrap().events);
        let found: Vec<(&str, &str)> = report
            .readings
            .iter()
            .map(|line| (line.as_found.value.as_str(), line.as_left.value.as_str()))
            .collect();
        assert_eq!(found, [("12.62 V", "12.62 V"), ("49.6 Hz", "62.1 Hz"), ("14.18 V", "14.18 V")]);
    }

    fn said(&self, store: &str, came: &Came) -> Said {
        let arguments = self.arguments(store, came.job);
        let arguments: Vec<&str> = arguments.iter().map(String::as_str).collect();
        self.bench.fed(&arguments, &self.input(came.answers))
    }
}

/// How far a job came.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Came {
    /// The job; none where nothing is in the store yet.
    pub(super) job: Option<JobNumber>,
    /// How many answers are in the record.
    pub(super) answers: usize,
    /// Whether it is over.
    pub(super) over: bool,
}
