//! Where the records are kept, and who works: what several commands ask for.

use anyhow::{Context, anyhow};
use clap::Args;
use dwell_record::event::By;
use dwell_store::JobNumber;
use etcetera::BaseStrategy;
use std::env;
use std::path::PathBuf;

/// The file with the records.
#[derive(Debug, Args)]
pub(crate) struct Kept {
    /// The file with the records; without it DWELL_STORE says which, else it is `dwell/workshop.records` in your folder for data
    #[arg(long, value_name = "FILE")]
    pub(crate) store: Option<PathBuf>,
}

impl Kept {
    /// The path of the file.
    pub(crate) fn path(&self) -> anyhow::Result<PathBuf> {
        if let Some(path) = &self.store {
            return Ok(path.clone());
        }
        if let Some(path) = env::var_os("DWELL_STORE").filter(|path| !path.is_empty()) {
            return Ok(PathBuf::from(path));
        }
        let folders = etcetera::choose_base_strategy().context(
            "nobody knows where your folder for data is: say where the records are with `--store FILE`",
        )?;
        Ok(folders.data_dir().join("dwell").join("workshop.records"))
    }

    /// What has to be typed behind a command so that it takes the same file.
    pub(crate) fn typed(&self) -> String {
        self.store.as_ref().map(|path| format!(" --store {}", path.display())).unwrap_or_default()
    }
}

/// Who works.
#[derive(Debug, Args)]
pub(crate) struct Person {
    /// Who works, for the record; without it DWELL_PERSON says who
    #[arg(long, value_name = "NAME")]
    person: Option<String>,
}

impl Person {
    /// The person and this device.
    pub(crate) fn by(&self) -> By {
        let set = || env::var("DWELL_PERSON").ok();
        let named = self.person.clone().or_else(set).map(|name| plain(&name));
        By { person: named.filter(|name| !name.is_empty()), device: device() }
    }
}

/// A name with single blanks.
pub(crate) fn plain(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The name of this device.
pub(crate) fn device() -> Option<String> {
    let name = gethostname::gethostname().to_string_lossy().trim().to_owned();
    (!name.is_empty()).then_some(name)
}

/// Reads `3`.
pub(crate) fn number(text: &str) -> Result<JobNumber, String> {
    let read = text.trim().parse().ok().filter(|number| *number > 0).map(JobNumber);
    read.ok_or_else(|| "write the number of a job, as `dwell records list` shows it".to_owned())
}

/// A moment for people: `2031-04-12 09:05 UTC`, `2031-04-12 09:05 +02:00`.
pub(crate) fn moment(at: &str) -> String {
    let day_and_time = at.get(..16).map(|start| start.replace('T', " "));
    let zone = at
        .get(19..)
        .map(|rest| rest.trim_start_matches(['.', '0', '1', '2', '3', '4', '5', '6', '7', '8', '9']));
    match (day_and_time, zone) {
        (Some(start), Some("Z")) => format!("{start} UTC"),
        (Some(start), Some(zone)) => format!("{start} {zone}"),
        _ => at.to_owned(),
    }
}

/// A length of time for people: `14 h 20 min`, `3 days 2 h`, `40 s`.
pub(crate) fn lasted(seconds: u64) -> String {
    let (days, hours, minutes) = (seconds / 86_400, seconds / 3_600 % 24, seconds / 60 % 60);
    match (days, hours, minutes) {
        (0, 0, 0) => format!("{seconds} s"),
        (0, 0, minutes) => format!("{minutes} min"),
        (0, hours, minutes) => format!("{hours} h {minutes} min"),
        (1, hours, _) => format!("1 day {hours} h"),
        (days, hours, _) => format!("{days} days {hours} h"),
    }
}

/// An error of the store with what can be done, where that depends on the command.
pub(crate) fn said(error: dwell_store::StoreError) -> anyhow::Error {
    anyhow!("{error}")
}
