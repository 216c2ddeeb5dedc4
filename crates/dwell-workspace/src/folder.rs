//! The files that somebody asked for, found in folders, and those that they use.

use crate::path::{plain, shown};
use crate::text;
use dwell_check::program::Sources;
use ignore::WalkBuilder;
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// A path that could not be walked or is not there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// The path as it is shown.
    pub path: String,
    /// What is wrong and what to do, one sentence.
    pub what: String,
}

/// The `.dwell` files below the given paths.
///
/// A path that names a file is taken whatever it is called and even if an ignore file lists it. A folder is walked: files
/// whose name ends in `.dwell` are taken, in the order of their names. The ending is lower case only, because `A.DWELL`
/// and `a.dwell` are one file on some disks and two on others, and a library must be the same on both. Hidden files and
/// folders, and what `.gitignore` and `.ignore` list, are passed over, with a repository or without. Links to folders
/// are not followed, so that no walk goes round; a link to a file counts as that file.
#[derive(Debug, Default)]
pub struct Folder {
    roots: Vec<String>,
    faults: Vec<Fault>,
    /// Each file by its shown path.
    disk: BTreeMap<String, PathBuf>,
    /// The path that each file was first shown with, by its real path, so that one file is not read as two.
    names: RefCell<BTreeMap<PathBuf, String>>,
    /// The folder that settings name folders from.
    home: Option<PathBuf>,
}

impl Folder {
    /// Looks for files; what could not be walked becomes a [`Fault`] and does not stop the rest.
    pub fn of(paths: &[PathBuf]) -> Folder {
        let mut folder = Folder::default();
        for path in paths {
            if path.is_dir() {
                folder.walk(path);
            } else if path.exists() {
                folder.take(path);
            } else {
                folder
                    .fault(path, "there is no such file or folder: check the path and how the name is spelt");
            }
        }
        folder
    }

    /// The paths of the files found, as shown, each once.
    pub fn roots(&self) -> &[String] {
        &self.roots
    }

    /// What could not be walked.
    pub fn faults(&self) -> &[Fault] {
        &self.faults
    }

    /// Says from which folder, by its real path, settings name folders.
    pub fn at_home(&mut self, folder: PathBuf) {
        self.home = Some(folder);
    }

    fn walk(&mut self, top: &Path) {
        let mut walk = WalkBuilder::new(top);
        walk.require_git(false).git_global(false).git_exclude(false).sort_by_file_name(Ord::cmp);
        for entry in walk.build() {
            match entry {
                Ok(entry) if entry.path().extension().is_some_and(|end| end == "dwell") => {
                    if entry.path().is_file() {
                        self.take(entry.path());
                    }
                }
                Ok(_) => {}
                Err(error) => {
                    let path = place_of(&error).unwrap_or(top).to_owned();
                    self.fault(&path, &format!("it cannot be walked: {}", bare(&error)));
                }
            }
        }
    }

    fn take(&mut self, path: &Path) {
        let path = plain(path);
        let name = shown(&path);
        if self.first_name(&path, &name) == name && !self.disk.contains_key(&name) {
            self.roots.push(name.clone());
            self.disk.insert(name, path);
        }
    }

    fn fault(&mut self, path: &Path, what: &str) {
        self.faults.push(Fault { path: shown(path), what: what.to_owned() });
    }

    /// The name that the file at `path` is known by; `name` if it is seen for the first time or is not there.
    fn first_name(&self, path: &Path, name: &str) -> String {
        match path.canonicalize() {
            Ok(real) => self.names.borrow_mut().entry(real).or_insert_with(|| name.to_owned()).clone(),
            Err(_) => name.to_owned(),
        }
    }
}

impl Sources for Folder {
    fn read(&self, path: &str) -> Result<String, String> {
        let on_disk = self.disk.get(path).map_or(Path::new(path), PathBuf::as_path);
        text::read(on_disk)
    }

    fn join(&self, from: &str, used: &str) -> String {
        let from = self.disk.get(from).map_or(Path::new(from), PathBuf::as_path);
        let beside = from.parent().unwrap_or(Path::new(""));
        let path = plain(&beside.join(used));
        self.first_name(&path, &shown(&path))
    }

    fn home(&self, path: &str) -> String {
        let on_disk = self.disk.get(path).map_or(Path::new(path), PathBuf::as_path);
        let real = self.home.as_ref().zip(on_disk.canonicalize().ok());
        let below = real.and_then(|(home, real)| real.strip_prefix(home).map(shown).ok());
        below.unwrap_or_else(|| path.to_owned())
    }
}

/// The path that an error of the walk is about.
fn place_of(error: &ignore::Error) -> Option<&Path> {
    match error {
        ignore::Error::WithPath { path, .. } => Some(path),
        ignore::Error::Loop { child, .. } => Some(child),
        ignore::Error::WithDepth { err, .. } | ignore::Error::WithLineNumber { err, .. } => place_of(err),
        _ => None,
    }
}

/// An error of the walk without its path.
fn bare(error: &ignore::Error) -> String {
    match error {
        ignore::Error::WithPath { err, .. }
        | ignore::Error::WithDepth { err, .. }
        | ignore::Error::WithLineNumber { err, .. } => bare(err),
        other => other.to_string(),
    }
}
