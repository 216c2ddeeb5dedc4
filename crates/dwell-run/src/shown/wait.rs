//! Time that has to pass: from when it counts and how long it is, for whoever has a clock.

use crate::prompt::Prompt;
use crate::session::Session;

/// No wait lasts longer: a year, in seconds.
const LONGEST: f64 = 31_536_000.0;

/// A wait that is asked for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Waiting {
    /// When it began, as RFC 3339 writes it.
    pub from: String,
    /// How long it lasts, in whole seconds.
    pub seconds: u64,
}

impl Waiting {
    /// The wait that is asked for now. It counts from what the text names, where that was done in this job, else from when it
    /// was asked for.
    pub fn of(session: &Session) -> Option<Waiting> {
        let Prompt::Confirm(confirm) = session.ask() else { return None };
        let seconds = confirm.seconds?.0.to_f64().ceil().clamp(0.0, LONGEST) as u64;
        let asked = session.events().last().map(|event| event.at.as_str());
        let from = session.counts_from().or(asked)?.to_owned();
        Some(Waiting { from, seconds })
    }

    /// The seconds that are left at a moment; none are left when it is over. A clock that was set back adds nothing to the whole.
    pub fn left(&self, at: &str) -> u64 {
        self.seconds.saturating_sub(dwell_record::seconds_passed(&self.from, at))
    }
}

/// `1:05`, `1:02:05`.
pub fn in_words(seconds: u64) -> String {
    let (hours, minutes, seconds) = (seconds / 3600, seconds / 60 % 60, seconds % 60);
    if hours > 0 { format!("{hours}:{minutes:02}:{seconds:02}") } else { format!("{minutes}:{seconds:02}") }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wait_goes_on_while_the_screen_sleeps_and_is_never_longer() {
        let wait = Waiting { from: "2031-04-12T09:00:00.5Z".into(), seconds: 120 };
        assert_eq!(wait.left("2031-04-12T09:00:50.50Z"), 70);
        assert_eq!(wait.left("2031-04-12T09:00:50.4Z"), 71);
        assert_eq!(wait.left("2031-04-12T12:00:00Z"), 0);
        assert_eq!(wait.left("2031-04-12T08:00:00Z"), 120, "a clock set back");
        assert_eq!((in_words(70), in_words(3725)), ("1:10".into(), "1:02:05".into()));
    }
}
