//! What an editor may ask of a procedure, one file per ability, without a word of the protocol.

mod bands;
pub mod block;
mod blocks;
pub mod calls;
pub mod completion;
pub mod definition;
mod describe;
pub mod draft;
pub mod findings;
pub mod fixes;
pub mod folding;
pub mod hints;
pub mod hover;
pub mod interface;
pub mod keywords;
pub mod layout;
pub mod lenses;
pub mod links;
pub mod mentions;
pub mod page;
pub mod references;
pub mod rename;
mod scale;
pub mod selection;
pub mod shelf;
pub mod signature;
pub mod symbols;
pub mod tokens;
mod under;
pub mod vehicle;
pub mod view;
pub mod world;

#[cfg(test)]
mod library;
#[cfg(test)]
mod tests;

pub use draft::Draft;
pub use mentions::{Role, What};
pub use shelf::{Disk, Shelf};
pub use view::View;
pub use world::{Further, Meaning, meaning};
