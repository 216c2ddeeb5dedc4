//! How long something takes: time on the processor where the system tells it, else time on the clock.

use std::time::{Duration, Instant};

/// Does it, and says how many seconds it took. What else the machine is doing hardly matters where the system counts the
/// time that a thread was on a processor (Linux, `/proc/thread-self/schedstat`, the first number, in nanoseconds).
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
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").ok()?;
    let nanoseconds: u64 = told.split_whitespace().next()?.parse().ok()?;
    (nanoseconds > 0).then(|| Duration::from_nanos(nanoseconds))
}
