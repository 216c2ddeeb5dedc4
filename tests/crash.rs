//! What a record promises when everything goes wrong: kills at any moment, a full disk, a disk that fails.
//!
//! After each, every answer that was acknowledged (the next thing was asked) is in the record, its chain is whole, and the job goes
//! on at the right step to the same end. `DWELL_TESTS_LONG=1` takes 1,000 kills and a fault at every write; `DWELL_SEED` begins
//! with another seed.

#![allow(clippy::print_stdout, clippy::print_stderr)]

mod faults;
mod job;
mod kills;
#[cfg(unix)]
mod page;

/// Whether all is to be tried.
fn long() -> bool {
    std::env::var_os("DWELL_TESTS_LONG").is_some_and(|value| value == "1")
}

fn seed() -> u64 {
    std::env::var("DWELL_SEED").ok().and_then(|seed| seed.parse().ok()).unwrap_or(20_310_412)
}
