//! Times of many tries, and what a person would want to know of them.

use std::fmt;
use std::time::Duration;

/// Times.
#[derive(Default)]
pub(crate) struct Times(Vec<Duration>);

impl Times {
    /// One more.
    pub(crate) fn add(&mut self, time: Duration) {
        self.0.push(time);
    }

    /// All of these too.
    pub(crate) fn extend(&mut self, more: &Times) {
        self.0.extend_from_slice(&more.0);
    }

    /// The shortest time that so many in a thousand do not exceed.
    fn within(&self, thousandth: usize) -> Duration {
        let mut sorted = self.0.clone();
        sorted.sort_unstable();
        let place = (sorted.len() * thousandth).div_ceil(1000).saturating_sub(1);
        sorted.get(place).copied().unwrap_or_default()
    }
}

impl fmt::Display for Times {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let shown = |thousandth| format!("{:8.2}", self.within(thousandth).as_secs_f64() * 1000.0);
        write!(f, "{}  {}  {} ms  of {:5}", shown(500), shown(990), shown(1000), self.0.len())
    }
}
