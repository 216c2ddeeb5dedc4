//! A sampled measurement while it is taken: it begins with the first value that comes, and ends by itself where it can.

use crate::feed::{Feed, Round};
use dwell_run::{Answer, Gathering, Session};
use std::time::{Duration, Instant};

/// A measurement that is being taken.
#[derive(Debug)]
pub struct Series {
    feed: Feed,
    gathering: Gathering,
    asked: Instant,
    /// When the first value came, and its own time.
    begun: Option<(Instant, Option<u64>)>,
    fault: Option<String>,
}

impl Series {
    pub(crate) fn new(feed: Feed, gathering: Gathering) -> Series {
        Series { feed, gathering, asked: Instant::now(), begun: None, fault: None }
    }

    /// What gives its values.
    pub fn name(&self) -> &str {
        &self.feed.name
    }

    /// Takes what has come.
    pub fn look(&mut self, session: &Session) {
        while let Some(round) = self.feed.next() {
            match round {
                Round::Values { given, at, came } => {
                    let (begun, first) = *self.begun.get_or_insert((came, at));
                    let by_clock = || {
                        u64::try_from(came.saturating_duration_since(begun).as_millis()).unwrap_or(u64::MAX)
                    };
                    let at = match (at, first) {
                        // A source that begins its count anew is found by its time: what is not later is left out.
                        (Some(at), Some(first)) => at.saturating_sub(first),
                        _ => by_clock(),
                    };
                    self.gathering.add(session, at, given);
                    self.fault = None;
                }
                Round::Fault(words) => self.fault = Some(words),
            }
        }
    }

    /// Whether it is over; one that nothing comes for is never begun, and over when the source's patience is.
    pub fn is_over(&self) -> bool {
        match self.begun {
            Some(_) => self.gathering.is_over(self.past()),
            None => self.asked.elapsed() > self.feed.patience.max(Duration::from_secs(5)),
        }
    }

    /// Whether somebody can say that it is over: where no time is set for it and there are enough values.
    pub fn may_end(&self) -> bool {
        self.gathering.long().is_none() && self.gathering.is_enough()
    }

    fn past(&self) -> u64 {
        let past = self.begun.map_or(Duration::ZERO, |(begun, _)| begun.elapsed());
        u64::try_from(past.as_millis()).unwrap_or(u64::MAX)
    }

    /// The last value of each reading with its unit; nothing before the first came.
    pub fn latest(&self) -> Vec<(&str, &str)> {
        let all = self.gathering.latest().into_iter();
        all.map(|sample| (sample.text.as_str(), sample.unit.as_deref().unwrap_or_default())).collect()
    }

    /// How it stands: `4 s of 20 s, 3 values`, or why nothing has come.
    pub fn stands(&self) -> String {
        if self.begun.is_none() {
            return match &self.fault {
                Some(fault) => fault.clone(),
                None => format!("waiting for the first value from {}", self.feed.name),
            };
        }
        let past = self.past().max(self.gathering.reached()) / 1000;
        let of = self.gathering.long().map(|long| format!(" of {}", seconds(long))).unwrap_or_default();
        let count = self.gathering.count();
        let plural = if count == 1 { "" } else { "s" };
        format!("{past} s{of}, {count} value{plural}")
    }

    /// The same with the last values, and with what keeps more from coming: `4 s of 20 s, 3 values, last 14.1 V`.
    pub fn words(&self) -> String {
        let stands = self.stands();
        if self.begun.is_none() {
            return stands;
        }
        let latest = self.latest().into_iter();
        let latest: Vec<String> =
            latest.map(|(text, unit)| format!("{text} {unit}").trim_end().to_owned()).collect();
        let fault = self.fault().map(|fault| format!("; {fault}")).unwrap_or_default();
        format!("{stands}, last {}{fault}", latest.join(" and "))
    }

    /// What keeps more values from coming, in words.
    pub fn fault(&self) -> Option<&str> {
        self.fault.as_deref()
    }

    /// The answers, one for each reading.
    ///
    /// # Errors
    /// Why there are none: nothing came.
    pub fn answers(&self) -> Result<Vec<Answer>, String> {
        let answers = self.gathering.answers();
        if answers.is_empty() {
            let none = || format!("nothing has come from {}", self.feed.name);
            return Err(self.fault.clone().unwrap_or_else(none));
        }
        Ok(answers)
    }
}

/// `20 s`, `2.5 s`.
fn seconds(milliseconds: u64) -> String {
    match milliseconds % 1000 {
        0 => format!("{} s", milliseconds / 1000),
        rest => format!("{}.{} s", milliseconds / 1000, format!("{rest:03}").trim_end_matches('0')),
    }
}
