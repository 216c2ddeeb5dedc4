//! The record of a run: each event on the disk before the next thing is asked, in the store, in a file, or in both.

use crate::screen::Screen;
use anyhow::anyhow;
use dwell_card::Card;
use dwell_record::event::{By, Taking};
use dwell_record::{Chain, Event, Read};
use dwell_store::{JobNumber, NewJob, Records, Sqlite, Trouble, Writing};
use std::fs::{File, OpenOptions};
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where events are written; or nowhere.
pub(crate) struct Journal {
    kept: Option<(Sqlite, Writing)>,
    file: Option<(PathBuf, File, Chain)>,
    /// What has to be typed behind a command so that it takes the same store.
    typed: String,
}

impl Journal {
    /// Nothing is kept so far. `typed` has to be typed behind a command so that it takes the same store.
    pub(crate) fn new(typed: String) -> Journal {
        Journal { kept: None, file: None, typed }
    }

    /// Also into a new file. One that is there is never written over.
    pub(crate) fn with_file(mut self, path: Option<&Path>) -> anyhow::Result<Journal> {
        let Some(path) = path else { return Ok(self) };
        let shown = path.display();
        let file = OpenOptions::new().write(true).create_new(true).open(path).map_err(|error| match error
            .kind()
        {
            ErrorKind::AlreadyExists => {
                anyhow!("{shown} is there already, and a record is never written over: give a new name")
            }
            _ => anyhow!("cannot write the record {shown}: {error}"),
        })?;
        dwell_store::name_stays(path).map_err(|error| anyhow!("cannot write the record {shown}: {error}"))?;
        self.file = Some((path.to_owned(), file, Chain::default()));
        Ok(self)
    }

    /// A job begins in this store with these events.
    pub(crate) fn begin(
        &mut self,
        mut store: Sqlite,
        card: &Card,
        events: &[Event],
        by: &By,
    ) -> anyhow::Result<()> {
        let text = card.canonical()?;
        let writing = store.begin(NewJob { card: &text, events, by }).map_err(|error| {
            anyhow!(
                "the job was not begun: {error}\n  help: `--no-store` carries it out without keeping a record"
            )
        })?;
        self.kept = Some((store, writing));
        self.write_file(events)
    }

    /// A job of the store goes on with this right to write. A file gets all that was recorded so far.
    pub(crate) fn go_on(&mut self, store: Sqlite, writing: Writing, before: &Read) -> anyhow::Result<()> {
        self.kept = Some((store, writing));
        self.write_file(&before.events)
    }

    /// Another person of this device has the job in hand from now on.
    pub(crate) fn hand_over(&mut self, by: &By, at: &str) -> anyhow::Result<()> {
        if let Some((store, writing)) = &mut self.kept {
            let job = writing.job();
            let (theirs, _): (Writing, Taking) =
                store.take(job, by, at, true).map_err(|error| not_stored(&error, Some(job), &self.typed))?;
            *writing = theirs;
        }
        Ok(())
    }

    /// Adds events, and returns when they are on the disk.
    pub(crate) fn write(&mut self, events: &[Event]) -> anyhow::Result<()> {
        if let Some((store, writing)) = &mut self.kept {
            let job = writing.job();
            store.append(writing, events).map_err(|error| match error.trouble {
                Trouble::TakenOver { .. } => anyhow!(
                    "the last answer was not stored: {error}\n  help: tell {} what you did last; `dwell records watch {job}{typed}` \
                     shows what is done now",
                    holder(&error.trouble),
                    typed = self.typed
                ),
                _ => not_stored(&error, Some(job), &self.typed),
            })?;
        }
        self.write_file(events)
    }

    fn write_file(&mut self, events: &[Event]) -> anyhow::Result<()> {
        let job = self.job();
        let Some((path, file, chain)) = &mut self.file else { return Ok(()) };
        let mut written = || -> io::Result<()> {
            for event in events {
                let line = chain.line(event).map_err(io::Error::other)?;
                file.write_all(line.as_bytes())?;
            }
            file.sync_data()
        };
        written().map_err(|error| {
            let what = format!("the record {} cannot be written: {error}", path.display());
            not_stored(&what, job, &self.typed)
        })
    }

    /// The job's number in its store.
    pub(crate) fn job(&self) -> Option<JobNumber> {
        self.kept.as_ref().map(|(_, writing)| writing.job())
    }

    /// Gives up the right to write, and says where the record is and with which hash it ends. Where something is still to be
    /// done, it says how to go on.
    pub(crate) fn end(self, screen: &mut Screen, goes_on: bool) -> anyhow::Result<()> {
        let job = self.job();
        let last = match (&self.kept, &self.file) {
            (Some((_, writing)), _) => Some(writing.chain().last().clone()),
            (None, Some((.., chain))) => Some(chain.last().clone()),
            (None, None) => None,
        };
        let file = self.file.as_ref().map(|(path, ..)| path.display().to_string());
        let places: Vec<String> = job.map(|job| format!("job {job}")).into_iter().chain(file).collect();
        if let Some(last) = last {
            screen.line(&format!("\nrecord: {}", places.join(", ")))?;
            screen.line(&format!("  hash {last}"))?;
        }
        if let (Some((mut store, writing)), Some(job)) = (self.kept, job) {
            store.let_go(writing).map_err(crate::commands::kept::said)?;
            if goes_on {
                screen.line(&format!("go on with: dwell resume {job}{}", self.typed))?;
            }
        }
        Ok(())
    }
}

/// Who has it now.
fn holder(trouble: &Trouble) -> String {
    match trouble {
        Trouble::TakenOver { by, since: Some(_), .. } => by.who().to_owned(),
        _ => "whoever goes on".to_owned(),
    }
}

/// What has to be done by a person whose last answer is on no disk.
fn not_stored(why: &dyn std::fmt::Display, job: Option<JobNumber>, typed: &str) -> anyhow::Error {
    let on = match job {
        Some(job) => {
            format!("`dwell resume {job}{typed}` then goes on after the last answer that was stored")
        }
        None => "then begin again".to_owned(),
    };
    anyhow!(
        "the last answer was not stored: {why}\n  help: note it by hand and put the vehicle into a safe state; make room or mend \
         the disk; {on}"
    )
}
