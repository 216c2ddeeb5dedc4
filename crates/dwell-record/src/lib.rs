//! What happened at the vehicle: events, their format, and the report.
//!
//! A record is a file with one event on each line, written as things happen and never changed. It names the card that was
//! executed by its SHA-256 and carries every band, name and unit itself, so that it can be read without the card. Its lines are
//! chained by their hashes, so that anybody can see that nothing in it was changed.

pub mod chain;
pub mod event;
pub mod lines;
pub mod number;
pub mod report;
pub mod statistics;
pub mod trace;
pub mod vin;
pub mod word;

#[cfg(test)]
mod tests;

pub use chain::{Chain, Hash};
pub use event::{Event, What};
pub use lines::{LineError, Read, Reader, TornTail, read, read_line, write_line};
pub use number::{Number, Value};
pub use report::Report;
pub use vin::{Vehicle, Vin};
pub use word::{Outcome, Side, Verdict};

/// The version of the record's format that this crate writes. It reads this one and those before it.
pub const FORMAT: u32 = 2;

/// The version before the chain: its lines are events and nothing else. It is read for ever and no longer written.
pub const UNCHAINED: u32 = 1;

/// The JSON Schema (2020-12) of one line of a record, of this format and of those before it.
pub fn schema() -> serde_json::Value {
    let mut schema = schemars::schema_for!(Event).to_value();
    let hash = |what: &str| serde_json::json!({ "type": "string", "pattern": "^[0-9a-f]{64}$", "description": what });
    if let Some(members) = schema.get_mut("properties").and_then(serde_json::Value::as_object_mut) {
        members.insert(
            "previous".into(),
            hash("From format 2 on: the `hash` of the line before; 64 zeros in the first line."),
        );
        members.insert(
            "hash".into(),
            hash(
                "From format 2 on, and always last: the SHA-256 of the bytes of this line without this member and without the \
                 line end.",
            ),
        );
    }
    if let Some(schema) = schema.as_object_mut() {
        schema.insert(
            "dependentRequired".into(),
            serde_json::json!({ "previous": ["hash"], "hash": ["previous"] }),
        );
    }
    schema
}

/// Whether a text is a moment as RFC 3339 writes it, with its distance from UTC: `2031-04-12T09:05:00+02:00`.
pub fn is_moment(text: &str) -> bool {
    time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).is_ok()
}

/// The whole seconds from the first of two moments to the second, rounded up; none where the second lies before the first, or
/// one of them is no moment.
pub fn seconds_between(first: &str, second: &str) -> Option<u64> {
    let read = |text| time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).ok();
    let between = read(second)? - read(first)?;
    let whole = u64::try_from(between.whole_seconds()).ok().filter(|_| !between.is_negative())?;
    Some(if between.subsec_nanoseconds() > 0 { whole.saturating_add(1) } else { whole })
}

/// The whole seconds that have passed from the first of two moments to the second, rounded down; 0 where the second lies before
/// the first, or one of them is no moment.
pub fn seconds_passed(first: &str, second: &str) -> u64 {
    let read = |text| time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).ok();
    let between = read(first).zip(read(second)).map(|(first, second)| second - first);
    between.and_then(|between| u64::try_from(between.whole_seconds()).ok()).unwrap_or_default()
}

/// Whether the second of two moments lies before the first: a clock was set back. Not for texts that are no moments.
pub fn goes_back(first: &str, second: &str) -> bool {
    let read = |text| time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).ok();
    matches!((read(first), read(second)), (Some(first), Some(second)) if second < first)
}
