//! The program as people and other programs meet it: exit status, pipes, colour, JSON, formatting, refusals, runs.

pub(crate) mod bench;
mod checking;
mod comparing;
mod correct;
mod forges;
mod formatting;
mod junit;
mod keeping;
pub(crate) mod live;
mod located;
mod mending;
mod page;
mod paper;
mod paths;
mod report;
pub(crate) mod reporting;
mod repository;
mod running;
mod sampling;
mod sarif;
mod settings;
#[path = "../crates/dwell-readings/src/instrument/tests/simulated.rs"]
pub(crate) mod simulated;
mod since;
mod statistics;
mod testing;
mod tools;
mod trace;
mod vehicle;
