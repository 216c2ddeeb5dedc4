//! Where text comes from: folders, ignore files, the files a file uses, and bytes that turn out to be no text.
//!
//! A [`Folder`] is built from the paths that somebody typed. It finds the `.dwell` files among them, and gives them and
//! what they use to the checker as [`dwell_check::program::Sources`]. One file that cannot be read is one
//! [`Fault`] or one finding, and the others are checked all the same. A [`Past`] does the same for a revision of a git
//! repository.

mod folder;
mod history;
mod path;
mod settings;
mod text;

#[cfg(test)]
mod tests;

pub use folder::{Fault, Folder};
pub use history::{Moved, Past};
pub use settings::SettingsFile;
pub use text::{MOST_BYTES, decoded, read};
