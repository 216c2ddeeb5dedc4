//! The files as they were at a revision of the repository, read through the program `git`, without checking anything out.

mod git;
mod listing;

use crate::path::{plain, shown};
use crate::text::decoded;
use dwell_check::program::Sources;
use git::Git;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// One revision of the repository that a folder lies in.
///
/// Paths are as [`crate::Folder`] shows them: relative to the folder that the work is done in, or absolute.
#[derive(Debug)]
pub struct Past {
    /// The folder that relative paths begin at, absolute.
    here: PathBuf,
    /// The top folder of the repository, absolute.
    top: PathBuf,
    git: Git,
    commit: String,
    /// The `.dwell` files: path from the top, and the text or why it is none.
    texts: BTreeMap<String, Result<String, String>>,
}

/// What became of the files between a revision and the working tree, paths as they are shown.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Moved {
    /// Each file that has another name now: its name now, its name then.
    pub renamed: BTreeMap<String, String>,
    /// The files that are gone.
    pub gone: BTreeSet<String>,
}

impl Past {
    /// Reads the `.dwell` files of a revision, such as `main`, `HEAD~1` or the beginning of a hash.
    ///
    /// # Errors
    /// A sentence: there is no program `git`, no repository here, or no such revision.
    pub fn at(here: &Path, revision: &str) -> Result<Past, String> {
        let here = here.canonicalize().map_err(|why| format!("the folder {}: {why}", here.display()))?;
        let git = Git::here(&here)?;
        let top = PathBuf::from(git.line(&["rev-parse", "--show-toplevel"])?);
        let top = top.canonicalize().unwrap_or(top);
        let commit = git
            .line(&["rev-parse", "--verify", "--quiet", "--end-of-options", &format!("{revision}^{{commit}}")])
            .map_err(|_| {
                format!(
                    "`{revision}` names no revision of this repository: write a branch, a tag or a hash; a shallow copy \
                     has only the last ones (`git fetch --unshallow` brings the others)"
                )
            })?;
        let blobs = listing::dwell_files(&git, &commit)?;
        let bytes = git.blobs(&blobs.values().cloned().collect::<Vec<_>>())?;
        let texts = blobs.into_keys().zip(bytes.into_iter().map(decoded)).collect();
        Ok(Past { here, top, git, commit, texts })
    }

    /// The `.dwell` files below a folder or the one file, as shown, in the order of their names; hidden ones are passed
    /// over, as they are on the disk.
    pub fn below(&self, path: &str) -> Vec<String> {
        let Some(inside) = self.inside_top(path) else { return Vec::new() };
        if self.texts.contains_key(&inside) {
            return vec![self.shown(&inside)];
        }
        let folder = if inside.is_empty() { String::new() } else { format!("{inside}/") };
        let below = self.texts.keys().filter(|path| {
            path.strip_prefix(folder.as_str())
                .is_some_and(|rest| !rest.split('/').any(|part| part.starts_with('.')))
        });
        below.map(|path| self.shown(path)).collect()
    }

    /// A path as `git show REVISION:PATH` takes it, from the top of the repository, or from here where it begins with `./` or
    /// `../`; as it is shown.
    pub fn named(&self, path: &str) -> String {
        let from_here = path == "." || path.starts_with("./") || path.starts_with("../");
        if from_here { shown(&plain(Path::new(path))) } else { self.shown(path.trim_end_matches('/')) }
    }

    /// Whether the revision has this file.
    pub fn has(&self, path: &str) -> bool {
        self.inside_top(path).is_some_and(|inside| self.texts.contains_key(&inside))
    }

    /// What was renamed or removed since, up to the working tree. Files that are not tracked are new.
    ///
    /// # Errors
    /// A sentence: what `git` says.
    pub fn moved(&self) -> Result<Moved, String> {
        let mut moved = Moved::default();
        for (then, now) in listing::moves(&self.git, &self.commit)? {
            match now {
                Some(now) => {
                    moved.renamed.insert(self.shown(&now), self.shown(&then));
                }
                None => {
                    moved.gone.insert(self.shown(&then));
                }
            }
        }
        Ok(moved)
    }

    /// A shown path as the repository has it, from its top; none for one outside.
    fn inside_top(&self, path: &str) -> Option<String> {
        let whole = plain(&self.here.join(path));
        let inside = whole.strip_prefix(&self.top).ok()?;
        Some(shown(inside))
    }

    /// A path from the top, as it is shown here.
    fn shown(&self, inside: &str) -> String {
        let whole = self.top.join(inside);
        if let Ok(below) = whole.strip_prefix(&self.here) {
            return shown(below);
        }
        // Beside or above the folder: up as often as it takes.
        let mut up = PathBuf::new();
        let mut folder = self.here.as_path();
        while let Some(parent) = folder.parent() {
            up.push("..");
            if let Ok(below) = whole.strip_prefix(parent) {
                return shown(&up.join(below));
            }
            folder = parent;
        }
        shown(&whole)
    }
}

impl Sources for Past {
    fn read(&self, path: &str) -> Result<String, String> {
        let inside = self
            .inside_top(path)
            .ok_or("it lies outside the repository, so that no earlier state is known")?;
        match self.texts.get(&inside) {
            Some(text) => text.clone(),
            None => self.git.other_file(&self.commit, &inside).and_then(decoded),
        }
    }

    fn join(&self, from: &str, used: &str) -> String {
        let beside = Path::new(from).parent().unwrap_or(Path::new(""));
        // The way as it is shown is worked out from the whole path, so that one file has one name.
        let whole = plain(&self.here.join(beside).join(used));
        match whole.strip_prefix(&self.top) {
            Ok(inside) => self.shown(&shown(inside)),
            Err(_) => shown(&plain(&beside.join(used))),
        }
    }
}
