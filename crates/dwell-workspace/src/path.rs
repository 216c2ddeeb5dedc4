//! Paths as people see them: forward slashes, without `.` and without a `..` that can be worked out.

use std::path::{Component, Path, PathBuf};

/// `path` with `.` and `name/..` taken out, by the letters of the path alone: links are not looked at. A `..` at the
/// beginning stays, for there is nothing before it to take out.
pub(crate) fn plain(path: &Path) -> PathBuf {
    let mut plain = PathBuf::new();
    for part in path.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir => match plain.components().next_back() {
                Some(Component::Normal(_)) => {
                    plain.pop();
                }
                Some(Component::RootDir | Component::Prefix(_)) => {}
                Some(Component::ParentDir | Component::CurDir) | None => plain.push(".."),
            },
            Component::Normal(_) | Component::RootDir | Component::Prefix(_) => plain.push(part),
        }
    }
    plain
}

/// The path as it is shown, the same on every system.
pub(crate) fn shown(path: &Path) -> String {
    let text = path.to_string_lossy();
    if std::path::MAIN_SEPARATOR == '/' {
        text.into_owned()
    } else {
        text.replace(std::path::MAIN_SEPARATOR, "/")
    }
}
