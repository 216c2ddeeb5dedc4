//! From the paths that were typed to what the checker says of them.

use dwell_check::check::{Checked, check};
use dwell_check::program::Sources;
use dwell_workspace::Folder;
use std::path::PathBuf;

/// A path that could not be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Unreadable {
    /// The path as it is shown.
    pub(crate) path: String,
    /// Why, and what to do.
    pub(crate) why: String,
}

/// What was checked, and what could not be.
pub(crate) struct Work {
    /// The result.
    pub(crate) checked: Checked,
    /// What could not be read; the rest was checked without it.
    pub(crate) unreadable: Vec<Unreadable>,
    /// How many files were checked.
    pub(crate) files: usize,
}

/// Checks the files below these paths.
pub(crate) fn work(paths: &[PathBuf]) -> Work {
    let folder = Folder::of(paths);
    let mut unreadable: Vec<Unreadable> = folder
        .faults()
        .iter()
        .map(|fault| Unreadable { path: fault.path.clone(), why: fault.what.clone() })
        .collect();
    let mut roots = Vec::new();
    for root in folder.roots() {
        match folder.read(root) {
            Ok(_) => roots.push(root.clone()),
            Err(why) => unreadable.push(Unreadable { path: root.clone(), why }),
        }
    }
    let checked = check(&roots, &folder);
    Work { checked, unreadable, files: roots.len() }
}
