//! Where readings come from: files of comma-separated values, read strictly and kept as they were typed.
//!
//! [`read`] turns the text of a file into [`Row`]s in the order they stand, or into every [`Fault`] that keeps it from
//! being read. Nothing here decides whether a reading is good. The format is described for people in
//! `grammar/READINGS.md`, and every example there is a test of this crate.

mod fault;
mod header;
mod instrument;
mod live;
mod quotes;
mod rows;
mod value;

#[cfg(test)]
mod tests;

pub use fault::{Fault, MOST_FAULTS};
pub use instrument::{Answered, Instrument, InstrumentFault, Nothing, PORT};
pub use live::LiveLog;
pub use rows::{Row, SIGNATURE, STOP, TypedUnit, read};
pub use value::{Edge, Value};
