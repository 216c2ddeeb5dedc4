//! Tree to card and findings: names, quantities, lowering, flow and rules.
//!
//! A pure function from texts to cards and findings: [`check`]. Nothing here touches a disk, a clock or a terminal.

pub mod finding;
pub mod model;
pub mod program;
pub mod trouble;
