//! What an editor may ask of a procedure, one file per ability, without a word of the protocol.

pub mod calls;
pub mod definition;
pub mod findings;
pub mod fixes;
pub mod folding;
pub mod interface;
pub mod layout;
pub mod links;
pub mod mentions;
pub mod references;
pub mod rename;
pub mod selection;
pub mod shelf;
pub mod symbols;
pub mod tokens;
pub mod view;
pub mod world;

#[cfg(test)]
mod library;
#[cfg(test)]
mod tests;

pub use mentions::{Role, What};
pub use shelf::{Disk, Shelf};
pub use view::View;
pub use world::{Further, Meaning, meaning};
