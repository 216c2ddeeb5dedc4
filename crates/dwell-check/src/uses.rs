//! What is declared or read and never used: names that nothing names, readings that nothing judges or shows.

mod names;
mod readings;

pub(crate) use names::unused as unused_names;
pub(crate) use readings::unused as unused_readings;
