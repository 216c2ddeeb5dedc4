//! Where the file of settings lies: in the folder of what is checked, or in one above it, up to the repository's.

use crate::path::shown;
use std::env;
use std::path::{Path, PathBuf};

/// A file of settings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SettingsFile {
    /// The file, by its real path.
    pub path: PathBuf,
    /// The folder that it lies in: folders are named in it from there.
    pub folder: PathBuf,
    /// Its path as shown to people.
    pub shown: String,
}

impl SettingsFile {
    /// The file of that name for a file or folder: the nearest one on the way up. The way ends at the folder of a
    /// repository (one with `.git` in it); without a repository, at the top of the disk. None where there is none, or
    /// where the path itself is not there.
    pub fn above(path: &Path, name: &str) -> Option<SettingsFile> {
        let real = path.canonicalize().ok()?;
        let start = if real.is_dir() { real.as_path() } else { real.parent()? };
        for folder in start.ancestors() {
            if folder.join(name).is_file() {
                return SettingsFile::at(&folder.join(name));
            }
            if folder.join(".git").exists() {
                return None;
            }
        }
        None
    }

    /// The file of that name that counts for the files of a folder, by its path: the nearest on the way up that is there, or
    /// that `open` says an editor has open. The way ends as for [`SettingsFile::above`]; the folder need not be there.
    pub fn above_or_open(folder: &Path, name: &str, open: &dyn Fn(&Path) -> bool) -> Option<PathBuf> {
        for folder in folder.ancestors() {
            let file = folder.join(name);
            if open(&file) || file.is_file() {
                return Some(file);
            }
            if folder.join(".git").exists() {
                return None;
            }
        }
        None
    }

    /// This very file; none where it is not there.
    pub fn at(path: &Path) -> Option<SettingsFile> {
        let path = path.canonicalize().ok()?;
        let folder = path.parent()?.to_owned();
        let shown = seen_from_here(&path);
        Some(SettingsFile { path, folder, shown })
    }
}

/// A real path as it is seen from the working folder, where it lies in it or in a folder above it.
fn seen_from_here(path: &Path) -> String {
    let Some(here) = env::current_dir().ok().and_then(|here| here.canonicalize().ok()) else {
        return shown(path);
    };
    if let Ok(below) = path.strip_prefix(&here) {
        return shown(below);
    }
    for (up, folder) in here.ancestors().enumerate().skip(1) {
        // From another tree the whole path is plainer than a way over the top of the disk.
        if folder.parent().is_none() {
            break;
        }
        if let Ok(below) = path.strip_prefix(folder) {
            let up: PathBuf = std::iter::repeat_n("..", up).collect();
            return shown(&up.join(below));
        }
    }
    shown(path)
}

#[cfg(test)]
mod tests {
    use super::SettingsFile;
    use std::fs;

    #[test]
    fn the_nearest_above_is_found_and_no_further_than_the_repository() -> std::io::Result<()> {
        let top = tempfile::tempdir()?;
        let house = top.path().join("house");
        let brakes = house.join("old/brakes");
        fs::create_dir_all(&brakes)?;
        fs::write(top.path().join("s.toml"), "")?;
        fs::write(house.join("s.toml"), "")?;
        fs::write(brakes.join("a.dwell"), "")?;
        let folder = |path: &std::path::Path| SettingsFile::above(path, "s.toml").map(|found| found.folder);
        let real = house.canonicalize()?;
        assert_eq!(folder(&brakes), Some(real.clone()));
        assert_eq!(folder(&brakes.join("a.dwell")), Some(real));
        assert_eq!(folder(&brakes.join("b.dwell")), None, "what is not there has no settings");
        let open = |file: &std::path::Path| file == brakes.join("s.toml");
        assert_eq!(SettingsFile::above_or_open(&brakes, "s.toml", &|_| false), Some(house.join("s.toml")));
        assert_eq!(SettingsFile::above_or_open(&brakes, "s.toml", &open), Some(brakes.join("s.toml")));
        fs::create_dir(house.join("old/.git"))?;
        assert_eq!(folder(&brakes), None, "another repository's settings are not taken");
        assert_eq!(SettingsFile::above_or_open(&brakes, "s.toml", &|_| false), None);
        Ok(())
    }
}
