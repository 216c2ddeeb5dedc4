//! The program as people and other programs meet it: exit status, pipes, colour, JSON, formatting, refusals, runs.

pub(crate) mod bench;
mod checking;
mod formatting;
mod running;
mod sampling;
mod testing;
mod vehicle;
