//! Codes that are guessed: after a few wrong ones there is a wait, for whoever guesses and for everybody, and it grows.

use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Mutex, PoisonError};
use std::time::{Duration, Instant};

/// Wrong codes from one address before it waits; typing slips happen with gloves on.
const SLIPS: u32 = 2;
/// Wrong codes from anywhere before everybody waits.
const SLIPS_OF_ALL: u32 = 5;
/// After so many wrong codes from anywhere the code on the machine's screen is withdrawn.
pub(crate) const TOO_MANY: u32 = 10;
/// The longest wait.
const LONGEST: Duration = Duration::from_secs(900);
/// Wrong codes are forgotten when there was none for this long.
const FORGOTTEN: Duration = Duration::from_secs(3600);
/// How many addresses are kept count of; beyond them only all together are counted.
const MOST: usize = 4096;

#[derive(Clone, Copy)]
struct Count {
    wrong: u32,
    last: Instant,
    until: Instant,
}

/// Wrong codes by address; `None` counts all together.
#[derive(Default)]
pub(crate) struct Waits(Mutex<HashMap<Option<IpAddr>, Count>>);

impl Waits {
    /// Counts a code that is about to be tried as wrong, until it turns out to be right: so many at once gain nothing.
    /// Gives how many are counted from anywhere.
    ///
    /// # Errors
    /// How long to wait. The code was not looked at then.
    pub(crate) fn attempt(&self, from: IpAddr, now: Instant) -> Result<u32, Duration> {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        counts.retain(|_, count| now.saturating_duration_since(count.last) < FORGOTTEN || count.until > now);
        let keys = [Some(from.to_canonical()), None];
        let waits = keys
            .iter()
            .filter_map(|key| counts.get(key))
            .map(|count| count.until.saturating_duration_since(now));
        if let Some(wait) = waits.max().filter(|wait| !wait.is_zero()) {
            return Err(wait);
        }
        let mut of_all = 0;
        for (key, free) in keys.into_iter().zip([SLIPS, SLIPS_OF_ALL]) {
            if key.is_some() && counts.len() >= MOST && !counts.contains_key(&key) {
                continue;
            }
            let count = counts.entry(key).or_insert(Count { wrong: 0, last: now, until: now });
            count.wrong = count.wrong.saturating_add(1);
            count.last = now;
            count.until = now + wait(count.wrong, free);
            of_all = count.wrong;
        }
        Ok(of_all)
    }

    /// The code was right: nothing is held against that address any more, nor against all.
    pub(crate) fn right(&self, from: IpAddr) {
        let mut counts = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        counts.remove(&Some(from.to_canonical()));
        counts.remove(&None);
    }
}

/// 2 s after the first one too many, then twice as long each time.
fn wait(wrong: u32, free: u32) -> Duration {
    match wrong.checked_sub(free).filter(|more| *more > 0) {
        None => Duration::ZERO,
        Some(more) => LONGEST.min(Duration::from_secs(1_u64.checked_shl(more).unwrap_or(u64::MAX))),
    }
}
