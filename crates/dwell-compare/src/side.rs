//! One of the two states: what was checked, and where its files begin.

use crate::Where;
use dwell_check::check::Checked;
use dwell_check::finding::Place;

/// One of the two states.
#[derive(Clone, Copy, Debug)]
pub struct Side<'a> {
    /// What was checked.
    pub checked: &'a Checked,
    /// The file or folder that was asked for, as its paths are shown; files are paired by their path from here.
    pub root: &'a str,
}

impl Side<'_> {
    /// A place as it is shown.
    pub(crate) fn place(&self, at: Place) -> Option<Where> {
        let file = self.checked.program.files.get(at.file)?;
        let (line, column) = file.lines.place(&file.text, at.span.start);
        Some(Where { path: file.path.clone(), line, column })
    }

    /// The path of a file from the root; for a root that is that file, nothing.
    pub(crate) fn relative(&self, file: usize) -> &str {
        let path = self.checked.program.files.get(file).map_or("", |file| file.path.as_str());
        if path == self.root {
            return "";
        }
        match path.strip_prefix(self.root) {
            Some(rest) if self.root.is_empty() || self.root.ends_with('/') => rest,
            Some(rest) => rest.strip_prefix('/').unwrap_or(path),
            None => path,
        }
    }
}
