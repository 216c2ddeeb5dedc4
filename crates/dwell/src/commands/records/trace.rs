//! `dwell records trace`: what one tool of the workshop was used for since its last good check.

mod data;
mod known;
mod text;

use crate::commands::kept::{self, Kept};
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{anyhow, bail};
use clap::{Args, ValueEnum};
use dwell_record::trace::{How, Use, Wanted, trace};
use dwell_record::{Event, What};
use dwell_store::{Job, Records, Sqlite};
use known::Card;
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// List every verdict that rests on one tool, since its last good check.
///
/// For a tool that is found out of tolerance: what was measured or set with it, at which vehicles, as found and as left, and
/// what was decided by it. What is not known is listed too: where such a tool was used and nobody noted which one. Whether a
/// vehicle is called back is for whoever answers for it: nothing here says that a value was wrong.
///
/// The day is that of the last good check: the one given with `--since`, else the one in the register of tools, else the
/// last one that a record noted. That day counts too.
///
/// Exit status: 0 listed; 2 something could not be read, or nobody knows since when.
#[derive(Debug, Args)]
pub(super) struct Trace {
    /// The number on the label of the tool
    #[arg(long, value_name = "NUMBER")]
    tool: String,
    /// The day of its last good check, year-month-day
    #[arg(long, value_name = "DATE", value_parser = super::day)]
    since: Option<String>,
    /// The last day that is asked for, year-month-day; without it everything since then
    #[arg(long, value_name = "DATE", value_parser = super::day)]
    until: Option<String>,
    /// The register of the workshop's tools; without it, `tools.toml` in this folder or in one above it
    #[arg(long, value_name = "FILE.toml")]
    tools: Option<PathBuf>,
    /// A file with records, once for each; without it as for the other commands
    #[arg(long, value_name = "FILE")]
    store: Vec<PathBuf>,
    /// How it is written
    #[arg(long, value_enum, default_value_t)]
    format: Form,
}

/// In which form.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For people
    #[default]
    Text,
    /// For other programs
    Json,
    /// One use in a line: comma-separated values, RFC 4180
    Csv,
}

/// All that was found.
struct Found {
    /// What was asked.
    wanted: Wanted,
    /// From where the day is known, in words.
    by: String,
    /// How many jobs were looked through.
    looked: usize,
    /// The jobs in which something was found.
    jobs: Vec<Traced>,
    /// What could not be read.
    unreadable: Vec<String>,
}

/// A job in which something rests on the tool, or may do so.
struct Traced {
    store: PathBuf,
    job: Job,
    revision: Option<u32>,
    variants: Vec<String>,
    uses: Vec<Use>,
}

impl Trace {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let stores = match self.store.is_empty() {
            true => vec![Kept { store: None }.path()?],
            false => self.store.clone(),
        };
        let mut read = Vec::new();
        let mut unreadable = Vec::new();
        for path in &stores {
            let store = Sqlite::look(path).map_err(kept::said)?;
            for job in store.jobs_from(kept::device().as_deref()).map_err(kept::said)? {
                match store.record(job.number) {
                    Ok(record) => {
                        let card = Card::read(store.card(job.number).ok().as_deref());
                        read.push((path.clone(), job, record.events, card));
                    }
                    Err(error) => unreadable.push(format!("job {}: {error}", job.number)),
                }
            }
        }
        let (serves, registered) = self.registered(&read)?;
        let (since, by) = self.since(registered, &read)?;
        if self.until.as_ref().is_some_and(|until| *until < since) {
            bail!(
                "nothing lies between {since} and a day before it\n  help: give a later day with `--until`"
            );
        }
        let wanted = Wanted { number: self.tool.trim().to_owned(), serves, since, until: self.until };
        let looked = read.len();
        let jobs = read.into_iter().filter_map(|(store, job, events, card)| {
            let uses = trace(&events, &wanted, &card);
            let Some(What::Begun(begun)) = events.first().map(|event| &event.what) else { return None };
            let revision = begun.revision.as_ref().map(|revision| revision.number);
            let variants = begun.variants.iter().map(|(axis, value)| format!("{axis}={value}")).collect();
            (!uses.is_empty()).then_some(Traced { store, job, revision, variants, uses })
        });
        let jobs: Vec<Traced> = jobs.collect();
        let trouble = !unreadable.is_empty();
        let found = Found { wanted, by, looked, jobs, unreadable };
        match self.format {
            Form::Text => text::write(screen, &found, stores.len() > 1)?,
            Form::Json => screen.line(&serde_json::to_string_pretty(&data::json(&found))?)?,
            Form::Csv => screen.write(&data::csv(&found)?)?,
        }
        if self.format != Form::Text {
            found.unreadable.iter().for_each(|words| crate::say(words));
        }
        Ok(if trouble { Exit::Trouble } else { Exit::Well })
    }

    /// What the tool serves as, and the day of its last good check, as the register says.
    fn registered(&self, read: &[Read]) -> anyhow::Result<(BTreeSet<String>, Option<Day>)> {
        let mut serves: BTreeSet<String> = taken(read, &self.tool).map(|taken| taken.tool.clone()).collect();
        let Some(path) = self.tools.clone().or_else(register) else { return Ok((serves, None)) };
        let shown = path.display();
        let text = dwell_workspace::read(&path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
        let register = dwell_tools::read(&text).map_err(|faults| {
            let all: Vec<String> = faults.iter().map(|fault| format!("{shown}, {fault}")).collect();
            anyhow!("{}", all.join("\n"))
        })?;
        let Some(tool) = register.numbered(&self.tool) else {
            let known: Vec<&str> = register.tools.iter().map(|tool| tool.number.as_str()).collect();
            if self.since.is_none() && serves.is_empty() {
                bail!(
                    "neither {shown} nor a record has a tool `{}`\n  help: the register has {}",
                    self.tool,
                    known.join(", ")
                );
            }
            return Ok((serves, None));
        };
        serves.extend(tool.serves.iter().cloned());
        Ok((serves, tool.calibrated.map(|day| (day.to_string(), format!("its last good check by {shown}")))))
    }

    /// Since when, and from where that is known.
    fn since(&self, registered: Option<Day>, read: &[Read]) -> anyhow::Result<Day> {
        if let Some(day) = &self.since {
            return Ok((day.clone(), "the day that was given".to_owned()));
        }
        let noted = || {
            let days = taken(read, &self.tool).filter_map(|taken| taken.calibrated.clone());
            days.max().map(|day| (day, "the last good check that a record noted".to_owned()))
        };
        registered.or_else(noted).ok_or_else(|| {
            anyhow!(
                "nobody knows when {} was last found good\n  help: give the day with `--since DATE`, or the register of the \
                 tools with `--tools FILE`",
                self.tool
            )
        })
    }
}

/// A day, and from where it is known, in words.
type Day = (String, String);

/// A job as it was read.
type Read = (PathBuf, Job, Vec<Event>, Card);

/// Each time that the tool was taken.
fn taken<'r>(read: &'r [Read], number: &'r str) -> impl Iterator<Item = &'r dwell_record::event::ToolTaken> {
    let events = read.iter().flat_map(|(_, _, events, _)| events);
    events.filter_map(move |event| match &event.what {
        What::ToolTaken(taken) if taken.number.eq_ignore_ascii_case(number.trim()) => Some(taken.as_ref()),
        _ => None,
    })
}

/// The register of this folder, or of one above it.
fn register() -> Option<PathBuf> {
    let here = std::env::current_dir().ok()?;
    here.ancestors().map(|folder: &Path| folder.join(dwell_tools::NAME)).find(|path| path.exists())
}

impl Found {
    /// How many uses there are of some kinds.
    fn count(&self, how: &[How]) -> usize {
        self.jobs.iter().flat_map(|job| &job.uses).filter(|one| how.contains(&one.how)).count()
    }
}
