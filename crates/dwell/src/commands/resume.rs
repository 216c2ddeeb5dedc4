//! `dwell resume`: a job that was interrupted goes on: what is open and what has run out first, then the step.

use super::kept::{self, Kept, Person, moment, number};
use super::run::tools::Tools;
use super::run::{Job, Journal, Plain, finish, now};
use crate::exit::Exit;
use crate::screen::{Screen, wrapped};
use anyhow::{anyhow, bail};
use clap::Args;
use dwell_card::Card;
use dwell_live::Live;
use dwell_record::event::Taking;
use dwell_run::Session;
use dwell_store::{JobNumber, Records, Sqlite, Trouble};
use std::path::{Path, PathBuf};

/// Go on with a job that was interrupted.
///
/// First it is shown what is open at the vehicle, what has run out since, and what was done last; then the job goes on where its
/// record ends, with the card that it was begun with. Where another person had it, the record notes the hand-over with both
/// names. Only one writes a job at a time.
///
/// Exit status: as for `dwell run`.
#[derive(Debug, Args)]
pub(crate) struct Resume {
    /// The number of the job; it may be left out where only one is unfinished
    #[arg(value_name = "JOB", value_parser = number)]
    job: Option<JobNumber>,
    #[command(flatten)]
    kept: Kept,
    #[command(flatten)]
    person: Person,
    /// Take the job over while somebody else has it open, who cannot write it any more then
    #[arg(long)]
    take_over: bool,
    /// Write the whole record into this new file too
    #[arg(long, value_name = "FILE.jsonl")]
    record: Option<PathBuf>,
    #[command(flatten)]
    plain: Plain,
    #[command(flatten)]
    tools: Tools,
    /// A file to which another program writes readings while the job goes on
    #[arg(long, value_name = "FILE.csv")]
    live: Option<PathBuf>,
}

impl Resume {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let path = self.kept.path()?;
        // The register is looked for from the folder in which somebody stands: the card is in the store.
        let register = self.tools.register(Path::new("."))?;
        let live = Live::new(register, self.live.as_deref()).map_err(|why| anyhow!(why))?;
        // Looking makes no file where there is none.
        drop(Sqlite::look(&path).map_err(kept::said)?);
        let mut store = Sqlite::open(&path).map_err(kept::said)?;
        let number = match self.job {
            Some(job) => job,
            None => only(&store)?,
        };
        let record = store.record(number).map_err(kept::said)?;
        let card = Card::from_json(&store.card(number).map_err(kept::said)?)?;
        let mut session =
            Session::resume(card, &record.events).map_err(|refusal| anyhow!("job {number}: {refusal}"))?;
        if let Some(result) = session.result() {
            bail!("job {number} is over: {result}\n  help: `dwell records show {number}` shows it");
        }
        let (by, at) = (self.person.by(), now()?);
        let (mut writing, taken) =
            store.take(number, &by, &at, self.take_over).map_err(|error| self.refused(&error))?;
        let how = match taken {
            Taking::GoneOn if session.by().person != by.person => Taking::HandedOver,
            other => other,
        };
        // An answer is stored whole or not at all; should a record ever end within one, it is made whole first.
        let missing = session.events().get(record.events.len()..).unwrap_or_default().to_vec();
        store.append(&mut writing, &missing).map_err(kept::said)?;
        let mut journal = Journal::new(self.kept.typed()).with_file(self.record.as_deref())?;
        journal.go_on(store, writing, &record)?;
        let last: Vec<String> =
            session.behind().iter().rev().take(3).map(|place| place.words.clone()).collect();
        let since = record.events.last().map(|event| moment(&event.at)).unwrap_or_default();
        let events = session.take_up(by, how, &at).map_err(|refusal| anyhow!("job {number}: {refusal}"))?;
        journal.write(&events)?;
        let out_of_force = session.out_of_force(&at);
        let mut job = Job::new(session, journal, true);
        job.live = live;
        let begun = record.events.iter().take(1).cloned().collect::<Vec<_>>();
        job.telling.tell(screen, &begun)?;
        screen.line(&format!("job {number}, interrupted since {since}"))?;
        job.telling.tell(screen, &events)?;
        if !last.is_empty() {
            screen.line("\nDone last, the latest first; `back` opens it again")?;
            for words in &last {
                for line in wrapped("  - ", 4, &crate::drawing::visible(words)) {
                    screen.line(&line)?;
                }
            }
        }
        if let Some(why) = out_of_force {
            let words = format!(
                "{why}\nThe job goes on with the card that it was begun with. Ask whether it should be stopped, and what is open put back."
            );
            screen.line("")?;
            for line in words.lines().flat_map(|line| wrapped("  ! ", 4, &crate::drawing::visible(line))) {
                screen.line(&line)?;
            }
        }
        self.tools.look_again(&mut job, screen, Path::new("."))?;
        finish(job, None, screen, self.plain)
    }

    fn refused(&self, error: &dwell_store::StoreError) -> anyhow::Error {
        match &error.trouble {
            Trouble::Held { job, by, since } => anyhow!(
                "{by} has job {job} open, since {}: only one writes it at a time\n  help: `dwell records watch {job}{typed}` \
                 shows what is done; `dwell resume {job} --take-over{typed}` takes it over, and the record notes that",
                moment(since),
                typed = self.kept.typed()
            ),
            _ => anyhow!("{error}"),
        }
    }
}

/// The only job that is not over.
fn only(store: &Sqlite) -> anyhow::Result<JobNumber> {
    let jobs = store.jobs().map_err(kept::said)?;
    let open: Vec<_> = jobs.into_iter().filter(|job| job.result.is_none()).collect();
    match open.as_slice() {
        [] => bail!("no job is unfinished\n  help: `dwell records list` shows all of them"),
        [one] => Ok(one.number),
        [one, ..] => {
            let several = open.as_slice();
            let all: Vec<String> = several
                .iter()
                .map(|job| {
                    let vehicle =
                        job.vehicle.iter().map(|vehicle| format!(", vehicle {vehicle}")).collect::<String>();
                    format!("  {}  {}, since {}{vehicle}", job.number, job.procedure, moment(&job.last))
                })
                .collect();
            bail!(
                "several jobs are unfinished: say which, as in `dwell resume {}`\n{}",
                one.number,
                all.join("\n")
            )
        }
    }
}
