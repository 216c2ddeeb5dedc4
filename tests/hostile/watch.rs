//! Many inputs, one after another on small stacks, under a watch that names the one that panics or hangs.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread;
use std::time::{Duration, Instant};

/// As much stack as a thread of a language server has.
const STACK: usize = 2 << 20;

/// How long one input may take before it counts as hanging; the slowest takes a small part of this.
const PATIENCE: Duration = Duration::from_secs(60);

/// Feeds every input to `run`, on two threads. `name` says which one it was.
pub(super) fn all<T: Sync>(inputs: &[T], name: impl Fn(&T) -> String + Sync, run: impl Fn(&T) + Sync) {
    let next = AtomicUsize::new(0);
    thread::scope(|scope| {
        let workers: Vec<_> = (0..2)
            .map(|number| {
                let (next, name, run) = (&next, &name, &run);
                thread::Builder::new()
                    .stack_size(STACK)
                    .name(format!("hostile-{number}"))
                    .spawn_scoped(scope, move || work(inputs, next, name, run))
                    .unwrap()
            })
            .collect();
        let mut wrong = Vec::new();
        for worker in workers {
            wrong.extend(worker.join().unwrap());
        }
        assert!(wrong.is_empty(), "{} inputs go wrong:\n{}", wrong.len(), wrong.join("\n"));
    });
}

fn work<T>(inputs: &[T], next: &AtomicUsize, name: &impl Fn(&T) -> String, run: &impl Fn(&T)) -> Vec<String> {
    let mut wrong = Vec::new();
    while let Some(input) = inputs.get(next.fetch_add(1, Ordering::Relaxed)) {
        let begun = Instant::now();
        if let Err(panic) = catch_unwind(AssertUnwindSafe(|| run(input))) {
            let said = panic.downcast_ref::<String>().cloned();
            let said = said.or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()));
            wrong.push(format!("{}: {}", name(input), said.unwrap_or_default()));
        }
        let took = begun.elapsed();
        if took > PATIENCE {
            wrong.push(format!("{}: took {took:?}", name(input)));
        }
        if wrong.len() >= 10 {
            break;
        }
    }
    wrong
}
