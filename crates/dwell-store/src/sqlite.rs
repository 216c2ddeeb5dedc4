//! Records in one SQLite file: opened only where it promises that what is committed stays.
//!
//! Write-ahead log and `synchronous = FULL`: a transaction is on the disk when its commit returns, and a log whose end was torn
//! off is read up to its last whole transaction. Both are asked back after they were set, and a file that does not take them is
//! refused. What a log still holds when it is opened is carried into the file at once: after a sync that failed, it may have been
//! read from memory only, and nothing must be built on it before it is on the disk for certain.

mod export;
mod photos;
mod reading;
mod schema;
mod verify;
mod writing;

use crate::error::{StoreError, Trouble};
use crate::folder;
pub use photos::MOST_PHOTO_BYTES;
use rusqlite::{Connection, OpenFlags};
use std::path::{Path, PathBuf};
use std::time::Duration;
pub use verify::Verified;

/// How long another program is waited for.
const PATIENCE: Duration = Duration::from_secs(5);

/// A store in one file.
#[derive(Debug)]
pub struct Sqlite {
    path: PathBuf,
    connection: Connection,
}

impl Sqlite {
    /// Opens a store for writing, or makes it with its folder where it is not there.
    ///
    /// # Errors
    /// A [`StoreError`] that says why it cannot be used.
    pub fn open(path: &Path) -> Result<Sqlite, StoreError> {
        Sqlite::open_with(path, PATIENCE)
    }

    /// The same, with the time for which another program is waited for.
    ///
    /// # Errors
    /// As [`Sqlite::open`].
    pub fn open_with(path: &Path, patience: Duration) -> Result<Sqlite, StoreError> {
        let at = |trouble: Trouble| trouble.at(path);
        folder::made(path).map_err(|why| at(Trouble::ReadOnly { why: why.to_string() }))?;
        folder::on_this_device(path).map_err(at)?;
        let flags = OpenFlags::SQLITE_OPEN_READ_WRITE | OpenFlags::SQLITE_OPEN_CREATE;
        let said = |error: rusqlite::Error| at(Trouble::of(&error));
        let mut connection = Connection::open_with_flags(path, flags).map_err(said)?;
        connection.busy_timeout(patience).map_err(said)?;
        schema::known(&connection).map_err(at)?;
        safe(&connection).map_err(at)?;
        schema::bring_up(&mut connection).map_err(at)?;
        carried_over(&connection).map_err(at)?;
        Ok(Sqlite { path: path.to_owned(), connection })
    }

    /// Opens a store only to look at it. Nothing is made or changed, and a copy in a folder that cannot be written is read as well.
    ///
    /// # Errors
    /// [`Trouble::Missing`] where there is none; a [`StoreError`] otherwise.
    pub fn look(path: &Path) -> Result<Sqlite, StoreError> {
        let at = |trouble: Trouble| trouble.at(path);
        if !path.exists() {
            return Err(at(Trouble::Missing));
        }
        let opened = |name: &Path, flags: OpenFlags| -> Result<Sqlite, Trouble> {
            let connection = Connection::open_with_flags(name, flags).map_err(|error| Trouble::of(&error))?;
            connection.busy_timeout(PATIENCE).map_err(|error| Trouble::of(&error))?;
            schema::known(&connection)?;
            if schema::version(&connection)? == 0 {
                return Err(Trouble::Foreign);
            }
            Ok(Sqlite { path: path.to_owned(), connection })
        };
        match opened(path, OpenFlags::SQLITE_OPEN_READ_WRITE) {
            // Nobody can write there, so nobody does: the file is all there is.
            Err(Trouble::ReadOnly { .. }) if !beside(path, "-wal").exists() => {
                let flags = OpenFlags::SQLITE_OPEN_READ_ONLY | OpenFlags::SQLITE_OPEN_URI;
                opened(Path::new(&unchanging(path)), flags)
            }
            other => other,
        }
        .map_err(at)
    }

    /// The file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    #[cfg(test)]
    pub(crate) fn connection_for_tests(&self) -> &Connection {
        &self.connection
    }

    fn said(&self) -> impl Fn(rusqlite::Error) -> StoreError {
        let path = self.path.clone();
        move |error| Trouble::of(&error).at(&path)
    }
}

/// The file that SQLite lays beside a store.
fn beside(path: &Path, ending: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(ending);
    PathBuf::from(name)
}

/// The name by which SQLite reads a file that does not change.
fn unchanging(path: &Path) -> String {
    let plain = path.to_string_lossy().replace('%', "%25").replace('?', "%3f").replace('#', "%23");
    format!("file:{plain}?immutable=1")
}

/// Carries what the log holds into the file, and syncs it. Where another program is at work its own syncs count.
fn carried_over(connection: &Connection) -> Result<(), Trouble> {
    match connection.query_row("PRAGMA wal_checkpoint(PASSIVE)", [], |_| Ok(())) {
        Ok(()) => Ok(()),
        Err(error) => match Trouble::of(&error) {
            Trouble::Locked => Ok(()),
            other => Err(other),
        },
    }
}

/// Sets what a record needs, and asks whether it was taken.
fn safe(connection: &Connection) -> Result<(), Trouble> {
    let said = |error: rusqlite::Error| Trouble::of(&error);
    let journal: String =
        connection.query_row("PRAGMA journal_mode = WAL", [], |row| row.get(0)).map_err(said)?;
    if journal != "wal" {
        return Err(Trouble::Unsafe {
            what: format!("its journal is `{journal}` and not a write-ahead log"),
        });
    }
    // On a Mac only F_FULLFSYNC reaches the disk; elsewhere SQLite takes the two settings and does nothing about them.
    for (name, value) in [
        ("synchronous", 2),
        ("fullfsync", 1),
        ("checkpoint_fullfsync", 1),
        ("foreign_keys", 1),
        ("trusted_schema", 0),
    ] {
        connection.pragma_update(None, name, value).map_err(said)?;
        let taken: i64 = connection.pragma_query_value(None, name, |row| row.get(0)).map_err(said)?;
        if taken != value {
            return Err(Trouble::Unsafe { what: format!("its setting {name} is {taken} and not {value}") });
        }
    }
    Ok(())
}
