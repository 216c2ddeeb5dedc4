//! What a change to procedures means: two checked states compared by their meaning, not by their text.
//!
//! [`compare`] takes the declarations and the compiled flow of both states and gives a list of [`Change`]s, the loudest first: a
//! caution that is gone, a limit that is looser, something that is no longer put back; then what changes the work; then words
//! and layout. [`markdown`] and [`json`] write it.

mod align;
mod change;
mod compare;
mod declared;
mod fact;
mod files;
mod house;
mod json;
mod limits;
mod markdown;
mod pairs;
mod procedure;
mod revision;
mod seconds;
mod side;
#[cfg(test)]
mod tests;
mod words;

pub use change::{Change, Comparison, Grade, Where};
pub use compare::compare;
pub use json::json;
pub use markdown::markdown;
pub use side::Side;
