//! `dwell records verify`: whether everything is as it was written.

use crate::commands::kept::{self, Kept, number};
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Ink, Screen, wrapped};
use anyhow::anyhow;
use clap::Args;
use dwell_store::{JobNumber, Sqlite};
use std::path::PathBuf;

/// Verify that records are as they were written: the file, each job's chain and its card.
///
/// Exit status: 0 all is as it was written; 1 something is not; 2 it could not be read.
#[derive(Debug, Args)]
pub(super) struct Verify {
    /// Only this job
    #[arg(value_name = "JOB", value_parser = number, conflicts_with = "file")]
    job: Option<JobNumber>,
    #[command(flatten)]
    kept: Kept,
    /// A record in a file of its own, as `--record` or `export` wrote it
    #[arg(long, value_name = "FILE.jsonl")]
    file: Option<PathBuf>,
}

impl Verify {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        if let Some(path) = &self.file {
            let shown = path.display();
            let bytes = std::fs::read(path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
            return match dwell_record::read(&bytes) {
                Err(error) => wrong(screen, &format!("{shown}: {error}")),
                Ok(read) => {
                    if let Some(torn) = &read.torn {
                        return wrong(screen, &format!("{shown}: {torn}"));
                    }
                    match read.last {
                        Some(last) => {
                            screen.line(&format!("{} events, each as it was written", read.events.len()))?;
                            screen.line(&format!("hash {last}"))?;
                        }
                        None => screen.line(&format!(
                            "{} events; format 1 has no chain, so nobody can tell whether one was changed",
                            read.events.len()
                        ))?,
                    }
                    Ok(Exit::Well)
                }
            };
        }
        let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
        let verified = store.verify(self.job).map_err(kept::said)?;
        for (job, why) in &verified.wrong {
            let place = job.map(|job| format!("job {job}: ")).unwrap_or_default();
            wrong(screen, &format!("{place}{why}"))?;
        }
        let plural = |count: u64, word: &str| format!("{count} {word}{}", if count == 1 { "" } else { "s" });
        let jobs = plural(u64::try_from(verified.jobs).unwrap_or(u64::MAX), "job");
        let events = plural(verified.events, "event");
        if verified.wrong.is_empty() {
            screen.line(&format!("{jobs} with {events}: all is as it was written"))?;
            return Ok(Exit::Well);
        }
        screen.line(&format!("{jobs} with {events}: {} not as written", verified.wrong.len()))?;
        Ok(Exit::Found)
    }
}

fn wrong(screen: &mut Screen, words: &str) -> anyhow::Result<Exit> {
    let mut lines = wrapped("wrong: ", 2, &visible(words));
    if let Some(first) = lines.first_mut() {
        *first = first.replacen("wrong:", &screen.style.ink(Ink::Red, "wrong:"), 1);
    }
    for line in lines {
        screen.line(&line)?;
    }
    Ok(Exit::Found)
}
