//! From the paths that were typed to what the checker says of them.

use dwell_check::check::{Checked, check_on};
use dwell_check::program::Sources;
use dwell_workspace::Folder;
use std::path::PathBuf;
use time::OffsetDateTime;

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
/// On a day, year-month-day; without one it is today, in UTC.
pub(crate) fn work(paths: &[PathBuf], day: Option<&str>) -> Work {
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
    let today = OffsetDateTime::now_utc().date().to_string();
    let checked = check_on(&roots, &folder, Some(day.unwrap_or(&today)));
    Work { checked, unreadable, files: roots.len() }
}
