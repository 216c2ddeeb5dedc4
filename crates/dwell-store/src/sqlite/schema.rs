//! The tables, and how a file of an older version is brought up to this one.

use crate::error::Trouble;
use rusqlite::{Connection, TransactionBehavior};

/// What marks a file as a store of records: "Dwel" in ASCII.
const MARK: i64 = 0x4477_656C;

/// Each brings a store from the version of its place to the next one. They are never changed, only added to.
const STEPS: &[&str] = &["
CREATE TABLE card (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    text TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE job (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    card TEXT NOT NULL REFERENCES card,
    procedure TEXT NOT NULL,
    title TEXT NOT NULL,
    vehicle TEXT,
    begun TEXT NOT NULL,
    last TEXT NOT NULL,
    events INTEGER NOT NULL,
    result TEXT
) STRICT;

CREATE TABLE event (
    job INTEGER NOT NULL REFERENCES job,
    seq INTEGER NOT NULL CHECK (seq >= 1),
    hash TEXT NOT NULL CHECK (length(hash) = 64),
    line TEXT NOT NULL,
    PRIMARY KEY (job, seq)
) STRICT, WITHOUT ROWID;

CREATE TABLE lease (
    job INTEGER PRIMARY KEY REFERENCES job,
    token TEXT NOT NULL,
    person TEXT,
    device TEXT,
    process TEXT NOT NULL,
    since TEXT NOT NULL
) STRICT;

CREATE TRIGGER event_stays BEFORE UPDATE ON event BEGIN SELECT raise(ABORT, 'an event is never changed'); END;
CREATE TRIGGER event_is_kept BEFORE DELETE ON event BEGIN SELECT raise(ABORT, 'an event is never taken out'); END;
CREATE TRIGGER card_stays BEFORE UPDATE ON card BEGIN SELECT raise(ABORT, 'a card is never changed'); END;
CREATE TRIGGER card_is_kept BEFORE DELETE ON card BEGIN SELECT raise(ABORT, 'a card is never taken out'); END;
CREATE TRIGGER job_is_kept BEFORE DELETE ON job BEGIN SELECT raise(ABORT, 'a job is never taken out'); END;
", "
CREATE TABLE photo (
    sha256 TEXT PRIMARY KEY CHECK (length(sha256) = 64),
    bytes BLOB NOT NULL
) STRICT;

CREATE TRIGGER photo_stays BEFORE UPDATE ON photo BEGIN SELECT raise(ABORT, 'a photo is never changed'); END;
CREATE TRIGGER photo_is_kept BEFORE DELETE ON photo BEGIN SELECT raise(ABORT, 'a photo is never taken out'); END;
"];

/// The newest version.
pub(super) fn newest() -> i64 {
    i64::try_from(STEPS.len()).unwrap_or(i64::MAX)
}

/// The version of a file; 0 for one that is empty.
pub(super) fn version(connection: &Connection) -> Result<i64, Trouble> {
    connection.pragma_query_value(None, "user_version", |row| row.get(0)).map_err(|error| Trouble::of(&error))
}

/// Whether it is a store of a version that is known, or an empty file.
pub(super) fn known(connection: &Connection) -> Result<(), Trouble> {
    let said = |error: rusqlite::Error| Trouble::of(&error);
    let mark: i64 = connection.pragma_query_value(None, "application_id", |row| row.get(0)).map_err(said)?;
    let tables: i64 =
        connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0)).map_err(said)?;
    if mark != MARK && (mark != 0 || tables != 0) {
        return Err(Trouble::Foreign);
    }
    let found = version(connection)?;
    if found > newest() {
        return Err(Trouble::Newer { found, known: newest() });
    }
    Ok(())
}

/// Brings a file up to the newest version; in one transaction, so that it is never half way.
pub(super) fn bring_up(connection: &mut Connection) -> Result<(), Trouble> {
    let said = |error: rusqlite::Error| Trouble::of(&error);
    if version(connection)? == newest() {
        return Ok(());
    }
    let change = connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(said)?;
    // Another program may have done it in the meantime.
    let found = usize::try_from(version(&change)?).unwrap_or_default();
    for step in STEPS.iter().skip(found) {
        change.execute_batch(step).map_err(said)?;
    }
    change.pragma_update(None, "application_id", MARK).map_err(said)?;
    change.pragma_update(None, "user_version", newest()).map_err(said)?;
    change.commit().map_err(said)
}
