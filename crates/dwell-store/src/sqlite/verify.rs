//! Verifying: the file itself, the chain of every job, its card, and what is listed of it.

use super::Sqlite;
use crate::error::StoreError;
use crate::{Job, JobNumber, Records};
use dwell_record::{Hash, What};

/// What verifying found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Verified {
    /// How many jobs were looked at.
    pub jobs: usize,
    /// How many events they have.
    pub events: u64,
    /// What is wrong, each with its job where it belongs to one.
    pub wrong: Vec<(Option<JobNumber>, String)>,
}

impl Sqlite {
    /// Verifies one job, or all of them with the file itself.
    ///
    /// # Errors
    /// A [`StoreError`] where the file cannot be read; what is read and is wrong stands in [`Verified::wrong`].
    pub fn verify(&self, job: Option<JobNumber>) -> Result<Verified, StoreError> {
        let mut verified = Verified::default();
        if job.is_none() {
            let wrong = self.whole()?;
            verified.wrong.extend(wrong.into_iter().map(|wrong| (None, wrong)));
        }
        let jobs = match job {
            Some(job) => vec![self.job(job, None)?],
            None => self.jobs()?,
        };
        for job in jobs {
            verified.jobs += 1;
            verified.events += job.events;
            if let Err(wrong) = self.verify_job(&job) {
                verified.wrong.push((Some(job.number), wrong));
            }
        }
        Ok(verified)
    }

    /// What SQLite itself finds wrong with the file.
    fn whole(&self) -> Result<Vec<String>, StoreError> {
        let said = self.said();
        let mut found = self.connection.prepare("PRAGMA integrity_check(20)").map_err(&said)?;
        let rows = found.query_map([], |row| row.get::<_, String>(0)).map_err(&said)?;
        let lines: Vec<String> = rows.collect::<rusqlite::Result<_>>().map_err(&said)?;
        Ok(lines.into_iter().filter(|line| line != "ok").collect())
    }

    /// Whether the photo that an event names is there, byte for byte.
    fn verify_photo(&self, sha256: &str, seq: u64) -> Result<(), String> {
        match self.photo(sha256).map_err(|error| error.to_string())? {
            None => Err(format!("the photo that event {seq} names is not there")),
            Some(bytes) if Hash::of(&bytes).digits() != sha256 => {
                Err(format!("the photo that event {seq} names is not as it was taken"))
            }
            Some(_) => Ok(()),
        }
    }

    fn verify_job(&self, job: &Job) -> Result<(), String> {
        let record = self.record(job.number).map_err(|error| match error.trouble {
            crate::Trouble::Damaged { why } => why,
            _ => error.to_string(),
        })?;
        let Some(What::Begun(begun)) = record.events.first().map(|event| &event.what) else {
            return Err("it has no beginning".to_owned());
        };
        let card = self.card(job.number).map_err(|error| error.to_string())?;
        if Hash::of(card.as_bytes()).digits() != begun.card {
            return Err("its card is not the one that it was begun with".to_owned());
        }
        for event in &record.events {
            if let What::PhotoTaken(photo) = &event.what {
                self.verify_photo(&photo.sha256, event.seq)?;
            }
        }
        let result = record.events.iter().find_map(|event| match &event.what {
            What::Finished(finished) => Some(finished.result.words().to_owned()),
            _ => None,
        });
        let count = u64::try_from(record.events.len()).unwrap_or(u64::MAX);
        let at = record.events.last().map(|event| event.at.clone()).unwrap_or_default();
        if (count, &at, &result) != (job.events, &job.last, &job.result) {
            return Err("what is listed of it is not what its events say".to_owned());
        }
        Ok(())
    }
}
