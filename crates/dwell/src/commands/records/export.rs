//! `dwell records export`: records for other programs, with every number exact.

use super::table;
use crate::commands::check::counted;
use crate::commands::kept::{self, Kept, number};
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, anyhow, bail};
use clap::{Args, ValueEnum};
use dwell_record::{Hash, Report};
use dwell_store::{JobNumber, Records, Sqlite};
use std::collections::BTreeSet;
use std::fs::{self, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// In which form.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Form {
    /// The record of one job, byte for byte as it was written: JSON Lines, with its chain
    Jsonl,
    /// The readings of one job or of all, one in a line: comma-separated values, RFC 4180
    Csv,
    /// Everything, in one file of its own that `--store` takes
    Sqlite,
    /// The photos of one job, byte for byte, each named by its SHA-256, into a new folder
    Photos,
}

/// Write records for other programs, with every number exact.
#[derive(Debug, Args)]
pub(super) struct Export {
    /// Only this job; `jsonl` needs one
    #[arg(value_name = "JOB", value_parser = number)]
    job: Option<JobNumber>,
    #[command(flatten)]
    kept: Kept,
    /// In which form
    #[arg(long, value_enum)]
    format: Form,
    /// Into this new file; without it to standard output
    #[arg(long, value_name = "FILE")]
    to: Option<PathBuf>,
}

impl Export {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
        let text = match (self.format, self.job) {
            (Form::Jsonl, None) => {
                bail!("a file of events has one job: say which\n  help: `dwell records list` shows them")
            }
            (Form::Jsonl, Some(job)) => {
                // What is given away is held to its chain first.
                store.record(job).map_err(kept::said)?;
                store.lines(job, 0).map_err(kept::said)?.iter().map(|line| format!("{line}\n")).collect()
            }
            (Form::Csv, job) => table::of(&store, job)?,
            (Form::Photos, job) => {
                let job = job
                    .context("photos belong to a job: say which\n  help: `dwell records list` shows them")?;
                let to = self.to.as_ref();
                let to = to.context("photos need a folder: give a new name with `--to FOLDER`")?;
                let count = photos(&store, job, to)?;
                screen.line(&format!("{} written to {}", counted(count, "photo", "photos"), to.display()))?;
                return Ok(Exit::Well);
            }
            (Form::Sqlite, Some(_)) => bail!("the copy has all jobs: leave the number out"),
            (Form::Sqlite, None) => {
                let to = self.to.as_ref();
                let to = to.context("a copy of everything needs a name: give it with `--to FILE`")?;
                store.export(to).map_err(kept::said)?;
                screen.line(&format!("everything was copied to {}", to.display()))?;
                return Ok(Exit::Well);
            }
        };
        match &self.to {
            None => screen.write(&text)?,
            Some(to) => {
                new_file(to, text.as_bytes())?;
                screen.line(&format!("written to {}", to.display()))?;
            }
        }
        Ok(Exit::Well)
    }
}

/// The photos of a job into a new folder; how many there are.
fn photos(store: &Sqlite, job: JobNumber, to: &Path) -> anyhow::Result<usize> {
    let report = Report::of(&store.record(job).map_err(kept::said)?.events);
    fs::create_dir(to).with_context(|| format!("cannot make the folder {}", to.display()))?;
    let mut written = BTreeSet::new();
    for photo in &report.photos {
        let bytes = store.photo(&photo.sha256).map_err(kept::said)?;
        let bytes = bytes.filter(|bytes| Hash::of(bytes).digits() == photo.sha256);
        let bytes = bytes.with_context(|| {
            format!(
                "the photo {} is not there as it was taken: `dwell records verify` says more",
                photo.sha256
            )
        })?;
        let ending = photo.media.trim_start_matches("image/");
        if written.insert(photo.sha256.clone()) {
            new_file(&to.join(format!("{}.{ending}", photo.sha256)), &bytes)?;
        }
    }
    Ok(written.len())
}

/// A new file, on the disk when this returns.
fn new_file(path: &Path, bytes: &[u8]) -> anyhow::Result<()> {
    let shown = path.display();
    let file = OpenOptions::new().write(true).create_new(true).open(path);
    let mut file = file.map_err(|error| match error.kind() {
        ErrorKind::AlreadyExists => {
            anyhow!("{shown} is there already, and is not written over: give a new name")
        }
        _ => anyhow!("cannot write {shown}: {error}"),
    })?;
    file.write_all(bytes).and_then(|()| file.sync_all()).with_context(|| format!("cannot write {shown}"))
}
