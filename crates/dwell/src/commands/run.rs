//! `dwell run`: a procedure carried out step by step, by a person at the terminal or by a file of readings.

mod asking;
mod card;
mod ending;
mod journal;
mod readings;
mod section;
mod telling;

use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::anyhow;
use asking::Asked;
use clap::Args;
use dwell_record::{Outcome, Vehicle, Vin};
use dwell_run::{Refusal, Session, Start};
use journal::Journal;
use std::path::PathBuf;
use telling::Telling;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// Carry out a procedure.
///
/// A `.dwell` file is checked first, and refused while an error is open; a card is carried out as it is. With `--readings`
/// it runs by itself: work is taken as done, needs as met unless a row says no, and values come from the rows. Without, it
/// asks step by step; then `?` helps, `none` means no reading, and `stop` puts everything back and ends.
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
}

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
        let Some(card) = card::card(screen, &self.file, self.procedure.as_deref())? else {
            return Ok(Exit::Trouble);
        };
        let rows = match &self.readings {
            Some(path) => match readings::rows(screen, path, &card)? {
                Some(rows) => Some(rows),
                None => return Ok(Exit::Trouble),
            },
            None => None,
        };
        let start = Start { vehicle: self.vehicle.as_ref().map(Vehicle::from), ..Start::default() };
        let session = Session::start_with(card, &self.variants, start, &now()?);
        let session = session.map_err(|refusal| refused(&refusal))?;
        if let Some(vin) = &self.vehicle {
            doubt(vin);
        }
        let mut journal = Journal::new(self.record.as_deref())?;
        let mut telling = Telling::new(session.card(), self.readings.is_none());
        journal.write(session.events())?;
        telling.tell(screen, session.events())?;
        let mut job = Job { session, journal, telling };
        let asked = match rows {
            Some(rows) => readings::drive(&mut job, screen, rows)?,
            None => asking::ask(&mut job, screen)?,
        };
        ending::show(screen, &job.session)?;
        job.journal.say(screen)?;
        Ok(match (asked, job.session.result()) {
            (Asked::Refused, _) => Exit::Trouble,
            (_, Some(Outcome::Passed | Outcome::AdjustedAndPassed)) => Exit::Well,
            (_, Some(Outcome::Failed)) => Exit::Found,
            (_, Some(Outcome::Referred)) => Exit::Referred,
            (_, Some(Outcome::Unfinished) | None) => Exit::Unfinished,
        })
    }
}

/// What belongs to one run.
struct Job {
    session: Session,
    journal: Journal,
    telling: Telling,
}

/// A refusal at the start, with what to type.
fn refused(refusal: &Refusal) -> anyhow::Error {
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
fn now() -> anyhow::Result<String> {
    let now = OffsetDateTime::now_utc();
    let now = now.replace_millisecond(now.millisecond())?;
    Ok(now.format(&Rfc3339)?)
}
