//! A copy in one file that needs nothing beside it.

use super::{Sqlite, beside};
use crate::error::{StoreError, Trouble};
use crate::folder::name_stays;
use rusqlite::backup::Backup;
use rusqlite::{Connection, OpenFlags};
use std::fs::{self, OpenOptions};
use std::io::ErrorKind;
use std::path::Path;
use std::time::Duration;

/// How many pages are copied at a time; between them others may write.
const PAGES: i32 = 512;

impl Sqlite {
    /// Copies all records into a new file, through SQLite's own backup, so that what is written meanwhile does not tear it. The
    /// copy has no log beside it, and nobody has a job open in it.
    ///
    /// # Errors
    /// [`Trouble::Exists`] where the name is taken; a [`StoreError`] otherwise, and then no copy is left.
    pub fn export(&self, to: &Path) -> Result<(), StoreError> {
        match OpenOptions::new().write(true).create_new(true).open(to) {
            Ok(_) => {}
            Err(error) if error.kind() == ErrorKind::AlreadyExists => return Err(Trouble::Exists.at(to)),
            Err(error) => return Err(Trouble::ReadOnly { why: error.to_string() }.at(to)),
        }
        let named = || name_stays(to).map_err(|why| Trouble::Failed { why: why.to_string() }.at(to));
        let copied = self.copy(to).map_err(|error| Trouble::of(&error).at(to)).and_then(|()| named());
        if copied.is_err() {
            for ending in ["", "-journal", "-wal", "-shm"] {
                // The name was free before: what lies there now is the half of a copy.
                let _ = fs::remove_file(beside(to, ending));
            }
        }
        copied
    }

    fn copy(&self, to: &Path) -> rusqlite::Result<()> {
        let mut copy = Connection::open_with_flags(to, OpenFlags::SQLITE_OPEN_READ_WRITE)?;
        copy.pragma_update(None, "synchronous", 2)?;
        Backup::new(&self.connection, &mut copy)?.run_to_completion(PAGES, Duration::from_millis(5), None)?;
        copy.query_row("PRAGMA journal_mode = DELETE", [], |_| Ok(()))?;
        copy.execute("DELETE FROM lease", [])?;
        copy.close().map_err(|(_, error)| error)
    }
}
