//! Records kept durably: every event is on the disk before it is acknowledged, and nothing is ever changed.
//!
//! [`Records`] is all that the program asks of a store; [`Sqlite`] keeps it in one file. A server's database would be another
//! implementation. A store knows nothing of cards or of how anything is decided: it keeps lines and gives them back.

mod error;
mod folder;
mod holder;
mod sqlite;

#[cfg(test)]
mod tests;

use dwell_record::chain::Chain;
use dwell_record::event::{By, Taking};
use dwell_record::{Event, Read};
pub use error::{StoreError, Trouble};
pub use folder::name_stays;
pub use sqlite::{MOST_PHOTO_BYTES, Sqlite, Verified};
use std::fmt;

/// The number of a job in its store, from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct JobNumber(pub i64);

impl fmt::Display for JobNumber {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(out)
    }
}

/// A job as it is listed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Job {
    /// Its number.
    pub number: JobNumber,
    /// The SHA-256 of its card.
    pub card: String,
    /// The procedure.
    pub procedure: String,
    /// Its title.
    pub title: String,
    /// The vehicle's number, where it was given.
    pub vehicle: Option<String>,
    /// When it began, as RFC 3339 writes it.
    pub begun: String,
    /// The time of its last event.
    pub last: String,
    /// How many events it has.
    pub events: u64,
    /// How it came out, "passed"; none while it is not finished.
    pub result: Option<String>,
    /// Who may write it just now; none where nobody has it open.
    pub held: Option<Held>,
}

/// Who has a job open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Held {
    /// The person and the device.
    pub by: By,
    /// Since when, as RFC 3339 writes it.
    pub since: String,
    /// Whether the program that has it open is known to be gone: it was killed, or the power went.
    pub gone: bool,
}

/// The right to write a job, and where its chain stands. Only one is good at a time.
#[derive(Debug)]
pub struct Writing {
    job: JobNumber,
    token: String,
    chain: Chain,
    seq: u64,
}

impl Writing {
    /// The job.
    pub fn job(&self) -> JobNumber {
        self.job
    }

    /// Where the chain stands.
    pub fn chain(&self) -> &Chain {
        &self.chain
    }
}

/// What a job begins with.
#[derive(Clone, Copy, Debug)]
pub struct NewJob<'a> {
    /// The canonical form of the card, byte for byte; its SHA-256 is what the first event names.
    pub card: &'a str,
    /// Its first events, from [`dwell_record::What::Begun`] on.
    pub events: &'a [Event],
    /// Who begins it.
    pub by: &'a By,
}

/// A place where records are kept.
pub trait Records {
    /// A new job with its card and its first events, all of them or nothing; on the disk when this returns.
    ///
    /// # Errors
    /// A [`StoreError`]; then nothing is acknowledged.
    fn begin(&mut self, job: NewJob<'_>) -> Result<Writing, StoreError>;

    /// Takes a job up again. Where somebody else has it open this is refused, unless `over` says to take it over; who had it
    /// then cannot write any more. `at` is the time, as RFC 3339 writes it.
    ///
    /// # Errors
    /// [`Trouble::Held`] with who has it open and since when; a [`StoreError`] otherwise.
    fn take(
        &mut self,
        job: JobNumber,
        by: &By,
        at: &str,
        over: bool,
    ) -> Result<(Writing, Taking), StoreError>;

    /// Adds events, all of them or none; on the disk when this returns.
    ///
    /// # Errors
    /// [`Trouble::TakenOver`] where somebody else writes it now; a [`StoreError`] otherwise. Then nothing is acknowledged, and
    /// nothing more must be done as if it had been.
    fn append(&mut self, writing: &mut Writing, events: &[Event]) -> Result<(), StoreError>;

    /// Gives up the right to write, so that the next person need not ask.
    ///
    /// # Errors
    /// A [`StoreError`]; what was written stays written.
    fn let_go(&mut self, writing: Writing) -> Result<(), StoreError>;

    /// All jobs, the oldest first.
    ///
    /// # Errors
    /// A [`StoreError`].
    fn jobs(&self) -> Result<Vec<Job>, StoreError>;

    /// The lines of a job after the event with this number, without line ends, in their order. With 0 it is the whole record,
    /// byte for byte as it was written.
    ///
    /// # Errors
    /// [`Trouble::NoSuchJob`]; a [`StoreError`] otherwise.
    fn lines(&self, job: JobNumber, after: u64) -> Result<Vec<String>, StoreError>;

    /// The card of a job, byte for byte.
    ///
    /// # Errors
    /// [`Trouble::NoSuchJob`]; a [`StoreError`] otherwise.
    fn card(&self, job: JobNumber) -> Result<String, StoreError>;

    /// The record of a job, its chain held to what was written.
    ///
    /// # Errors
    /// [`Trouble::Damaged`] where a line is not as it was written; a [`StoreError`] otherwise.
    fn record(&self, job: JobNumber) -> Result<Read, StoreError>;
}
