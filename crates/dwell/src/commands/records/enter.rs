//! `dwell records enter`: a sheet that was filled in by hand is typed into a record, with the times on it.

use crate::commands::card::{For, card};
use crate::commands::kept::{self, Kept, Person, number, plain};
use crate::commands::run::asking::typed;
use crate::commands::run::sheet::{Sheet, clock_of, day, zone};
use crate::commands::run::tools::Tools;
use crate::commands::run::{Job, Journal, Plain, finish, refused, variant};
use crate::exit::Exit;
use crate::screen::{Screen, wrapped};
use anyhow::{anyhow, bail};
use clap::Args;
use dwell_card::Card;
use dwell_record::event::By;
use dwell_record::{Vehicle, Vin};
use dwell_run::{Session, Start};
use dwell_store::{JobNumber, Records, Sqlite};
use std::path::PathBuf;
use time::{Date, OffsetDateTime, Time, UtcOffset};

/// What is said of this command where its card is not there.
const ENTER: For = For { name: "records enter", to: "type in", done: "typed in" };

/// Type in a sheet that was filled in by hand (`dwell page --paper`), with the times on it.
///
/// What stands on the sheet is typed line by line: `09:14 62.3`, or `62.3` where the time is the one before, `09:20` alone for
/// work that was done. After midnight the day comes first: `2031-04-13 00:05`. Values are held to their limits, asked back and
/// decided as at the vehicle. The record says that it was typed in from paper, by whom and when, and has the times of the sheet
/// for what was done.
///
/// Exit status: as for `dwell run`.
#[derive(Debug, Args)]
pub(super) struct Enter {
    /// The card that the sheet was printed from, or the file with its procedure
    #[arg(value_name = "CARD-or-FILE", required_unless_present = "job")]
    file: Option<PathBuf>,
    /// Go on typing in a job that was broken off
    #[arg(long, value_name = "JOB", value_parser = number, conflicts_with_all = ["file", "procedure", "variants", "vehicle", "code", "done_by"])]
    job: Option<JobNumber>,
    /// Which procedure of the file, where it has several
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
    /// A variant of the vehicle, as it is marked on the sheet: engine-family=k9
    #[arg(long = "variant", value_name = "NAME=VALUE", value_parser = variant)]
    variants: Vec<(String, String)>,
    /// The vehicle's number, 17 characters
    #[arg(long, value_name = "VIN", value_parser = Vin::parse)]
    vehicle: Option<Vin>,
    /// What stands behind `Card` on the sheet, 12 characters; asked for without it
    #[arg(long, value_name = "CODE")]
    code: Option<String>,
    /// The day on the sheet, year-month-day; asked for without it
    #[arg(long, value_name = "DATE", value_parser = super::day)]
    date: Option<String>,
    /// The time at which it was begun, as on the sheet; asked for without it
    #[arg(long, value_name = "HH:MM")]
    begun: Option<String>,
    /// How far the clock of the sheet is from UTC, such as +02:00; without it as the clock of this device on that day
    #[arg(long, value_name = "ZONE", value_parser = zone, allow_hyphen_values = true)]
    zone: Option<UtcOffset>,
    /// Who did the work, as on the sheet; asked for without it
    #[arg(long, value_name = "NAME")]
    done_by: Option<String>,
    #[command(flatten)]
    kept: Kept,
    #[command(flatten)]
    person: Person,
    #[command(flatten)]
    plain: Plain,
    #[command(flatten)]
    tools: Tools,
}

impl Enter {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let by = self.person.by();
        let mut job = match (self.job, &self.file) {
            (Some(job), _) => self.go_on(screen, job, &by)?,
            (None, Some(file)) => {
                let Some(card) = card(screen, file, self.procedure.as_deref(), &ENTER)? else {
                    return Ok(Exit::Trouble);
                };
                self.begin(screen, card, &by)?
            }
            (None, None) => bail!("say which card the sheet was printed from"),
        };
        for words in [
            "Type each line as it stands on the sheet, its time first: `09:14 62.3`, `09:20` for what was done.",
            "Without a time it counts as done at the one before.",
        ] {
            for line in wrapped("", 0, words) {
                screen.line(&line)?;
            }
        }
        let told = if self.job.is_some() { 1 } else { usize::MAX };
        let events: Vec<_> = job.events().iter().take(told).cloned().collect();
        job.telling.tell(screen, &events)?;
        if let Some(file) = &self.file {
            self.tools.take(&mut job, screen, file, true)?;
        }
        finish(job, None, screen, self.plain)
    }

    fn begin(&self, screen: &mut Screen, card: Card, by: &By) -> anyhow::Result<Job> {
        let hash = card.sha256()?;
        let code = asked(screen, self.code.clone(), "Card, the characters on the sheet")?;
        let code: String = code.split_whitespace().collect::<String>().to_lowercase();
        let code = code.strip_prefix("dwellcard").unwrap_or(&code);
        if code.len() < dwell_page::CODE || !hash.starts_with(code) {
            let right = hash.get(..dwell_page::CODE).unwrap_or(&hash);
            bail!(
                "the sheet says card {code}, and this card is {right}: its lines and limits may be others\n  help: give the card that \
                 the sheet was printed from, or read the characters again"
            );
        }
        let start = self.starts(screen)?;
        let done_by = plain(&asked(screen, self.done_by.clone(), "Done by, the name on the sheet")?);
        let begun_by = By { person: Some(done_by).filter(|name| !name.is_empty()), device: None };
        let vehicle = self.vehicle.as_ref().map(Vehicle::from);
        let sheet = Sheet::new(by.clone(), start);
        let begun = Start { vehicle, by: begun_by };
        let sheet = sheet.with_lines(dwell_page::line_numbers(&card));
        let session = Session::start_with(card, &self.variants, begun, &sheet.now()?);
        let mut session = session.map_err(|refusal| refused(&refusal))?;
        // Who types stands in the record from the beginning on.
        session.from_paper(sheet.typed()?, &sheet.now()?)?;
        let store = Sqlite::open(&self.kept.path()?).map_err(kept::said)?;
        let mut journal = Journal::new(self.kept.typed());
        journal.begin(store, session.card(), session.events(), by)?;
        if let Some(number) = journal.job() {
            screen.line(&format!("job {number}, from paper"))?;
        }
        Ok(Job::new(session, journal, true).on_paper(sheet))
    }

    /// The moment at which the work was begun, by the sheet.
    fn starts(&self, screen: &mut Screen) -> anyhow::Result<OffsetDateTime> {
        let date = asked(screen, self.date.clone(), "Date, year-month-day")?;
        let date = day(date.trim())
            .ok_or_else(|| anyhow!("`{date}` is no day: write it as year-month-day, 2031-05-01"))?;
        let begun = asked(screen, self.begun.clone(), "Begun at")?;
        let begun =
            clock_of(begun.trim()).unwrap_or_else(|| Err(format!("`{begun}` is no time: write it as 09:14")));
        let begun = begun.map_err(|words| anyhow!("{words}"))?;
        let zone = self.zone_of(screen, date, begun)?;
        let start = OffsetDateTime::new_in_offset(date, begun, zone);
        if start > OffsetDateTime::now_utc() {
            bail!("{date} has not come yet: read the day and the time on the sheet again");
        }
        Ok(start)
    }

    fn zone_of(&self, screen: &mut Screen, date: Date, clock: Time) -> anyhow::Result<UtcOffset> {
        if let Some(zone) = self.zone {
            return Ok(zone);
        }
        // Nearly the right moment is enough to ask which time of the year it is.
        let about = OffsetDateTime::new_utc(date, clock);
        let zone = UtcOffset::local_offset_at(about).map_err(|_| {
            anyhow!("nobody knows how far the clock of this device is from UTC\n  help: say it with `--zone`, as in `--zone +02:00`")
        })?;
        let (hours, minutes, _) = zone.as_hms();
        let sign = if zone.is_negative() { '-' } else { '+' };
        let words = format!(
            "Times are taken at {sign}{:02}:{:02} from UTC, as this device has it on that day; `--zone` says another one.",
            hours.abs(),
            minutes.abs()
        );
        for line in wrapped("", 0, &words) {
            screen.line(&line)?;
        }
        Ok(zone)
    }

    /// A job goes on whose typing was broken off.
    fn go_on(&self, screen: &mut Screen, number: JobNumber, by: &By) -> anyhow::Result<Job> {
        let path = self.kept.path()?;
        drop(Sqlite::look(&path).map_err(kept::said)?);
        let mut store = Sqlite::open(&path).map_err(kept::said)?;
        let record = store.record(number).map_err(kept::said)?;
        let card = Card::from_json(&store.card(number).map_err(kept::said)?)?;
        let lines = dwell_page::line_numbers(&card);
        let session =
            Session::resume(card, &record.events).map_err(|refusal| anyhow!("job {number}: {refusal}"))?;
        if let Some(result) = session.result() {
            bail!("job {number} is over: {result}\n  help: `dwell records show {number}` shows it");
        }
        let last = record.events.iter().rev().find_map(|event| match &event.what {
            dwell_record::What::FromPaper(_) => Some(true),
            dwell_record::What::TakenUp(_) => Some(false),
            _ => None,
        });
        if last != Some(true) {
            bail!(
                "job {number} is not being typed in from paper\n  help: `dwell resume {number}` goes on with it at the vehicle"
            );
        }
        let at = record.events.last().map(|event| event.at.clone()).unwrap_or_default();
        let at = OffsetDateTime::parse(&at, &time::format_description::well_known::Rfc3339)?;
        let sheet = Sheet::new(by.clone(), at).with_lines(lines);
        let (mut writing, _) =
            store.take(number, by, &crate::commands::run::now()?, false).map_err(kept::said)?;
        let missing = session.events().get(record.events.len()..).unwrap_or_default().to_vec();
        store.append(&mut writing, &missing).map_err(kept::said)?;
        let mut journal = Journal::new(self.kept.typed());
        journal.go_on(store, writing, &record)?;
        screen.line(&format!("job {number}, from paper, goes on after {}", kept::moment(&sheet.now()?)))?;
        Ok(Job::new(session, journal, true).on_paper(sheet))
    }
}

/// What was given, or is asked for now.
fn asked(screen: &mut Screen, given: Option<String>, question: &str) -> anyhow::Result<String> {
    if let Some(given) = given {
        return Ok(given);
    }
    match typed(screen, question)? {
        Some(line) if !line.trim().is_empty() => Ok(line.trim().to_owned()),
        _ => bail!("nothing was typed for: {question}\n  help: it stands at the head of the sheet"),
    }
}
