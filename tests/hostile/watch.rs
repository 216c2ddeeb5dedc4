//! Many inputs, one after another on small stacks, under a watch that names the one that panics or hangs.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

/// As much stack as a thread of a language server has.
const STACK: usize = 2 << 20;

/// How many threads share the work.
const THREADS: usize = 2;

/// How long one input may take before it counts as hanging; the slowest takes a small part of this.
const PATIENCE: Duration = Duration::from_secs(60);

/// After so many inputs gone wrong the rest would say nothing new.
const ENOUGH: usize = 10;

/// What a thread tells the watch.
enum News {
    /// It begins with this input.
    Begins(usize),
    /// It is through with this one.
    Done(usize),
    /// This one went wrong.
    Wrong(String),
}

/// An input that a thread is at, and since when.
type InHand = (usize, Instant);

/// Feeds every input to `run`. `name` says which one it was. Fails for each that panics, and at once for one that hangs.
pub(super) fn all<T: Send + Sync + 'static>(
    inputs: Vec<T>,
    name: fn(&T) -> String,
    run: impl Fn(&T) + Send + Sync + 'static,
) {
    let (inputs, run, next) = (Arc::new(inputs), Arc::new(run), Arc::new(AtomicUsize::new(0)));
    let (tell, news) = channel();
    for number in 0..THREADS {
        let (inputs, run, next, tell) = (inputs.clone(), run.clone(), next.clone(), tell.clone());
        let thread = thread::Builder::new().stack_size(STACK).name(format!("hostile-{number}"));
        thread.spawn(move || work(&inputs, &next, &tell, name, &*run)).unwrap();
    }
    drop(tell);
    let mut in_hand: Vec<InHand> = Vec::new();
    let mut wrong = Vec::new();
    loop {
        match news.recv_timeout(Duration::from_secs(1)) {
            Ok(News::Begins(at)) => in_hand.push((at, Instant::now())),
            Ok(News::Done(at)) => in_hand.retain(|(known, _)| *known != at),
            Ok(News::Wrong(why)) => wrong.push(why),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => break,
        }
        let hanging = in_hand.iter().find(|(_, since)| since.elapsed() > PATIENCE);
        assert!(
            hanging.is_none(),
            "hangs: {}",
            hanging.map(|(at, _)| name(&inputs[*at])).unwrap_or_default()
        );
        if wrong.len() >= ENOUGH {
            break;
        }
    }
    assert!(wrong.is_empty(), "{} inputs go wrong:\n{}", wrong.len(), wrong.join("\n"));
    assert_eq!(next.load(Ordering::Relaxed), inputs.len() + THREADS, "some input was never tried");
}

fn work<T>(inputs: &[T], next: &AtomicUsize, tell: &Sender<News>, name: fn(&T) -> String, run: &impl Fn(&T)) {
    loop {
        let at = next.fetch_add(1, Ordering::Relaxed);
        let Some(input) = inputs.get(at) else { return };
        if tell.send(News::Begins(at)).is_err() {
            return;
        }
        if let Err(panic) = catch_unwind(AssertUnwindSafe(|| run(input))) {
            let said = panic.downcast_ref::<String>().cloned();
            let said = said.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()));
            if tell.send(News::Wrong(format!("{}: {}", name(input), said.unwrap_or_default()))).is_err() {
                return;
            }
        }
        if tell.send(News::Done(at)).is_err() {
            return;
        }
    }
}
