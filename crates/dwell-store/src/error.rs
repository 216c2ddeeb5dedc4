//! Why something was not stored or could not be read, in words for the person who stands at the vehicle.

use crate::JobNumber;
use dwell_record::event::By;
use rusqlite::ErrorCode;
use std::fmt;
use std::path::{Path, PathBuf};

/// What went wrong, and in which file.
#[derive(Debug)]
pub struct StoreError {
    /// The file.
    pub path: PathBuf,
    /// What went wrong.
    pub trouble: Trouble,
}

/// What went wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// There is no room left.
    Full,
    /// It cannot be written, or not be made, where it lies.
    ReadOnly {
        /// What the system said.
        why: String,
    },
    /// Another program kept it for longer than was waited.
    Locked,
    /// It is not what was written.
    Damaged {
        /// What is wrong with it.
        why: String,
    },
    /// It is no store of records.
    Foreign,
    /// It was made by a newer version of the program.
    Newer {
        /// The version found.
        found: i64,
        /// The newest version that is known here.
        known: i64,
    },
    /// It is not there.
    Missing,
    /// A name that is taken.
    Exists,
    /// The database does not promise what a record needs.
    Unsafe {
        /// What it does not promise.
        what: String,
    },
    /// Somebody else has the job open.
    Held {
        /// The job.
        job: JobNumber,
        /// Who.
        by: By,
        /// Since when.
        since: String,
    },
    /// Somebody else has taken the job over, and writes it now.
    TakenOver {
        /// The job.
        job: JobNumber,
        /// Who; nobody known where it was let go since.
        by: By,
        /// Since when.
        since: Option<String>,
    },
    /// There is no job of that number.
    NoSuchJob {
        /// The number.
        job: JobNumber,
    },
    /// A photo that is too large to be kept.
    TooLarge {
        /// How many bytes it has.
        bytes: usize,
        /// How many are kept.
        most: usize,
    },
    /// The disk, or what lies between, failed.
    Failed {
        /// What was said.
        why: String,
    },
}

impl fmt::Display for StoreError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = self.path.display();
        match &self.trouble {
            Trouble::Full => {
                write!(out, "there is no room left for the records {shown}: make room on the disk")
            }
            Trouble::ReadOnly { why } => write!(
                out,
                "the records {shown} cannot be written ({why}): give a place that can be, with `--store FILE`"
            ),
            Trouble::Locked => {
                write!(out, "another program keeps the records {shown} to itself: close it, and try again")
            }
            Trouble::Damaged { why } => write!(
                out,
                "the records {shown} are damaged: {why}. Nothing is taken from them as it stands: find a good copy, and keep \
                 this one for whoever looks into it"
            ),
            Trouble::Foreign => write!(out, "{shown} holds no records: give the file that `dwell run` wrote"),
            Trouble::Newer { found, known } => write!(
                out,
                "the records {shown} were written by a newer program (version {found}, and this one knows {known}): use that one"
            ),
            Trouble::Missing => write!(out, "there are no records {shown}"),
            Trouble::Exists => {
                write!(out, "{shown} is there already, and is not written over: give a new name")
            }
            Trouble::Unsafe { what } => write!(
                out,
                "the records {shown} would not be safe where they lie: {what}. Give a place on a disk of this device, with \
                 `--store FILE`"
            ),
            Trouble::Held { job, by, since } => {
                write!(out, "{by} has job {job} open, since {since}: only one writes it at a time")
            }
            Trouble::TakenOver { job, by, since: Some(since) } => {
                write!(out, "{by} has taken job {job} over, at {since}: only one writes it at a time")
            }
            Trouble::TakenOver { job, since: None, .. } => {
                write!(out, "job {job} was taken over, and let go since: take it up again to go on")
            }
            Trouble::NoSuchJob { job } => write!(out, "there is no job {job} in the records {shown}"),
            Trouble::TooLarge { bytes, most } => write!(
                out,
                "the photo has {bytes} bytes, and at most {most} are kept: take it with fewer pixels"
            ),
            Trouble::Failed { why } => write!(out, "the records {shown} could not be read or written: {why}"),
        }
    }
}

impl std::error::Error for StoreError {}

impl Trouble {
    /// In this file.
    pub(crate) fn at(self, path: &Path) -> StoreError {
        StoreError { path: path.to_owned(), trouble: self }
    }

    /// What the database said, as one of ours.
    pub(crate) fn of(error: &rusqlite::Error) -> Trouble {
        let why = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Trouble::Full,
            Some(ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied) => {
                Trouble::ReadOnly { why }
            }
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Trouble::Locked,
            Some(ErrorCode::DatabaseCorrupt) => Trouble::Damaged { why },
            Some(ErrorCode::NotADatabase) => Trouble::Foreign,
            _ => Trouble::Failed { why },
        }
    }
}
