//! Tree to card and findings: names, quantities, lowering, flow and rules.
//!
//! A pure function from texts to cards and findings: [`check::check`]. Nothing here touches a disk, a clock or a terminal.

pub mod check;
mod facts;
pub mod finding;
pub mod flow;
mod limits;
pub mod lower;
pub mod mend;
pub mod model;
pub mod names;
pub mod options;
pub mod program;
mod prose;
mod repair;
pub mod resolve;
pub mod rules;
pub mod second;
#[cfg(test)]
mod texts;
pub mod trouble;
mod uses;
