//! Writing: one transaction for each answer, made only by who holds the job.

use super::Sqlite;
use crate::error::{StoreError, Trouble};
use crate::{Held, JobNumber, NewJob, Writing, holder};
use dwell_record::chain::{Chain, Hash};
use dwell_record::event::{By, Taking};
use dwell_record::{Event, What};
use rusqlite::{Connection, OptionalExtension, Transaction, TransactionBehavior, params};
use std::sync::atomic::{AtomicU64, Ordering};

/// A name for a right to write that no other has.
fn token(job: JobNumber, at: &str) -> String {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    let count = COUNT.fetch_add(1, Ordering::Relaxed);
    Hash::of(format!("{job} {at} {count} {} {}", holder::own(), std::process::id()).as_bytes()).to_string()
}

impl Sqlite {
    pub(super) fn begin_job(&mut self, job: NewJob<'_>) -> Result<Writing, StoreError> {
        let path = self.path.clone();
        let said = |error: rusqlite::Error| Trouble::of(&error).at(&path);
        let damaged = |why: &str| Trouble::Damaged { why: why.to_owned() }.at(&path);
        let Some((first, What::Begun(begun))) = job.events.first().map(|event| (event, &event.what)) else {
            return Err(damaged("the first event of a job does not say that it began"));
        };
        let sha256 = Hash::of(job.card.as_bytes());
        if sha256.digits() != begun.card {
            return Err(damaged("the card is not the one that the first event names"));
        }
        let change =
            self.connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(said)?;
        change
            .execute(
                "INSERT OR IGNORE INTO card (sha256, text) VALUES (?1, ?2)",
                params![sha256.digits(), job.card],
            )
            .map_err(said)?;
        let vehicle = begun.vehicle.as_ref().map(|vehicle| vehicle.number.as_str());
        change
            .execute(
                "INSERT INTO job (card, procedure, title, vehicle, begun, last, events) VALUES (?1, ?2, ?3, ?4, ?5, ?5, 0)",
                params![sha256.digits(), begun.procedure, begun.title, vehicle, first.at],
            )
            .map_err(said)?;
        let number = JobNumber(change.last_insert_rowid());
        let mut writing =
            Writing { job: number, token: token(number, &first.at), chain: Chain::default(), seq: 0 };
        hold(&change, &writing, job.by, &first.at).map_err(said)?;
        let (chain, seq) = add(&change, &writing, job.events).map_err(|trouble| trouble.at(&path))?;
        change.commit().map_err(said)?;
        (writing.chain, writing.seq) = (chain, seq);
        Ok(writing)
    }

    pub(super) fn take_job(
        &mut self,
        job: JobNumber,
        by: &By,
        at: &str,
        over: bool,
    ) -> Result<(Writing, Taking), StoreError> {
        let path = self.path.clone();
        let said = |error: rusqlite::Error| Trouble::of(&error).at(&path);
        let change =
            self.connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(said)?;
        let (seq, hash) = last(&change, job).map_err(said)?.ok_or(Trouble::NoSuchJob { job }.at(&path))?;
        let hash = Hash::parse(&hash)
            .ok_or_else(|| Trouble::Damaged { why: format!("job {job} has no hash") }.at(&path))?;
        let holds = held(&change, job, by.device.as_deref()).map_err(said)?;
        let taking = match holds {
            Some(held) if !held.gone && !over => {
                return Err(Trouble::Held { job, by: held.by, since: held.since }.at(&path));
            }
            Some(held) if !held.gone => Taking::TakenOver,
            _ => Taking::GoneOn,
        };
        let writing = Writing { job, token: token(job, at), chain: Chain::after(hash), seq };
        hold(&change, &writing, by, at).map_err(said)?;
        change.commit().map_err(said)?;
        Ok((writing, taking))
    }

    pub(super) fn append_events(
        &mut self,
        writing: &mut Writing,
        events: &[Event],
    ) -> Result<(), StoreError> {
        if events.is_empty() {
            return Ok(());
        }
        let path = self.path.clone();
        let said = |error: rusqlite::Error| Trouble::of(&error).at(&path);
        let change =
            self.connection.transaction_with_behavior(TransactionBehavior::Immediate).map_err(said)?;
        own(&change, writing).map_err(|trouble| trouble.at(&path))?;
        let (chain, seq) = add(&change, writing, events).map_err(|trouble| trouble.at(&path))?;
        change.commit().map_err(said)?;
        (writing.chain, writing.seq) = (chain, seq);
        Ok(())
    }

    pub(super) fn let_job_go(&mut self, writing: &Writing) -> Result<(), StoreError> {
        self.connection
            .execute("DELETE FROM lease WHERE job = ?1 AND token = ?2", params![writing.job.0, writing.token])
            .map(drop)
            .map_err(self.said())
    }
}

/// Who has a job open, as seen from a device.
pub(super) fn held(
    connection: &Connection,
    job: JobNumber,
    device: Option<&str>,
) -> rusqlite::Result<Option<Held>> {
    let found = "SELECT person, device, process, since FROM lease WHERE job = ?1";
    connection
        .query_row(found, [job.0], |row| {
            let by = By { person: row.get(0)?, device: row.get(1)? };
            let process: String = row.get(2)?;
            // What runs on another device cannot be seen from here.
            let gone = by.device.as_deref() == device && holder::is_gone(&process);
            Ok(Held { by, since: row.get(3)?, gone })
        })
        .optional()
}

/// The number and the hash of the last event.
fn last(connection: &Connection, job: JobNumber) -> rusqlite::Result<Option<(u64, String)>> {
    let found = "SELECT seq, hash FROM event WHERE job = ?1 ORDER BY seq DESC LIMIT 1";
    let row =
        connection.query_row(found, [job.0], |row| Ok((row.get::<_, i64>(0)?, row.get(1)?))).optional()?;
    Ok(row.map(|(seq, hash)| (u64::try_from(seq).unwrap_or_default(), hash)))
}

fn hold(change: &Transaction<'_>, writing: &Writing, by: &By, at: &str) -> rusqlite::Result<()> {
    let held = "INSERT INTO lease (job, token, person, device, process, since) VALUES (?1, ?2, ?3, ?4, ?5, ?6)
        ON CONFLICT (job) DO UPDATE SET token = excluded.token, person = excluded.person, device = excluded.device,
        process = excluded.process, since = excluded.since";
    let row = params![writing.job.0, writing.token, by.person, by.device, holder::own(), at];
    change.execute(held, row).map(drop)
}

/// Whether the right to write is still good.
fn own(change: &Transaction<'_>, writing: &Writing) -> Result<(), Trouble> {
    let job = writing.job;
    let found = "SELECT token, person, device, since FROM lease WHERE job = ?1";
    let row = change
        .query_row(found, [job.0], |row| {
            let by = By { person: row.get(1)?, device: row.get(2)? };
            Ok((row.get::<_, String>(0)?, by, row.get::<_, String>(3)?))
        })
        .optional()
        .map_err(|error| Trouble::of(&error))?;
    match row {
        Some((token, ..)) if token == writing.token => Ok(()),
        Some((_, by, since)) => Err(Trouble::TakenOver { job, by, since: Some(since) }),
        None => Err(Trouble::TakenOver { job, by: By::default(), since: None }),
    }
}

/// Adds events behind the last one; where the chain and the number stand then.
fn add(change: &Transaction<'_>, writing: &Writing, events: &[Event]) -> Result<(Chain, u64), Trouble> {
    let said = |error: rusqlite::Error| Trouble::of(&error);
    let job = writing.job;
    let there = last(change, job).map_err(said)?.unwrap_or((0, Hash::none().to_string()));
    if there != (writing.seq, writing.chain.last().to_string()) {
        return Err(Trouble::Damaged { why: format!("job {job} does not end where it was written to") });
    }
    let (mut chain, mut seq) = (writing.chain.clone(), writing.seq);
    let mut insert =
        change.prepare("INSERT INTO event (job, seq, hash, line) VALUES (?1, ?2, ?3, ?4)").map_err(said)?;
    for event in events {
        if event.seq != seq.saturating_add(1) {
            let why = format!("event {} of job {job} does not follow event {seq}", event.seq);
            return Err(Trouble::Damaged { why });
        }
        seq = event.seq;
        let line = chain.line(event).map_err(|error| Trouble::Failed { why: error.to_string() })?;
        let row =
            params![job.0, i64::try_from(seq).unwrap_or(i64::MAX), chain.last().digits(), line.trim_end()];
        insert.execute(row).map_err(said)?;
    }
    let result = events.iter().find_map(|event| match &event.what {
        What::Finished(finished) => Some(finished.result.words()),
        _ => None,
    });
    let at = events.last().map(|event| event.at.as_str()).unwrap_or_default();
    let row = params![job.0, at, i64::try_from(seq).unwrap_or(i64::MAX), result];
    let told = "UPDATE job SET last = ?2, events = ?3, result = coalesce(?4, result) WHERE number = ?1";
    change.execute(told, row).map_err(said)?;
    Ok((chain, seq))
}
