//! What is still to be checked: what is open in the editor at once, all else behind it.

use crate::ide::{Shelf, View};
use std::collections::{HashMap, VecDeque};
use std::panic::{self, AssertUnwindSafe};
use std::sync::{Arc, Condvar, Mutex, PoisonError};

/// A check that was made: of which file, for which order to check it, and what came out; a sentence where the checker
/// itself failed.
#[derive(Debug)]
pub(crate) struct Outcome {
    /// The file.
    pub(crate) key: String,
    /// The order.
    pub(crate) order: u64,
    /// What came out.
    pub(crate) view: Result<Arc<View>, String>,
}

/// The files that wait, shared by the worker and the threads that check.
#[derive(Clone, Debug)]
pub(crate) struct Queue(Arc<(Mutex<Waiting>, Condvar)>);

#[derive(Debug)]
struct Waiting {
    shelf: Shelf,
    now: VecDeque<String>,
    later: VecDeque<String>,
    /// The newest order for each file that waits.
    orders: HashMap<String, u64>,
    closed: bool,
}

impl Queue {
    /// An empty queue.
    pub(crate) fn new(shelf: Shelf) -> Queue {
        let waiting = Waiting {
            shelf,
            now: VecDeque::new(),
            later: VecDeque::new(),
            orders: HashMap::new(),
            closed: false,
        };
        Queue(Arc::new((Mutex::new(waiting), Condvar::new())))
    }

    /// From now on these texts count, and these files are to be checked with them: the first ones at once.
    pub(crate) fn put(&self, shelf: &Shelf, now: Vec<(String, u64)>, later: Vec<(String, u64)>) {
        let (waiting, bell) = &*self.0;
        let mut waiting = waiting.lock().unwrap_or_else(PoisonError::into_inner);
        waiting.shelf = shelf.clone();
        for (key, order) in now {
            if waiting.orders.insert(key.clone(), order).is_some() {
                waiting.now.retain(|other| *other != key);
                waiting.later.retain(|other| *other != key);
            }
            waiting.now.push_back(key);
        }
        for (key, order) in later {
            if waiting.orders.insert(key.clone(), order).is_none() {
                waiting.later.push_back(key);
            }
        }
        bell.notify_all();
    }

    /// Nothing more is checked.
    pub(crate) fn close(&self) {
        let (waiting, bell) = &*self.0;
        waiting.lock().unwrap_or_else(PoisonError::into_inner).closed = true;
        bell.notify_all();
    }

    /// How many files wait behind.
    pub(crate) fn later(&self) -> usize {
        self.0.0.lock().unwrap_or_else(PoisonError::into_inner).later.len()
    }

    /// Checks what waits until the queue is closed; `behind` also takes what may be done later.
    pub(crate) fn work(&self, behind: bool, done: impl Fn(Outcome)) {
        while let Some((key, order, shelf)) = self.next(behind) {
            let checked = panic::catch_unwind(AssertUnwindSafe(|| Arc::new(View::of(&key, &shelf))));
            let view = checked.map_err(|fault| {
                let said = fault.downcast_ref::<String>().map(String::as_str);
                let said = said.or_else(|| fault.downcast_ref::<&str>().copied());
                said.unwrap_or("no more is known").to_owned()
            });
            done(Outcome { key, order, view });
        }
    }

    fn next(&self, behind: bool) -> Option<(String, u64, Shelf)> {
        let (waiting, bell) = &*self.0;
        let mut waiting = waiting.lock().unwrap_or_else(PoisonError::into_inner);
        loop {
            if waiting.closed {
                return None;
            }
            let key = waiting.now.pop_front();
            let key = key.or_else(|| if behind { waiting.later.pop_front() } else { None });
            if let Some(key) = key {
                let order = waiting.orders.remove(&key).unwrap_or_default();
                return Some((key, order, waiting.shelf.clone()));
            }
            waiting = bell.wait(waiting).unwrap_or_else(PoisonError::into_inner);
        }
    }
}
