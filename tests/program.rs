//! The program as people and other programs meet it: exit status, pipes, colour, JSON, formatting, refusals, runs.

mod bench;
mod checking;
mod formatting;
mod running;
mod sampling;
mod vehicle;
