//! The program as people and other programs meet it: exit status, pipes, colour, JSON, formatting, refusals, runs.

pub(crate) mod bench;
mod checking;
mod comparing;
mod forges;
mod formatting;
mod junit;
mod keeping;
mod located;
mod mending;
mod page;
mod paths;
pub(crate) mod reporting;
mod repository;
mod running;
mod sampling;
mod sarif;
mod settings;
mod since;
mod testing;
mod tools;
mod trace;
mod vehicle;
