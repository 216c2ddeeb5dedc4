//! What the server knows: the cards that it offers, the records, and the jobs that are open.

use dwell_card::Card;
use dwell_store::Sqlite;
use std::path::PathBuf;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

/// A card that is offered.
#[derive(Clone, Debug)]
pub struct Offered {
    /// The card.
    pub card: Arc<Card>,
    /// The file that it was read from, or built from.
    pub from: PathBuf,
}

/// What a bay is set up with.
pub struct Setting {
    /// The cards that are offered now, asked for each time they are shown; and what could not be read, in words.
    pub cards: Box<dyn Fn() -> (Vec<Offered>, Vec<String>) + Send + Sync>,
    /// Where records are kept.
    pub store: Sqlite,
}

/// The server's state; a clone is the same bay.
#[derive(Clone)]
pub struct Bay(Arc<Inside>);

struct Inside {
    cards: Box<dyn Fn() -> (Vec<Offered>, Vec<String>) + Send + Sync>,
    store: Mutex<Sqlite>,
}

impl Bay {
    /// A bay with nothing open.
    pub fn new(setting: Setting) -> Bay {
        let Setting { cards, store } = setting;
        Bay(Arc::new(Inside { cards, store: Mutex::new(store) }))
    }

    /// The cards that are offered now, and what could not be read. It reads files: not for a thread that others wait for.
    pub(crate) fn cards(&self) -> (Vec<Offered>, Vec<String>) {
        (self.0.cards)()
    }

    /// The records. Whoever holds them keeps everybody else waiting.
    pub(crate) fn store(&self) -> MutexGuard<'_, Sqlite> {
        self.0.store.lock().unwrap_or_else(PoisonError::into_inner)
    }
}
