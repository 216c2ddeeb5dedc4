//! The record of a run: a new file, each event on the disk before the next thing is asked.

use crate::screen::Screen;
use anyhow::{Context, anyhow};
use dwell_record::{Chain, Event};
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

/// Where events are written; or nowhere.
pub(super) struct Journal(Option<(PathBuf, File, Chain)>);

impl Journal {
    /// A new record. A file that is there is never written over.
    pub(super) fn new(path: Option<&Path>) -> anyhow::Result<Journal> {
        let Some(path) = path else { return Ok(Journal(None)) };
        let shown = path.display();
        let file = OpenOptions::new().write(true).create_new(true).open(path).map_err(|error| match error
            .kind()
        {
            ErrorKind::AlreadyExists => {
                anyhow!("{shown} is there already, and a record is never written over: give a new name")
            }
            _ => anyhow!("cannot write the record {shown}: {error}"),
        })?;
        Ok(Journal(Some((path.to_owned(), file, Chain::default()))))
    }

    /// Adds events, and returns when they are on the disk.
    pub(super) fn write(&mut self, events: &[Event]) -> anyhow::Result<()> {
        let Some((path, file, chain)) = &mut self.0 else { return Ok(()) };
        let mut write = |event: &Event| -> anyhow::Result<()> {
            file.write_all(chain.line(event)?.as_bytes())?;
            Ok(())
        };
        for event in events {
            write(event).with_context(|| not_stored(path))?;
        }
        file.sync_data().with_context(|| not_stored(path))
    }

    /// Says where the record is.
    pub(super) fn say(&self, screen: &mut Screen) -> anyhow::Result<()> {
        if let Some((path, ..)) = &self.0 {
            screen.line(&format!("record: {}", path.display()))?;
        }
        Ok(())
    }
}

fn not_stored(path: &Path) -> String {
    format!(
        "the last answer was not stored, the record {} cannot be written\n  help: note it by hand, put the vehicle into a \
         safe state, make room or mend the disk, and begin again",
        path.display()
    )
}
