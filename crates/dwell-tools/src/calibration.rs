//! How the calibration of a tool stands on a day.

use crate::register::Tool;
use time::{Date, Month};

/// How it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// It is good.
    Good {
        /// The last day on which it is.
        until: Date,
    },
    /// It was due before this day.
    Overdue {
        /// The last day on which it was good.
        since: Date,
    },
    /// Its last check lies in the future: the day, or the clock, is wrong.
    NotYet {
        /// The day of that check.
        calibrated: Date,
    },
    /// The register says nothing of a check.
    Unknown,
}

impl Tool {
    /// How its calibration stands on a day. `months` is after how many a procedure wants it calibrated again; the earlier of
    /// that and the day that the register gives counts.
    pub fn on(&self, day: Date, months: Option<u32>) -> Standing {
        let by_card = self.calibrated.zip(months).map(|(calibrated, months)| later(calibrated, months));
        let due = match (self.due, by_card) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        match (self.calibrated, due) {
            (Some(calibrated), _) if calibrated > day => Standing::NotYet { calibrated },
            (_, Some(due)) if due < day => Standing::Overdue { since: due },
            (Some(_), Some(due)) => Standing::Good { until: due },
            _ => Standing::Unknown,
        }
    }
}

/// So many months later, on the same day of the month or on its last.
fn later(day: Date, months: u32) -> Date {
    let all = u32::from(u8::from(day.month())) - 1 + months;
    let year = i32::try_from(all / 12).ok().and_then(|years| day.year().checked_add(years));
    let month = u8::try_from(all % 12 + 1).ok().and_then(|month| Month::try_from(month).ok());
    let (Some(year), Some(month)) = (year, month) else { return Date::MAX };
    let last = month.length(year);
    Date::from_calendar_date(year, month, day.day().min(last)).unwrap_or(Date::MAX)
}

/// The day of a moment as RFC 3339 writes it: `2031-04-12T09:05:00+02:00` is 2031-04-12.
pub fn day(moment: &str) -> Option<Date> {
    let mut parts = moment.get(..10)?.splitn(3, '-');
    let year = parts.next()?.parse().ok()?;
    let month = Month::try_from(parts.next()?.parse::<u8>().ok()?).ok()?;
    Date::from_calendar_date(year, month, parts.next()?.parse().ok()?).ok()
}
