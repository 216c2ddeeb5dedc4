//! The time, as records write it.

use time::OffsetDateTime;
use time::format_description::well_known::Rfc3339;

/// The time now, to the millisecond.
pub(crate) fn now() -> String {
    let now = OffsetDateTime::now_utc();
    let now = now.replace_millisecond(now.millisecond()).unwrap_or(now);
    now.format(&Rfc3339).unwrap_or_default()
}

/// The day of a moment, year-month-day.
pub(crate) fn day(at: &str) -> &str {
    at.get(..10).unwrap_or_default()
}

/// A moment for people: `2031-04-12 09:05 UTC`.
pub(crate) fn moment(at: &str) -> String {
    let start = at.get(..16).map(|start| start.replace('T', " "));
    match (start, at.ends_with('Z')) {
        (Some(start), true) => format!("{start} UTC"),
        _ => at.to_owned(),
    }
}

/// Milliseconds since 1970 of a moment; 0 where it is none.
pub(crate) fn millis(at: &str) -> i64 {
    let read = OffsetDateTime::parse(at, &Rfc3339).ok();
    read.and_then(|at| i64::try_from(at.unix_timestamp_nanos() / 1_000_000).ok()).unwrap_or_default()
}
