//! `dwell records show`: the report of a job, or all its events.

use crate::commands::kept::{self, Kept, device, moment, number};
use crate::drawing::visible;
use crate::exit::Exit;
use crate::screen::{Screen, wrapped};
use clap::Args;
use dwell_record::Report;
use dwell_store::{JobNumber, Records, Sqlite};

/// Show a job: its readings as found and as left, and how it came out.
#[derive(Debug, Args)]
pub(super) struct Show {
    /// The number of the job
    #[arg(value_name = "JOB", value_parser = number)]
    job: JobNumber,
    #[command(flatten)]
    kept: Kept,
    /// Every event in its order, instead of the report
    #[arg(long)]
    events: bool,
}

impl Show {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let store = Sqlite::look(&self.kept.path()?).map_err(kept::said)?;
        let record = store.record(self.job).map_err(kept::said)?;
        if self.events {
            for event in &record.events {
                let first = format!("{:>5}  {}  ", event.seq, moment(&event.at));
                let indent = first.chars().count();
                for line in wrapped(&first, indent, &visible(&event.words())) {
                    screen.line(&line)?;
                }
            }
        } else {
            let report = Report::of(&record.events);
            for line in visible(&report.to_string()).lines() {
                screen.line(line)?;
            }
            if report.result.is_none() {
                let job = store.job(self.job, device().as_deref()).map_err(kept::said)?;
                if let Some(held) = job.held.filter(|held| !held.gone) {
                    screen.line(&format!("{} has it open since {}", held.by, moment(&held.since)))?;
                }
            }
        }
        let last = record.last.map(|last| format!("\nhash {last}")).unwrap_or_default();
        screen.line(&format!(
            "\njob {}, {} events, each as it was written{last}",
            self.job,
            record.events.len()
        ))?;
        Ok(Exit::Well)
    }
}
