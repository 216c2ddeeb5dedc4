//! The card: the flow graph of one procedure, and its file format.
//!
//! What was checked is what is executed: the checker's analysis walks these nodes, the runner executes them, and both ask
//! [`meaning`] what a node does. A card is all that the technician's side needs.

pub mod file;
pub mod graph;
pub mod limit;
pub mod meaning;
pub mod number;
pub mod section;
pub mod vehicle;
pub mod ways;
pub mod words;

mod card;

pub use card::{Axis, Card, Frame, Question, Revision, Step, Withdrawn};
pub use file::{CardError, FORMAT};
pub use number::Num;
