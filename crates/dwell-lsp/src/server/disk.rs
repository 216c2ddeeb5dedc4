//! The disk behind the texts: used files beside the file that uses them, settings above, and one name for each file.

use crate::ide::Disk;
use dwell_workspace::SettingsFile;
use std::collections::HashMap;
use std::path::{Component, Path, PathBuf};
use std::sync::{PoisonError, RwLock};

/// The disk of this machine. A file is known by its real path, by whatever links it is reached; it is shown by the path
/// that it was first named with.
#[derive(Debug, Default)]
pub(crate) struct RealDisk(RwLock<Names>);

#[derive(Debug, Default)]
struct Names {
    /// The real path of each path that was asked for.
    real: HashMap<String, String>,
    /// The path that a real path was first named with, where that is another.
    first: HashMap<String, String>,
}

impl RealDisk {
    /// The real path of a file, there or not; what is no path of a file stays as it is.
    pub(crate) fn real(&self, path: &str) -> String {
        if !Path::new(path).is_absolute() {
            return path.to_owned();
        }
        if let Some(real) = self.0.read().unwrap_or_else(PoisonError::into_inner).real.get(path) {
            return real.clone();
        }
        let real = without_links(Path::new(path));
        let mut names = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if real != path {
            names.first.entry(real.clone()).or_insert_with(|| path.to_owned());
        }
        names.real.insert(path.to_owned(), real.clone());
        real
    }

    /// The path by which people know a real path.
    pub(crate) fn shown(&self, real: &str) -> String {
        let names = self.0.read().unwrap_or_else(PoisonError::into_inner);
        names.first.get(real).cloned().unwrap_or_else(|| real.to_owned())
    }

    /// Looks again where a path leads; the real path that it had before, where that is known.
    pub(crate) fn forget(&self, path: &str) -> Option<String> {
        self.0.write().unwrap_or_else(PoisonError::into_inner).real.remove(path)
    }
}

impl Disk for RealDisk {
    fn read(&self, path: &str) -> Result<String, String> {
        if !Path::new(path).is_absolute() {
            return Err("this text is not saved yet, so nothing lies beside it: save it first".to_owned());
        }
        dwell_workspace::read(Path::new(path))
    }

    fn join(&self, from: &str, used: &str) -> String {
        let from = Path::new(from);
        if !from.is_absolute() {
            return used.to_owned();
        }
        self.real(&shown(&plain(&from.parent().unwrap_or(Path::new("/")).join(used))))
    }

    fn settings(&self, path: &str, open: &dyn Fn(&str) -> bool) -> Option<String> {
        let folder = Path::new(path).parent().filter(|folder| folder.is_absolute())?;
        let open = |file: &Path| open(&shown(file));
        SettingsFile::above_or_open(folder, dwell_settings::NAME, &open).map(|file| shown(&file))
    }

    fn today(&self) -> Option<String> {
        Some(time::OffsetDateTime::now_utc().date().to_string())
    }
}

/// A path with every link followed, as far as it is there.
fn without_links(path: &Path) -> String {
    if let Ok(real) = path.canonicalize() {
        let real = shown(&real);
        // The form that Windows itself gives to such paths is not one that people or editors know.
        return real
            .strip_prefix("//?/")
            .filter(|rest| !rest.starts_with("UNC/"))
            .unwrap_or(&real)
            .to_owned();
    }
    match (path.parent(), path.file_name()) {
        (Some(folder), Some(name)) => {
            let folder = without_links(folder);
            let end = if folder.ends_with('/') { "" } else { "/" };
            format!("{folder}{end}{}", name.to_string_lossy())
        }
        _ => shown(path),
    }
}

/// A path without `.` and `..`, by its letters alone.
pub(crate) fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => {
                plain.pop();
            }
            Component::Normal(_) | Component::RootDir | Component::Prefix(_) => plain.push(part),
        }
    }
    plain
}

/// A path with `/` between its parts.
pub(crate) fn shown(path: &Path) -> String {
    path.to_string_lossy().replace(std::path::MAIN_SEPARATOR, "/")
}

#[cfg(test)]
mod tests {
    use super::{Disk, RealDisk};
    use std::fs;

    #[cfg(unix)]
    #[test]
    fn a_file_has_one_name_by_whatever_link_it_is_reached() -> std::io::Result<()> {
        let top = tempfile::tempdir()?;
        let top = top.path().canonicalize()?;
        let path = |name: &str| format!("{}/{name}", top.display());
        fs::create_dir_all(path("real/a"))?;
        fs::write(path("real/parts.dwell"), "")?;
        std::os::unix::fs::symlink("real", path("link"))?;
        std::os::unix::fs::symlink("../parts.dwell", path("real/a/parts.dwell"))?;
        let disk = RealDisk::default();
        for way in ["real/parts.dwell", "link/parts.dwell", "link/a/parts.dwell"] {
            assert_eq!(disk.real(&path(way)), path("real/parts.dwell"));
        }
        assert_eq!(disk.join(&path("real/a/x.dwell"), "parts.dwell"), path("real/parts.dwell"));
        assert_eq!(disk.shown(&path("real/parts.dwell")), path("link/parts.dwell"), "as it was first named");
        assert_eq!(
            disk.real(&path("link/new.dwell")),
            path("real/new.dwell"),
            "also where it is not there yet"
        );
        assert_eq!(disk.real("untitled:a"), "untitled:a");
        fs::remove_file(path("real/a/parts.dwell"))?;
        assert_eq!(disk.forget(&path("link/a/parts.dwell")), Some(path("real/parts.dwell")));
        assert_eq!(disk.real(&path("link/a/parts.dwell")), path("real/a/parts.dwell"));
        Ok(())
    }
}
