//! Unit tests of the record.

mod chain;
mod lines;
mod report;
mod trace;
mod vin;

/// A job in which the tension was low, was set, and is in band.
const JOB: &str = include_str!("tests/job.jsonl");
