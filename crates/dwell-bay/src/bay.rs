//! What the server knows: the cards that it offers, the records, the tools, and the jobs that are open.

use crate::clock::now;
use crate::device::Device;
use crate::job::Job;
use dwell_card::Card;
use dwell_record::Vehicle;
use dwell_run::{Refusal, Session, Start};
use dwell_store::{JobNumber, NewJob, Records, Sqlite, StoreError};
use dwell_tools::Register;
use std::collections::HashMap;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// How long the cards of the folder are taken to be as they were.
const FRESH: Duration = Duration::from_secs(2);

/// How many jobs are kept in memory before those are put away that nobody needs.
const MOST_SHOWN: usize = 100;

/// How many begun jobs are remembered, so that a form sent twice begins one.
const REMEMBERED: usize = 200;

/// A card that is offered.
#[derive(Clone, Debug)]
pub struct Offered {
    /// The card.
    pub card: Arc<Card>,
    /// The SHA-256 of its canonical form.
    pub sha256: String,
    /// The file that it was read from, or the procedure that it was built from.
    pub from: PathBuf,
}

/// The cards that are offered, and in words what could not be read.
pub type Shelf = (Vec<Offered>, Vec<String>);

/// What a bay is set up with.
pub struct Setting {
    /// The cards that are offered now: asked for again and again, so that a new revision is seen.
    pub cards: Box<dyn Fn() -> Shelf + Send + Sync>,
    /// Where records are kept.
    pub store: Sqlite,
    /// The workshop's tools, where there is a register.
    pub tools: Option<Register>,
}

/// The server's state; a clone is the same bay.
#[derive(Clone)]
pub struct Bay(Arc<Inside>);

struct Inside {
    cards: Box<dyn Fn() -> Shelf + Send + Sync>,
    shelf: Mutex<Option<(Instant, Shelf)>>,
    store: Mutex<Sqlite>,
    tools: Option<Register>,
    jobs: Mutex<HashMap<i64, Arc<Job>>>,
    begun: Mutex<Vec<(String, JobNumber)>>,
}

/// Why a job cannot be begun or shown.
#[derive(Debug)]
pub(crate) enum Trouble {
    /// The records.
    Store(StoreError),
    /// The card, or an answer.
    Refused(Refusal),
    /// The card in the records cannot be read.
    Card(String),
}

impl std::fmt::Display for Trouble {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Trouble::Store(error) => error.fmt(out),
            Trouble::Refused(refusal) => refusal.fmt(out),
            Trouble::Card(why) => write!(out, "the card of this job cannot be read: {why}"),
        }
    }
}

impl From<StoreError> for Trouble {
    fn from(error: StoreError) -> Trouble {
        Trouble::Store(error)
    }
}

/// What a lock holds; a fault in another thread leaves it as it was after its last whole change.
pub(crate) fn held<T>(lock: &Mutex<T>) -> MutexGuard<'_, T> {
    lock.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Bay {
    /// A bay with nothing open.
    pub fn new(setting: Setting) -> Bay {
        let Setting { cards, store, tools } = setting;
        Bay(Arc::new(Inside {
            cards,
            shelf: Mutex::new(None),
            store: Mutex::new(store),
            tools,
            jobs: Mutex::new(HashMap::new()),
            begun: Mutex::new(Vec::new()),
        }))
    }

    /// The cards that are offered now, and what could not be read. It reads files: not for a thread that others wait for.
    pub(crate) fn cards(&self) -> Shelf {
        let mut shelf = held(&self.0.shelf);
        if let Some((_, known)) = shelf.as_ref().filter(|(looked, _)| looked.elapsed() < FRESH) {
            return known.clone();
        }
        let cards = (self.0.cards)();
        *shelf = Some((Instant::now(), cards.clone()));
        cards
    }

    /// The records. Whoever holds them keeps everybody else waiting.
    pub(crate) fn store(&self) -> MutexGuard<'_, Sqlite> {
        held(&self.0.store)
    }

    /// The workshop's tools.
    pub(crate) fn tools(&self) -> Option<&Register> {
        self.0.tools.as_ref()
    }

    /// Begins a job; on the disk when this returns. `once` is the form that was sent: sent again, it is the same job.
    pub(crate) fn begin(
        &self,
        card: &Card,
        variants: &[(String, String)],
        vehicle: Option<Vehicle>,
        device: &Device,
        once: &str,
    ) -> Result<JobNumber, Trouble> {
        let mut begun = held(&self.0.begun);
        if let Some((_, number)) = begun.iter().find(|(form, _)| !once.is_empty() && form == once) {
            return Ok(*number);
        }
        let by = device.by();
        let start = Start { vehicle, by: by.clone() };
        let session = Session::start_with(card.clone(), variants, start, &now()).map_err(Trouble::Refused)?;
        let text = session.card().canonical().map_err(|error| Trouble::Card(error.to_string()))?;
        let writing = self.store().begin(NewJob { card: &text, events: session.events(), by: &by })?;
        let number = writing.job();
        let job = Job::begun(session, writing, device.clone(), self.0.tools.as_ref());
        held(&self.0.jobs).insert(number.0, Arc::new(job));
        begun.push((once.to_owned(), number));
        let over = begun.len().saturating_sub(REMEMBERED);
        begun.drain(..over);
        Ok(number)
    }

    /// A job, by its number; read from the records where nobody has looked at it yet.
    pub(crate) fn job(&self, number: JobNumber) -> Result<Arc<Job>, Trouble> {
        if let Some(job) = held(&self.0.jobs).get(&number.0) {
            return Ok(job.clone());
        }
        let session = self.session(number)?;
        let mut jobs = held(&self.0.jobs);
        if jobs.len() > MOST_SHOWN {
            // What nobody writes and nobody sees is read again when somebody does.
            jobs.retain(|_, job| Arc::strong_count(job) > 1 || job.is_needed());
        }
        // Another thread may have been quicker: there is one of each.
        Ok(jobs
            .entry(number.0)
            .or_insert_with(|| Arc::new(Job::looked_at(number, session, self.tools())))
            .clone())
    }

    /// The session of a job as its record has it.
    pub(crate) fn session(&self, number: JobNumber) -> Result<Session, Trouble> {
        let (text, record) = {
            let store = self.store();
            (store.card(number)?, store.record(number)?)
        };
        let card = Card::from_json(&text).map_err(|error| Trouble::Card(error.to_string()))?;
        Session::resume(card, &record.events).map_err(Trouble::Refused)
    }

    /// Whether the register has a tool that is asked by the program.
    pub(crate) fn has_instruments(&self) -> bool {
        self.tools().is_some_and(|tools| tools.tools.iter().any(|tool| tool.wire.is_some()))
    }

    /// Looks at the instruments of all jobs that somebody has in hand.
    pub(crate) fn look_at_instruments(&self) {
        let jobs: Vec<Arc<Job>> = held(&self.0.jobs).values().cloned().collect();
        for job in jobs {
            job.look_at_instrument(self);
        }
    }

    /// Gives up the right to write of all jobs: the server ends.
    pub(crate) fn let_go(&self) {
        let jobs: Vec<Arc<Job>> = held(&self.0.jobs).values().cloned().collect();
        for job in jobs {
            job.let_go(self);
        }
    }
}
