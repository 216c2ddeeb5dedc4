//! What happened at the vehicle: events, their format, and the report.
//!
//! A record is a file with one event on each line, written as things happen and never changed. It names the card that was
//! executed by its SHA-256 and carries every band, name and unit itself, so that it can be read without the card.

pub mod event;
pub mod lines;
pub mod number;
pub mod report;
pub mod vin;
pub mod word;

#[cfg(test)]
mod tests;

pub use event::{Event, What};
pub use lines::{LineError, Read, TornTail, read, read_line, write_line};
pub use number::{Number, Value};
pub use report::Report;
pub use vin::{Vehicle, Vin};
pub use word::{Outcome, Side, Verdict};

/// The version of the record's format that this crate writes and reads.
pub const FORMAT: u32 = 1;

/// The JSON Schema (2020-12) of one line of a record.
pub fn schema() -> serde_json::Value {
    schemars::schema_for!(Event).to_value()
}

/// Whether a text is a moment as RFC 3339 writes it, with its distance from UTC: `2031-04-12T09:05:00+02:00`.
pub fn is_moment(text: &str) -> bool {
    time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).is_ok()
}

/// Whether the second of two moments lies before the first: a clock was set back. Not for texts that are no moments.
pub fn goes_back(first: &str, second: &str) -> bool {
    let read = |text| time::OffsetDateTime::parse(text, &time::format_description::well_known::Rfc3339).ok();
    matches!((read(first), read(second)), (Some(first), Some(second)) if second < first)
}
