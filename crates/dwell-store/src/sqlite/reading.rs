//! Reading: jobs, lines and cards as they were written.

use super::{Sqlite, writing};
use crate::error::{StoreError, Trouble};
use crate::{Job, JobNumber, NewJob, Records, Writing};
use dwell_record::event::{By, Taking};
use dwell_record::{Event, Read, Reader};
use rusqlite::{OptionalExtension, Params, Row, params};

impl Sqlite {
    /// All jobs, as seen from a device: only there can it be told whether a program that had one open is gone. A job that is over
    /// is held by nobody.
    ///
    /// # Errors
    /// A [`StoreError`].
    pub fn jobs_from(&self, device: Option<&str>) -> Result<Vec<Job>, StoreError> {
        self.listed(device, "ORDER BY number", [])
    }

    /// One job.
    ///
    /// # Errors
    /// [`Trouble::NoSuchJob`]; a [`StoreError`] otherwise.
    pub fn job(&self, job: JobNumber, device: Option<&str>) -> Result<Job, StoreError> {
        let found = self.listed(device, "WHERE number = ?1", [job.0])?;
        found.into_iter().next().ok_or_else(|| Trouble::NoSuchJob { job }.at(&self.path))
    }

    fn listed(&self, device: Option<&str>, which: &str, given: impl Params) -> Result<Vec<Job>, StoreError> {
        let said = self.said();
        let columns = "number, card, procedure, title, vehicle, begun, last, events, result";
        let mut all =
            self.connection.prepare(&format!("SELECT {columns} FROM job {which}")).map_err(&said)?;
        let rows = all.query_map(given, listed).map_err(&said)?;
        let mut jobs: Vec<Job> = rows.collect::<rusqlite::Result<_>>().map_err(&said)?;
        for job in jobs.iter_mut().filter(|job| job.result.is_none()) {
            job.held = writing::held(&self.connection, job.number, device).map_err(&said)?;
        }
        Ok(jobs)
    }

    pub(super) fn card_of(&self, job: JobNumber) -> Result<String, StoreError> {
        let found = "SELECT card.text FROM job JOIN card ON card.sha256 = job.card WHERE job.number = ?1";
        let text = self.connection.query_row(found, [job.0], |row| row.get(0)).optional();
        text.map_err(self.said())?.ok_or_else(|| Trouble::NoSuchJob { job }.at(&self.path))
    }
}

fn listed(row: &Row<'_>) -> rusqlite::Result<Job> {
    Ok(Job {
        number: JobNumber(row.get(0)?),
        card: row.get(1)?,
        procedure: row.get(2)?,
        title: row.get(3)?,
        vehicle: row.get(4)?,
        begun: row.get(5)?,
        last: row.get(6)?,
        events: u64::try_from(row.get::<_, i64>(7)?).unwrap_or_default(),
        result: row.get(8)?,
        held: None,
    })
}

impl Records for Sqlite {
    fn begin(&mut self, job: NewJob<'_>) -> Result<Writing, StoreError> {
        self.begin_job(job)
    }

    fn take(
        &mut self,
        job: JobNumber,
        by: &By,
        at: &str,
        over: bool,
    ) -> Result<(Writing, Taking), StoreError> {
        self.take_job(job, by, at, over)
    }

    fn append(&mut self, writing: &mut Writing, events: &[Event]) -> Result<(), StoreError> {
        self.append_events(writing, events)
    }

    fn let_go(&mut self, writing: Writing) -> Result<(), StoreError> {
        self.let_job_go(&writing)
    }

    fn jobs(&self) -> Result<Vec<Job>, StoreError> {
        self.jobs_from(None)
    }

    fn lines(&self, job: JobNumber, after: u64) -> Result<Vec<String>, StoreError> {
        let said = self.said();
        let after = i64::try_from(after).unwrap_or(i64::MAX);
        let found = "SELECT line FROM event WHERE job = ?1 AND seq > ?2 ORDER BY seq";
        let mut found = self.connection.prepare(found).map_err(&said)?;
        let rows = found.query_map(params![job.0, after], |row| row.get(0)).map_err(&said)?;
        let lines: Vec<String> = rows.collect::<rusqlite::Result<_>>().map_err(&said)?;
        if lines.is_empty() {
            self.card_of(job)?;
        }
        Ok(lines)
    }

    fn card(&self, job: JobNumber) -> Result<String, StoreError> {
        self.card_of(job)
    }

    fn record(&self, job: JobNumber) -> Result<Read, StoreError> {
        let mut reader = Reader::default();
        for line in self.lines(job, 0)? {
            let why =
                |error: dwell_record::LineError| Trouble::Damaged { why: format!("job {job}: {error}") };
            reader.line(&line).map_err(|error| why(error).at(&self.path))?;
        }
        let (events, last) = reader.end();
        Ok(Read { events, torn: None, last })
    }
}
