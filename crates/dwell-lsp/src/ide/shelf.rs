//! All texts: those that are open in the editor before those on disk, each parsed once.

use dwell_check::options::Options;
use dwell_check::program::{Content, Sources};
use dwell_syntax::tree::DeclarationKind;
use std::collections::HashMap;
use std::fmt::Debug;
use std::sync::{Arc, PoisonError, RwLock};

/// Where files lie; given by the server, so that nothing in here touches a disk.
pub trait Disk: Send + Sync + Debug {
    /// The text of a file.
    ///
    /// # Errors
    /// A sentence for the writer: what could not be read, and why.
    fn read(&self, path: &str) -> Result<String, String>;

    /// The path of the file that `from` means by `used`.
    fn join(&self, from: &str, used: &str) -> String;

    /// What the settings above this file say, and the folder that they lie in.
    fn options(&self, path: &str) -> (Options, Option<String>);
}

/// A text, or why there is none.
type Kept = Result<Arc<Content>, String>;

/// The texts that were read from the disk, and those that are open. A clone sees what is open at that moment, and shares
/// what was read.
#[derive(Clone, Debug)]
pub struct Shelf {
    disk: Arc<dyn Disk>,
    read: Arc<RwLock<HashMap<String, Kept>>>,
    open: Arc<HashMap<String, Arc<Content>>>,
}

impl Shelf {
    /// A shelf with nothing on it yet.
    pub fn new(disk: Arc<dyn Disk>) -> Shelf {
        Shelf { disk, read: Arc::default(), open: Arc::default() }
    }

    /// The disk behind it.
    pub fn disk(&self) -> &dyn Disk {
        &*self.disk
    }

    /// From now on the editor's text counts for this path.
    pub fn open(&mut self, path: &str, content: Arc<Content>) {
        Arc::make_mut(&mut self.open).insert(path.to_owned(), content);
    }

    /// From now on what is on disk counts for this path.
    pub fn close(&mut self, path: &str) {
        Arc::make_mut(&mut self.open).remove(path);
        self.forget(path);
    }

    /// What was read of this file is out of date.
    pub fn forget(&self, path: &str) {
        self.read.write().unwrap_or_else(PoisonError::into_inner).remove(path);
    }

    /// Whether the editor has this file open.
    pub fn is_open(&self, path: &str) -> bool {
        self.open.contains_key(path)
    }

    /// What is in a file.
    ///
    /// # Errors
    /// As [`Disk::read`].
    pub fn content(&self, path: &str) -> Kept {
        if let Some(open) = self.open.get(path) {
            return Ok(Arc::clone(open));
        }
        let known = self.read.read().unwrap_or_else(PoisonError::into_inner).get(path).cloned();
        known.unwrap_or_else(|| {
            let read = self.disk.read(path).map(|text| Arc::new(Content::of(text)));
            self.read.write().unwrap_or_else(PoisonError::into_inner).insert(path.to_owned(), read.clone());
            read
        })
    }
}

impl Shelf {
    /// The files that a text uses directly, in the order of its `use` lines.
    pub fn uses(&self, path: &str, content: &Content) -> Vec<String> {
        let declared = content.tree.declarations.iter();
        let used = declared.filter_map(|declared| match &declared.kind {
            DeclarationKind::Use(text) => Some(self.disk.join(path, &text.text)),
            _ => None,
        });
        used.collect()
    }
}

/// A shelf as the checker asks it, with the folder that the settings name folders from.
pub(crate) struct Asked<'a> {
    /// The texts.
    pub(crate) shelf: &'a Shelf,
    /// The folder of the settings.
    pub(crate) home: Option<&'a str>,
}

impl Sources for Asked<'_> {
    fn read(&self, path: &str) -> Result<String, String> {
        self.shelf.content(path).map(|content| content.text.clone())
    }

    fn parsed(&self, path: &str) -> Option<Arc<Content>> {
        self.shelf.content(path).ok()
    }

    fn join(&self, from: &str, used: &str) -> String {
        self.shelf.disk.join(from, used)
    }

    fn home(&self, path: &str) -> String {
        let below = self.home.and_then(|home| path.strip_prefix(home));
        below.map_or_else(|| path.to_owned(), |below| below.trim_start_matches('/').to_owned())
    }
}
