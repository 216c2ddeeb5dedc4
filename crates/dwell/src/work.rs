//! From the paths that were typed to what the checker says of them.

use dwell_check::check::{Checked, check_on};
use dwell_check::program::Sources;
use dwell_report::{Base, Unreadable};
use dwell_workspace::Folder;
use std::path::{Path, PathBuf};
use time::OffsetDateTime;

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
    let checked = check_on(&roots, &folder, Some(&on(day)));
    Work { checked, unreadable, files: roots.len() }
}

/// That day, or today in UTC, year-month-day.
pub(crate) fn on(day: Option<&str>) -> String {
    day.map_or_else(|| OffsetDateTime::now_utc().date().to_string(), str::to_owned)
}

/// The folder that the work is done in, and the top of the repository that it lies in: the nearest folder upwards that has
/// a `.git`.
pub(crate) fn base() -> Base {
    let here = std::env::current_dir().unwrap_or_default();
    let top = here.ancestors().find(|folder| folder.join(".git").exists()).unwrap_or(&here);
    let slashes = |path: &Path| path.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/");
    Base { here: slashes(&here), top: slashes(top) }
}
