//! What an editor may ask of a procedure, one file per ability, without a word of the protocol.

pub mod findings;
pub mod fixes;
pub mod layout;
pub mod shelf;
pub mod view;

#[cfg(test)]
mod tests;

pub use shelf::{Disk, Shelf};
pub use view::View;
