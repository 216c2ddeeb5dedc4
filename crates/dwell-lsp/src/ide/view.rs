//! One file as the checker sees it: its text, and all that was found out about it.

use super::shelf::{Asked, Shelf};
use dwell_check::check::{Checked, Compiled, check_with};
use dwell_check::finding::Finding;
use dwell_check::program::{PRELUDE, SourceFile};
use std::path::Path;

/// A checked file. All abilities answer from one.
#[derive(Debug)]
pub struct View {
    /// Its path.
    pub path: String,
    /// What the check of this file, with all that it uses, came to.
    pub checked: Checked,
}

/// The place of the file itself among the files of its program: the prelude is the first.
const SELF: usize = 1;

impl View {
    /// Checks a file.
    pub fn of(path: &str, shelf: &Shelf) -> View {
        let (options, home) = shelf.disk().options(path);
        let asked = Asked { shelf, home: home.as_deref() };
        let checked = check_with(&[path.to_owned()], &asked, &options);
        View { path: path.to_owned(), checked }
    }

    /// The file itself; every place in it has [`View::file`] as its file.
    pub fn source(&self) -> Option<&SourceFile> {
        self.checked.program.files.get(SELF)
    }

    /// Its place among the files of its program.
    pub fn file(&self) -> usize {
        SELF
    }

    /// The text that was checked.
    pub fn text(&self) -> &str {
        self.source().map_or("", |source| source.text.as_str())
    }

    /// The text of another file of its program.
    pub fn other(&self, file: usize) -> Option<&SourceFile> {
        self.checked.program.files.get(file)
    }

    /// What was found in this file.
    pub fn findings(&self) -> impl Iterator<Item = &Finding> {
        self.checked.findings.iter().filter(|finding| finding.place.file == SELF)
    }

    /// The files that it uses, directly or not, without the prelude.
    pub fn uses(&self) -> Vec<String> {
        let used = self.checked.program.files.iter().skip(SELF + 1);
        used.filter(|source| source.path != PRELUDE && !source.path.ends_with(dwell_settings::NAME))
            .map(|source| source.path.clone())
            .collect()
    }

    /// The procedure that stands at a byte of this file.
    pub fn procedure(&self, at: usize) -> Option<&Compiled> {
        let declared = self
            .source()?
            .tree
            .declarations
            .iter()
            .find(|declared| declared.span.start <= at && at <= declared.span.end)?;
        self.checked
            .procedures
            .iter()
            .find(|compiled| compiled.file == SELF && declared.span.holds(compiled.place.span))
    }
}

/// The last part of a path, as people call a file.
pub(crate) fn short(path: &str) -> &str {
    Path::new(path).file_name().and_then(|name| name.to_str()).unwrap_or(path)
}
