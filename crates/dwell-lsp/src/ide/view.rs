//! One file as the checker sees it: its text, and all that was found out about it.

use super::shelf::{Asked, Shelf, is_settings};
use dwell_check::check::{Checked, Compiled, check_remembering, check_with};
use dwell_check::finding::Finding;
use dwell_check::options::Options;
use dwell_check::program::{PRELUDE, SourceFile};
use std::path::Path;

/// A checked file. All abilities answer from one.
#[derive(Debug)]
pub struct View {
    /// Its path.
    pub path: String,
    /// What the check of this file, with all that it uses, came to.
    pub checked: Checked,
    /// The files that it uses, directly or not, without the prelude; those too that are not there.
    pub uses: Vec<String>,
    /// The file of settings that counted for it.
    pub settings: Option<String>,
    /// The time of the shelf that it was checked with.
    pub time: u64,
}

/// The place of the file itself among the files of its program: the prelude is the first.
const SELF: usize = 1;

impl View {
    /// Checks a file, or a file of settings.
    pub fn of(path: &str, shelf: &Shelf) -> View {
        let (options, home) = shelf.options(path);
        let asked = Asked { shelf, home: home.as_deref() };
        View::made(path, shelf, check_with(&roots(path), &asked, &options), options)
    }

    /// The same while somebody wants it; nothing where nobody does any more.
    pub fn while_wanted(path: &str, shelf: &Shelf, wanted: &(dyn Fn() -> bool + Sync)) -> Option<View> {
        let (options, home) = shelf.options(path);
        let asked = Asked { shelf, home: home.as_deref() };
        let memory = shelf.memory(path);
        let checked = check_remembering(&roots(path), &asked, &options, &memory, wanted)?;
        Some(View::made(path, shelf, checked, options))
    }

    fn made(path: &str, shelf: &Shelf, checked: Checked, options: Options) -> View {
        let uses = uses(&checked.program.files, shelf);
        let settings = options.settings.map(|settings| settings.path);
        View { path: path.to_owned(), checked, uses, settings, time: shelf.time() }
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

/// What is checked as a procedure file: settings are checked by themselves.
fn roots(path: &str) -> Vec<String> {
    if is_settings(path) { Vec::new() } else { vec![path.to_owned()] }
}

/// The files that are used in a program, also those that could not be read.
fn uses(files: &[SourceFile], shelf: &Shelf) -> Vec<String> {
    let mut uses: Vec<String> = Vec::new();
    for source in files.iter().filter(|source| source.path != PRELUDE && !is_settings(&source.path)) {
        uses.extend(shelf.uses(&source.path, &source.content));
    }
    uses.sort();
    uses.dedup();
    uses
}

/// The last part of a path, as people call a file.
pub(crate) fn short(path: &str) -> &str {
    Path::new(path).file_name().and_then(|name| name.to_str()).unwrap_or(path)
}
