//! `dwell run`: a procedure carried out step by step, by a person at the terminal or by a file of readings.

pub(super) mod asking;
mod back;
mod by_itself;
mod ending;
mod journal;
mod readings;
pub(super) mod sheet;
mod telling;
pub(crate) mod terminal;
pub(super) mod tools;

use super::card::{For, card};
use super::kept::{self, Kept, Person, moment};
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::anyhow;
use asking::Asked;
use clap::Args;
use dwell_live::Live;
use dwell_record::event::By;
use dwell_record::{Event, Outcome, Vehicle, Vin};
use dwell_run::{Refusal, Session, Start};
use dwell_store::Sqlite;
pub(super) use journal::Journal;
use readings::Readings;
use sheet::Sheet;
use std::io::IsTerminal;
use std::path::PathBuf;
pub(super) use telling::Telling;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// Carry out a procedure.
///
/// A `.dwell` file is checked first, and refused while an error is open; a card is carried out as it is. With `--readings`
/// it runs by itself: work is taken as done, needs as met unless a row says no, and values come from the rows. Without, X
///
/// What is done at a vehicle is recorded: each answer is on the disk before the next thing is asked. `dwell resume` goes on
/// after an interruption, `dwell records` shows what is kept. A run with `--readings` is kept only with `--store`.
///
/// Exit status: 0 passed, or adjusted and passed; 1 failed; 2 wrong use, a file that could not be read, a reading that was
/// refused or is missing; 3 unfinished; 4 referred to another procedure.
#[derive(Debug, Args)]
pub(crate) struct Run {
    /// A card, or a file with a procedure
    #[arg(value_name = "CARD-or-FILE")]
    file: PathBuf,
    /// Which procedure of the file, where it has several
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
    /// A variant of the vehicle, once for each that the procedure depends on: engine-family=k9
    #[arg(long = "variant", value_name = "NAME=VALUE", value_parser = variant)]
    variants: Vec<(String, String)>,
    /// The vehicle's number, 17 characters, to be noted in the record
    #[arg(long, value_name = "VIN", value_parser = Vin::parse)]
    vehicle: Option<Vin>,
    /// Readings as comma-separated values
    #[arg(long, value_name = "FILE.csv")]
    readings: Option<PathBuf>,
    /// Write what happens to this new file, event by event
    #[arg(long, value_name = "FILE.jsonl")]
    record: Option<PathBuf>,
    #[command(flatten)]
    kept: Kept,
    /// Keep no record: only for trying a procedure out
    #[arg(long, conflicts_with = "store")]
    no_store: bool,
    #[command(flatten)]
    person: Person,
    #[command(flatten)]
    plain: Plain,
    #[command(flatten)]
    tools: tools::Tools,
    /// A file to which another program writes readings while the job goes on: what comes while a reading is asked for is shown
    /// and taken with Enter
    #[arg(long, value_name = "FILE.csv", conflicts_with = "readings")]
    live: Option<PathBuf>,
}

/// What is said of this command where its card is not there.
const RUN: For = For { name: "run", to: "run", done: "run" };

/// Reads `engine-family=k9`.
pub(super) fn variant(text: &str) -> Result<(String, String), String> {
    match text.split_once('=') {
        Some((name, value)) if !name.trim().is_empty() && !value.trim().is_empty() => {
            Ok((name.trim().to_owned(), value.trim().to_owned()))
        }
        _ => Err("write the name of the variant, `=`, and its value: engine-family=k9".to_owned()),
    }
}

impl Run {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let Some(card) = card(screen, &self.file, self.procedure.as_deref(), &RUN)? else {
            return Ok(Exit::Trouble);
        };
        let rows = match &self.readings {
            Some(path) => match readings::rows(screen, path, &card)? {
                Some(rows) => Some(rows),
                None => return Ok(Exit::Trouble),
            },
            None => None,
        };
        let live =
            Live::new(self.tools.register(&self.file)?, self.live.as_deref()).map_err(|why| anyhow!(why))?;
        let by = self.person.by();
        // What is run with a file of readings was done at no vehicle: it is kept only where that is asked for.
        let wanted = !self.no_store && (rows.is_none() || self.kept.store.is_some());
        let store = match wanted {
            true => Some(Sqlite::open(&self.kept.path()?).map_err(|error| unkept(&error))?),
            false => None,
        };
        let start = Start { vehicle: self.vehicle.as_ref().map(Vehicle::from), by: by.clone() };
        let session = Session::start_with(card, &self.variants, start, &now()?);
        let session = session.map_err(|refusal| refused(&refusal))?;
        if let Some(vin) = &self.vehicle {
            doubt(vin);
        }
        let mut journal = Journal::new(self.kept.typed()).with_file(self.record.as_deref())?;
        match store {
            Some(store) => {
                unfinished(&store, &session, &self.kept)?;
                journal.begin(store, session.card(), session.events(), &by)?;
            }
            None => journal.write(session.events())?,
        }
        let mut job = Job::new(session, journal, self.readings.is_none());
        job.live = live;
        let Job { session, telling, journal, .. } = &mut job;
        let mut events = session.events().iter();
        telling.tell(screen, &events.by_ref().take(1).cloned().collect::<Vec<_>>())?;
        if let Some(number) = journal.job() {
            screen.line(&format!("job {number}"))?;
        }
        telling.tell(screen, &events.cloned().collect::<Vec<_>>())?;
        let asks = rows.is_none();
        self.tools.take(&mut job, screen, &self.file, asks)?;
        finish(job, rows, screen, self.plain)
    }
}

/// How a person is asked.
#[derive(Clone, Copy, Debug, Args)]
pub(crate) struct Plain {
    /// Ask line by line even on a terminal, instead of on the whole screen
    #[arg(long)]
    plain: bool,
}

impl Plain {
    /// Whether a person sits at a terminal that can be drawn on.
    fn is_whole_screen(self) -> bool {
        let dumb = std::env::var_os("TERM").is_none_or(|term| term == "dumb" || term.is_empty());
        !self.plain && !dumb && std::io::stdin().is_terminal() && std::io::stdout().is_terminal()
    }
}

/// What belongs to one run.
pub(super) struct Job {
    session: Session,
    journal: Journal,
    pub(super) telling: Telling,
    pub(super) live: Live,
    by: By,
    /// The times of a sheet of paper, where it is typed in from one.
    sheet: Option<Sheet>,
}

impl Job {
    /// A session that has begun, with its record.
    pub(super) fn new(session: Session, journal: Journal, asked: bool) -> Job {
        let telling = Telling::new(session.card(), asked);
        let by = session.by();
        Job { session, journal, telling, live: Live::default(), by, sheet: None }
    }

    /// The same, typed in from a sheet of paper.
    pub(super) fn on_paper(self, sheet: Sheet) -> Job {
        Job { sheet: Some(sheet), ..self }
    }

    /// All that happened so far.
    pub(super) fn events(&self) -> &[Event] {
        self.session.events()
    }

    /// The number that a line has on the sheet which is typed in.
    fn line(&self, node: usize) -> Option<&str> {
        self.sheet.as_ref()?.line(node)
    }

    /// Whether it is typed in from a sheet of paper.
    fn is_on_paper(&self) -> bool {
        self.sheet.is_some()
    }

    /// The time that counts: the one on the sheet, else that of the clock.
    fn now(&self) -> anyhow::Result<String> {
        match &self.sheet {
            Some(sheet) => sheet.now(),
            None => now(),
        }
    }

    /// Takes the time off a line that is typed in from a sheet.
    fn timed(&mut self, line: &str) -> Result<String, String> {
        match &mut self.sheet {
            Some(sheet) => sheet.timed(line),
            None => Ok(line.to_owned()),
        }
    }

    /// Does one thing at the time that counts. On paper it is noted first who types it, and when; where it is refused, nothing is.
    fn does(
        &mut self,
        go: impl FnOnce(&mut Session, &str) -> Result<Vec<Event>, Refusal>,
    ) -> anyhow::Result<Result<Vec<Event>, Refusal>> {
        let at = self.now()?;
        let Some(sheet) = &self.sheet else { return Ok(go(&mut self.session, &at)) };
        let mut session = self.session.clone();
        let mut events = session.from_paper(sheet.typed()?, &at)?;
        Ok(go(&mut session, &at).map(|more| {
            self.session = session;
            events.extend(more);
            events
        }))
    }

    /// Something happened: it is recorded first, and then told.
    fn happened(&mut self, screen: &mut Screen, events: &[Event]) -> anyhow::Result<()> {
        self.journal.write(events)?;
        self.telling.tell(screen, events)
    }
}

/// Carries a job on to its end, or to where nobody answers any more, and shows how it stands then.
pub(super) fn finish(
    mut job: Job,
    rows: Option<Readings>,
    screen: &mut Screen,
    plain: Plain,
) -> anyhow::Result<Exit> {
    let asked = match rows {
        Some(rows) => readings::drive(&mut job, screen, rows)?,
        None if job.sheet.is_none() && plain.is_whole_screen() => {
            screen.flush()?;
            terminal::ask(&mut job, screen.style.colour, screen.style.ascii)?
        }
        None => asking::ask(&mut job, screen)?,
    };
    ending::show(screen, &job.session)?;
    let result = job.session.result();
    job.journal.end(screen, result.is_none())?;
    Ok(match (asked, result) {
        (Asked::Refused, _) => Exit::Trouble,
        (_, Some(Outcome::Passed | Outcome::AdjustedAndPassed)) => Exit::Well,
        (_, Some(Outcome::Failed)) => Exit::Found,
        (_, Some(Outcome::Referred)) => Exit::Referred,
        (_, Some(Outcome::Unfinished) | None) => Exit::Unfinished,
    })
}

/// Why nothing can be kept, with what else can be done.
fn unkept(error: &dwell_store::StoreError) -> anyhow::Error {
    anyhow!("{error}\n  help: `--no-store` carries a procedure out without keeping a record, to try it")
}

/// Tells of jobs of the same card at the same vehicle that are not over: perhaps one of them was meant.
fn unfinished(store: &Sqlite, session: &Session, kept: &Kept) -> anyhow::Result<()> {
    let begun = session.report().begun;
    let Some(begun) = begun else { return Ok(()) };
    let vehicle = begun.vehicle.as_ref().map(|vehicle| &vehicle.number);
    let jobs = store.jobs_from(begun.by.device.as_deref()).map_err(kept::said)?;
    let same = jobs.into_iter().filter(|job| {
        job.result.is_none() && job.procedure == begun.procedure && job.vehicle.as_ref() == vehicle
    });
    for job in same {
        let at = vehicle
            .map_or_else(|| "a vehicle without a number".to_owned(), |vehicle| format!("vehicle {vehicle}"));
        crate::say(&format!(
            "job {number} of this procedure, at {at}, is not over: its last event is of {}\n  help: `dwell resume \
             {number}{}` goes on with it; what is begun now is another job",
            moment(&job.last),
            kept.typed(),
            number = job.number
        ));
    }
    Ok(())
}

/// A refusal at the start, with what to type.
pub(super) fn refused(refusal: &Refusal) -> anyhow::Error {
    match refusal {
        Refusal::VariantMissing { axis, values } => anyhow!(
            "{refusal}\n  help: add `--variant {axis}={}`, if that is what stands at the vehicle",
            values.first().map_or("…", String::as_str)
        ),
        other => anyhow!("{other}"),
    }
}

/// Says where the check digit of a vehicle's number does not fit. The job goes on: not everywhere is it compulsory.
fn doubt(vin: &Vin) {
    let Err(wrong) = vin.check() else { return };
    crate::say(&format!(
        "the vehicle's number {vin} is in doubt: {wrong}\n  help: read it again from the plate. Outside North America the \
         check digit is not compulsory; the job goes on with this number, and the record notes that it does not fit"
    ));
}

/// The time, to the millisecond.
pub(super) fn now() -> anyhow::Result<String> {
    let now = OffsetDateTime::now_utc();
    let now = now.replace_millisecond(now.millisecond())?;
    Ok(now.format(&Rfc3339)?)
}
