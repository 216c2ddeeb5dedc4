//! `dwell records report`: a job as a page for a customer or a warranty file.

use crate::commands::format::replace;
use crate::commands::kept::{self, Kept, number};
use crate::commands::page::Size;
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::{Context, anyhow};
use clap::Args;
use dwell_record::What;
use dwell_store::{JobNumber, Records, Sqlite};
use std::path::PathBuf;

/// Write the report of a job as a page to read and to print.
///
/// One HTML file that needs nothing from elsewhere: vehicle, card, each reading as found and as left with its verdict, band and
/// tool, the conditions, the work, what was put right and why, who had it in hand, what is open, who signed, and the hash by
/// which anybody can see that nothing was changed.
///
/// Exit status: 0 written; 2 something could not be read or written.
#[derive(Debug, Args)]
pub(super) struct Report {
    /// The number of the job
    #[arg(value_name = "JOB", value_parser = number, required_unless_present = "file")]
    job: Option<JobNumber>,
    #[command(flatten)]
    kept: Kept,
    /// A record in a file of its own, as `--record` or `export` wrote it
    #[arg(long, value_name = "FILE.jsonl", conflicts_with_all = ["job", "store"])]
    file: Option<PathBuf>,
    /// The size of the sheets
    #[arg(long, value_enum, default_value_t)]
    paper: Size,
    /// Where to write it; without it the page goes to the standard output
    #[arg(short, long, value_name = "FILE.html")]
    output: Option<PathBuf>,
}

impl Report {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let mut photos = Vec::new();
        let read = match (&self.file, self.job) {
            (Some(path), _) => {
                let shown = path.display();
                let bytes = std::fs::read(path).map_err(|why| anyhow!("cannot read {shown}: {why}"))?;
                let read = dwell_record::read(&bytes).map_err(|error| anyhow!("{shown}: {error}"))?;
                if let Some(torn) = &read.torn {
                    return Err(anyhow!("{shown}: {torn}"));
                }
                read
            }
            (None, Some(job)) => {
                let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
                let record = store.record(job).map_err(kept::said)?;
                for event in &record.events {
                    let What::PhotoTaken(photo) = &event.what else { continue };
                    if let Some(bytes) = store.photo(&photo.sha256).map_err(kept::said)? {
                        photos.push((photo.sha256.clone(), bytes));
                    }
                }
                record
            }
            (None, None) => return Err(anyhow!("say which job: `dwell records list` shows them")),
        };
        let job = dwell_page::Job {
            number: self.job.map(|job| job.0),
            events: &read.events,
            last: read.last.as_ref(),
            photos: &photos,
        };
        let page = dwell_page::report(&job, self.paper.into());
        match &self.output {
            None => screen.write(&page)?,
            Some(path) => {
                replace(path, &page).with_context(|| format!("cannot write {}", path.display()))?;
                screen.line(&format!("report written to {}", path.display()))?;
            }
        }
        Ok(Exit::Well)
    }
}
