//! What is still to be checked: what is open in the editor at once, all else behind it.

use crate::ide::{Shelf, View};
use std::collections::{HashMap, HashSet, VecDeque};
use std::panic::{self, AssertUnwindSafe};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::time::{Duration, Instant};

/// How long nothing more may have changed before what hangs on the change is checked behind: while somebody types in a file
/// that many use, they are not checked for every letter.
const REST: Duration = Duration::from_millis(200);

/// A check that was made: of which file, for which order to check it, and what came out; a sentence where the checker
/// itself failed.
#[derive(Debug)]
pub(crate) struct Outcome {
    /// The file.
    pub(crate) key: String,
    /// The order.
    pub(crate) order: u64,
    /// What came out; nothing where a newer order came meanwhile.
    pub(crate) view: Result<Option<Arc<View>>, String>,
    /// Whether it was done behind.
    pub(crate) behind: bool,
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
    /// Those of them that may be done later.
    behind: HashSet<String>,
    /// What is being checked.
    running: Vec<Running>,
    /// Until when nothing is begun behind.
    rest: Option<Instant>,
    closed: bool,
}

/// A check that is being made.
#[derive(Debug)]
struct Running {
    key: String,
    order: u64,
    behind: bool,
    /// Whether anybody still waits for it.
    wanted: Arc<AtomicBool>,
}

/// What is to be checked.
#[derive(Debug)]
struct Task {
    key: String,
    order: u64,
    shelf: Shelf,
    wanted: Arc<AtomicBool>,
    behind: bool,
}

impl Queue {
    /// An empty queue.
    pub(crate) fn new(shelf: Shelf) -> Queue {
        let waiting = Waiting {
            shelf,
            now: VecDeque::new(),
            later: VecDeque::new(),
            orders: HashMap::new(),
            behind: HashSet::new(),
            running: Vec::new(),
            rest: None,
            closed: false,
        };
        Queue(Arc::new((Mutex::new(waiting), Condvar::new())))
    }

    fn lock(&self) -> MutexGuard<'_, Waiting> {
        self.0.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// From now on these texts count, and this file is to be checked with them, before all that waits behind.
    pub(crate) fn now(&self, shelf: &Shelf, key: &str, order: u64) {
        let mut waiting = self.lock();
        waiting.shelf = shelf.clone();
        waiting.stop(key);
        let known = waiting.orders.insert(key.to_owned(), order).is_some();
        // What waits behind under that name is passed over when its turn comes.
        if waiting.behind.remove(key) || !known {
            waiting.now.push_back(key.to_owned());
        }
        self.0.1.notify_all();
    }

    /// From now on these texts count, and these files are to be checked with them behind; after a short rest where that is
    /// for the sake of something that is being typed.
    pub(crate) fn later(&self, shelf: &Shelf, all: Vec<(String, u64)>, typing: bool) {
        let mut waiting = self.lock();
        waiting.shelf = shelf.clone();
        for (key, order) in all {
            waiting.stop(&key);
            if waiting.orders.insert(key.clone(), order).is_none() {
                waiting.behind.insert(key.clone());
                waiting.later.push_back(key);
            }
        }
        if typing {
            waiting.rest = Some(Instant::now() + REST);
        }
        self.0.1.notify_all();
    }

    /// This file need not be checked any more.
    pub(crate) fn forget(&self, key: &str) {
        let mut waiting = self.lock();
        waiting.stop(key);
        waiting.orders.remove(key);
        waiting.behind.remove(key);
    }

    /// Nothing more is checked.
    pub(crate) fn close(&self) {
        let mut waiting = self.lock();
        waiting.closed = true;
        waiting.running.iter().for_each(|running| running.wanted.store(false, Ordering::Relaxed));
        self.0.1.notify_all();
    }

    /// How many files wait behind, or are being checked there.
    pub(crate) fn left(&self) -> usize {
        let waiting = self.lock();
        waiting.behind.len() + waiting.running.iter().filter(|running| running.behind).count()
    }

    /// Checks what waits until the queue is closed; `behind` also takes what may be done later.
    pub(crate) fn work(
        &self,
        behind: bool,
        check: impl Fn(&str, &Shelf, &(dyn Fn() -> bool + Sync)) -> Option<View>,
        done: impl Fn(Outcome),
    ) {
        while let Some(task) = self.next(behind) {
            let Task { key, order, shelf, wanted, behind } = task;
            let still = || wanted.load(Ordering::Relaxed);
            let checked = panic::catch_unwind(AssertUnwindSafe(|| check(&key, &shelf, &still).map(Arc::new)));
            let view = checked.map_err(|fault| {
                let said = fault.downcast_ref::<String>().map(String::as_str);
                let said = said.or_else(|| fault.downcast_ref::<&str>().copied());
                said.unwrap_or("no more is known").to_owned()
            });
            self.lock().running.retain(|running| running.order != order);
            done(Outcome { key, order, view, behind });
        }
    }

    fn next(&self, behind: bool) -> Option<Task> {
        let mut waiting = self.lock();
        loop {
            if waiting.closed {
                return None;
            }
            if let Some(task) = waiting.take(behind) {
                return Some(task);
            }
            let rest = waiting.rest.filter(|_| behind && !waiting.later.is_empty());
            let rest = rest.map(|rest| rest.saturating_duration_since(Instant::now()));
            waiting = match rest {
                Some(rest) => {
                    let woken = self.0.1.wait_timeout(waiting, rest);
                    woken.unwrap_or_else(PoisonError::into_inner).0
                }
                None => self.0.1.wait(waiting).unwrap_or_else(PoisonError::into_inner),
            };
        }
    }
}

impl Waiting {
    /// What is being checked of this file is out of date.
    fn stop(&self, key: &str) {
        let old = self.running.iter().filter(|running| running.key == key);
        old.for_each(|running| running.wanted.store(false, Ordering::Relaxed));
    }

    /// The next to be checked.
    fn take(&mut self, behind: bool) -> Option<Task> {
        while let Some(key) = self.now.pop_front() {
            if !self.behind.contains(&key)
                && let Some(order) = self.orders.remove(&key)
            {
                return Some(self.task(key, order, false));
            }
        }
        if !behind || self.rest.is_some_and(|rest| Instant::now() < rest) {
            return None;
        }
        while let Some(key) = self.later.pop_front() {
            if self.behind.remove(&key)
                && let Some(order) = self.orders.remove(&key)
            {
                return Some(self.task(key, order, true));
            }
        }
        None
    }

    fn task(&mut self, key: String, order: u64, behind: bool) -> Task {
        let wanted = Arc::new(AtomicBool::new(true));
        self.running.push(Running { key: key.clone(), order, behind, wanted: Arc::clone(&wanted) });
        Task { key, order, shelf: self.shelf.clone(), wanted, behind }
    }
}

#[cfg(test)]
mod tests {
    use super::{Outcome, Queue, Shelf, View};
    use crate::server::disk::RealDisk;
    use std::sync::Arc;
    use std::sync::mpsc::channel;

    fn shelf() -> Shelf {
        Shelf::new(Arc::new(RealDisk::default()))
    }

    #[test]
    fn a_check_that_fails_is_told_and_the_next_one_is_made() {
        let (shelf, (sender, receiver)) = (shelf(), channel());
        let queue = Queue::new(shelf.clone());
        queue.now(&shelf, "bad", 1);
        queue.now(&shelf, "good", 2);
        let own = queue.clone();
        let work = std::thread::spawn(move || {
            let check = |key: &str, shelf: &Shelf, _: &(dyn Fn() -> bool + Sync)| {
                assert_ne!(key, "bad", "as if the analysis had failed");
                Some(View::of(key, shelf))
            };
            own.work(false, check, |outcome| drop(sender.send(outcome)));
        });
        let Outcome { key, order, view, .. } = receiver.recv().unwrap();
        assert_eq!((key.as_str(), order), ("bad", 1));
        assert!(view.unwrap_err().contains("as if the analysis had failed"));
        assert_eq!(receiver.recv().unwrap().key, "good");
        queue.close();
        work.join().unwrap();
    }

    #[test]
    fn what_is_open_comes_first_and_each_file_once_with_its_newest_order() {
        let shelf = shelf();
        let queue = Queue::new(shelf.clone());
        let later =
            |keys: &[(&str, u64)]| keys.iter().map(|(key, order)| ((*key).to_owned(), *order)).collect();
        queue.later(&shelf, later(&[("a", 1), ("b", 2), ("c", 3)]), false);
        queue.later(&shelf, later(&[("b", 4)]), false);
        queue.now(&shelf, "c", 5);
        queue.forget("a");
        assert_eq!(queue.left(), 1);
        let taken: Vec<(String, u64, bool)> = std::iter::from_fn(|| queue.lock().take(true))
            .map(|task| (task.key, task.order, task.behind))
            .collect();
        assert_eq!(taken, [("c".to_owned(), 5, false), ("b".to_owned(), 4, true)]);
        queue.later(&shelf, later(&[("a", 6)]), true);
        assert!(queue.lock().take(true).is_none(), "while somebody types it rests");
        assert!(queue.lock().take(false).is_none());
    }

    #[test]
    fn a_check_of_an_older_text_is_called_off() {
        let shelf = shelf();
        let queue = Queue::new(shelf.clone());
        queue.now(&shelf, "a", 1);
        let first = queue.lock().take(false).unwrap();
        let wanted = || first.wanted.load(std::sync::atomic::Ordering::Relaxed);
        assert!(wanted());
        queue.now(&shelf, "a", 2);
        assert!(!wanted());
        assert!(View::while_wanted("a", &shelf, &wanted).is_none());
    }
}
