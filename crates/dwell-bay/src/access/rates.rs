//! How often may be asked: each device has its own measure, and whoever is not known has a small one for each address.

use governor::clock::{Clock, DefaultClock};
use governor::{DefaultKeyedRateLimiter, Quota, RateLimiter};
use std::net::IpAddr;
use std::num::NonZeroU32;
use std::time::Duration;

/// What a device may ask in a second, over time and at once: ten readings a second, a page and its parts, and much room above.
const DEVICE: (NonZeroU32, NonZeroU32) = (per(60), per(240));
/// What an address may ask in a second that shows no token.
const STRANGER: (NonZeroU32, NonZeroU32) = (per(5), per(40));
/// Counts of this many addresses are kept before those that are full again are let go.
const TIDY_AT: usize = 1024;

const fn per(number: u32) -> NonZeroU32 {
    match NonZeroU32::new(number) {
        Some(number) => number,
        None => NonZeroU32::MIN,
    }
}

pub(crate) struct Rates {
    devices: DefaultKeyedRateLimiter<i64>,
    strangers: DefaultKeyedRateLimiter<IpAddr>,
    clock: DefaultClock,
}

impl Rates {
    pub(crate) fn new() -> Rates {
        let quota = |(each_second, at_once): (NonZeroU32, NonZeroU32)| {
            Quota::per_second(each_second).allow_burst(at_once)
        };
        Rates {
            devices: RateLimiter::keyed(quota(DEVICE)),
            strangers: RateLimiter::keyed(quota(STRANGER)),
            clock: DefaultClock::default(),
        }
    }

    /// # Errors
    /// How long to wait.
    pub(crate) fn device(&self, number: i64) -> Result<(), Duration> {
        self.devices.check_key(&number).map_err(|until| until.wait_time_from(self.clock.now()))
    }

    /// # Errors
    /// How long to wait.
    pub(crate) fn stranger(&self, from: IpAddr) -> Result<(), Duration> {
        if self.strangers.len() > TIDY_AT {
            self.strangers.retain_recent();
        }
        self.strangers.check_key(&from.to_canonical()).map_err(|until| until.wait_time_from(self.clock.now()))
    }
}
