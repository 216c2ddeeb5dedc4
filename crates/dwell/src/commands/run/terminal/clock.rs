//! Time that has to pass: counted by the clock on the wall, so that it is right after the screen has slept.

use dwell_run::Session;
use dwell_run::shown::Waiting;
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// A wait that is asked for, by the clock.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Clock {
    /// When it began.
    from: OffsetDateTime,
    /// How long it lasts, in seconds.
    seconds: i64,
}

impl Clock {
    /// The wait that is asked for now.
    pub(super) fn of(session: &Session) -> Option<Clock> {
        let waiting = Waiting::of(session)?;
        let from = OffsetDateTime::parse(&waiting.from, &Rfc3339).ok()?;
        Some(Clock { from, seconds: i64::try_from(waiting.seconds).unwrap_or(i64::MAX) })
    }

    /// The seconds that are left; none are left when it is over. A clock that was set back adds nothing to the whole.
    pub(super) fn left(self, now: OffsetDateTime) -> i64 {
        let gone = (now - self.from).whole_seconds().max(0);
        self.seconds.saturating_sub(gone).max(0)
    }

    /// The seconds since it was over.
    pub(super) fn over_for(self, now: OffsetDateTime) -> i64 {
        ((now - self.from).whole_seconds() - self.seconds).max(0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use time::Duration;

    #[test]
    fn a_wait_goes_on_while_the_screen_sleeps_and_is_never_longer() {
        let from = OffsetDateTime::UNIX_EPOCH;
        let wait = Clock { from, seconds: 120 };
        assert_eq!(wait.left(from + Duration::seconds(50)), 70);
        assert_eq!(wait.left(from + Duration::hours(3)), 0);
        assert_eq!(wait.over_for(from + Duration::seconds(125)), 5);
        assert_eq!(wait.left(from - Duration::hours(1)), 120, "a clock set back");
    }
}
