//! The disk behind the texts: used files beside the file that uses them, settings above.

use crate::ide::Disk;
use dwell_check::options::Options;
use dwell_workspace::SettingsFile;
use std::path::{Component, Path, PathBuf};

/// The disk of this machine.
#[derive(Debug)]
pub(crate) struct RealDisk;

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
        shown(&plain(&from.parent().unwrap_or(Path::new("/")).join(used)))
    }

    fn options(&self, path: &str) -> (Options, Option<String>) {
        let day = time::OffsetDateTime::now_utc().date().to_string();
        let nothing = || Options { day: Some(day.clone()), ..Options::default() };
        let path = Path::new(path);
        let near = if path.exists() { Some(path) } else { path.parent().filter(|_| path.is_absolute()) };
        let Some(file) = near.and_then(|near| SettingsFile::above(near, dwell_settings::NAME)) else {
            return (nothing(), None);
        };
        let Ok(text) = dwell_workspace::read(&file.path) else { return (nothing(), None) };
        let path = shown(&file.path);
        (dwell_settings::read(&text).options(&path, &text, Some(&day)), Some(shown(&file.folder)))
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
