//! `dwell records statistics`: what the readings of many jobs say together.

mod data;
mod text;

use crate::commands::format::replace;
use crate::commands::kept::{self, Kept};
use crate::commands::page::Size;
use crate::exit::Exit;
use crate::screen::Screen;
use anyhow::Context;
use clap::{Args, ValueEnum};
use dwell_record::statistics::Statistics as Sums;
use dwell_store::{Records, Sqlite};
use std::path::PathBuf;

/// Show what the readings of many jobs say together: as found, as left, for each quantity and variant.
///
/// The share in band on arrival with its interval, median and quartiles, how far from the middle of the band, and whether values
/// are heaped on the limits or on round numbers. Where there are too few to say anything, that is said. What each figure is, with
/// its source, stands in the reference of the record.
///
/// Exit status: 0 shown; 2 something could not be read or written.
#[derive(Debug, Args)]
pub(super) struct Statistics {
    #[command(flatten)]
    kept: Kept,
    /// Only readings of this procedure
    #[arg(long, value_name = "NAME")]
    procedure: Option<String>,
    /// Only jobs begun on this day or later, year-month-day
    #[arg(long, value_name = "DATE", value_parser = super::day)]
    since: Option<String>,
    /// Only jobs begun on this day or before, year-month-day
    #[arg(long, value_name = "DATE", value_parser = super::day)]
    until: Option<String>,
    /// How it is written
    #[arg(long, value_enum, default_value_t)]
    format: Form,
    /// Write a page with drawings into this file instead
    #[arg(short, long, value_name = "FILE.html", conflicts_with = "format")]
    output: Option<PathBuf>,
    /// The size of the page's sheets
    #[arg(long, value_enum, default_value_t)]
    paper: Size,
}

/// In which form.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
enum Form {
    /// For people
    #[default]
    Text,
    /// For other programs
    Json,
    /// One reading in a line: comma-separated values, RFC 4180
    Csv,
}

impl Statistics {
    pub(super) fn run(self, screen: &mut Screen) -> anyhow::Result<Exit> {
        let path = self.kept.path()?;
        let store = Sqlite::look(&path).map_err(kept::said)?;
        let mut sums = Sums::default();
        let mut trouble = false;
        for job in store.jobs().map_err(kept::said)? {
            let day = job.begun.get(..10).unwrap_or_default();
            let before = self.since.as_deref().is_some_and(|since| day < since);
            let after = self.until.as_deref().is_some_and(|until| day > until);
            if before || after {
                continue;
            }
            match store.record(job.number) {
                Ok(record) => sums.add(&record.events),
                Err(error) => {
                    trouble = true;
                    crate::say(&format!("job {} is left out: {error}", job.number));
                }
            }
        }
        if let Some(procedure) = &self.procedure {
            sums.groups.retain(|key, _| key.procedure == *procedure);
        }
        if let Some(output) = &self.output {
            let page = dwell_page::statistics(&sums, &self.from(&path), self.paper.into());
            replace(output, &page).with_context(|| format!("cannot write {}", output.display()))?;
            screen.line(&format!("statistics written to {}", output.display()))?;
        } else {
            match self.format {
                Form::Text => text::write(screen, &sums)?,
                Form::Json => screen.line(&serde_json::to_string_pretty(&data::json(&sums))?)?,
                Form::Csv => screen.write(&data::csv(&sums)?)?,
            }
        }
        Ok(if trouble { Exit::Trouble } else { Exit::Well })
    }

    /// Which jobs they are, in words.
    fn from(&self, path: &std::path::Path) -> String {
        let name = path
            .file_name()
            .map_or_else(|| path.display().to_string(), |name| name.to_string_lossy().into_owned());
        let procedure =
            self.procedure.as_ref().map(|name| format!(", readings of {name}")).unwrap_or_default();
        let since = self.since.as_ref().map(|day| format!(", since {day}")).unwrap_or_default();
        let until = self.until.as_ref().map(|day| format!(", until {day}")).unwrap_or_default();
        format!("jobs of {name}{procedure}{since}{until}")
    }
}
