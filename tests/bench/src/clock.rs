//! How long something takes: time on the processor where the system tells it, else time on the clock.

use std::time::{Duration, Instant};

/// Does it, and says how many seconds it took. What else the machine is doing hardly matters where the system counts the
/// time that each thread was on a processor (Linux, `schedstat`, the first number, in nanoseconds); what is done side by side
/// counts in full.
pub(crate) fn timed<T>(work: impl FnOnce() -> T) -> (T, f64) {
    let (begun, on_processor) = (Instant::now(), on_processor());
    let done = std::hint::black_box(work());
    let time = match (on_processor, self::on_processor()) {
        (Some(before), Some(after)) => after.saturating_sub(before),
        _ => begun.elapsed(),
    };
    (done, time.as_secs_f64())
}

fn on_processor() -> Option<Duration> {
    let mut all = Duration::ZERO;
    for thread in std::fs::read_dir("/proc/self/task").ok()? {
        let told = std::fs::read_to_string(thread.ok()?.path().join("schedstat")).ok()?;
        let nanoseconds: u64 = told.split_whitespace().next()?.parse().ok()?;
        all += Duration::from_nanos(nanoseconds);
    }
    (all > Duration::ZERO).then_some(all)
}
