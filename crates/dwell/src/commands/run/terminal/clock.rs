//! Time that has to pass: counted by the clock on the wall, so that it is right after the screen has slept.

use dwell_run::{Prompt, Session};
use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// A wait that is asked for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Waiting {
    /// When it began.
    from: OffsetDateTime,
    /// How long it lasts, in seconds.
    seconds: i64,
}

impl Waiting {
    /// The wait that is asked for now. It counts from what the text names, where that was done in this job, else from when it
    /// was asked for.
    pub(super) fn of(session: &Session) -> Option<Waiting> {
        let Prompt::Confirm(confirm) = session.ask() else { return None };
        let seconds = confirm.seconds?.0.to_f64().ceil();
        let asked = session.events().last().map(|event| event.at.as_str());
        let from = OffsetDateTime::parse(session.counts_from().or(asked)?, &Rfc3339).ok()?;
        // A wait has whole seconds, and no wait lasts a year.
        Some(Waiting { from, seconds: seconds.clamp(0.0, 31_536_000.0) as i64 })
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

/// `1:05`, `1:02:05`.
pub(super) fn in_words(seconds: i64) -> String {
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes}:{seconds:02}") }
}

#[cfg(test)]
mod tests {
    use super::*;
    use time::Duration;

    #[test]
    fn a_wait_goes_on_while_the_screen_sleeps_and_is_never_longer() {
        let from = OffsetDateTime::UNIX_EPOCH;
        let wait = Waiting { from, seconds: 120 };
        assert_eq!(wait.left(from + Duration::seconds(50)), 70);
        assert_eq!(wait.left(from + Duration::hours(3)), 0);
        assert_eq!(wait.over_for(from + Duration::seconds(125)), 5);
        assert_eq!(wait.left(from - Duration::hours(1)), 120, "a clock set back");
        assert_eq!((in_words(70), in_words(3725)), ("1:10".into(), "1:02:05".into()));
    }
}
