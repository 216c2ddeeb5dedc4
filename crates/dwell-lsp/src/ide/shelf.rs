//! All texts: those that are open in the editor before those on disk, each parsed once; and the settings that count for each.

use super::draft::Draft;
use dwell_check::check::Memory;
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

    /// The path of the file that `from` means by `used`: the same for one file, by whatever way it is named.
    fn join(&self, from: &str, used: &str) -> String;

    /// The file of settings that counts for a file: the nearest on the way up. `open` says whether the editor has a path
    /// open, which counts even where nothing lies on the disk.
    fn settings(&self, path: &str, open: &dyn Fn(&str) -> bool) -> Option<String>;

    /// The day that counts, year-month-day.
    fn today(&self) -> Option<String>;
}

/// A text, or why there is none.
type Kept = Result<Arc<Content>, String>;

/// What was read from the disk.
#[derive(Debug, Default)]
struct Read {
    /// How often something turned out to be out of date: what was begun to be read before that is not kept.
    times: u64,
    kept: HashMap<String, Kept>,
}

/// The settings that were read since anything about them last changed.
#[derive(Debug, Default)]
struct Settings {
    /// The file that counts for the files of a folder.
    above: HashMap<String, Option<String>>,
    /// What it says.
    said: HashMap<String, Arc<Options>>,
}

/// The texts that were read from the disk, and those that are open. A clone sees what is open at that moment, and shares
/// what was read.
#[derive(Clone, Debug)]
pub struct Shelf {
    disk: Arc<dyn Disk>,
    read: Arc<RwLock<Read>>,
    open: Arc<HashMap<String, Arc<Draft>>>,
    settings: Arc<RwLock<Settings>>,
    time: u64,
}

/// Whether a path is one of a file of settings.
pub fn is_settings(path: &str) -> bool {
    path.strip_suffix(dwell_settings::NAME).is_some_and(|folder| folder.is_empty() || folder.ends_with('/'))
}

impl Shelf {
    /// A shelf with nothing on it yet.
    pub fn new(disk: Arc<dyn Disk>) -> Shelf {
        Shelf { disk, read: Arc::default(), open: Arc::default(), settings: Arc::default(), time: 0 }
    }

    /// From now on the editor's text counts for this path.
    pub fn open(&mut self, path: &str, draft: Arc<Draft>) {
        Arc::make_mut(&mut self.open).insert(path.to_owned(), draft);
        self.changed(path);
    }

    /// From now on what is on disk counts for this path.
    pub fn close(&mut self, path: &str) {
        Arc::make_mut(&mut self.open).remove(path);
        self.forget(path);
    }

    /// What was read of this file is out of date.
    pub fn forget(&mut self, path: &str) {
        let mut read = self.read.write().unwrap_or_else(PoisonError::into_inner);
        read.times += 1;
        read.kept.remove(path);
        drop(read);
        self.changed(path);
    }

    /// Settings that were read before are still used by the checks that began before, and by no others.
    fn changed(&mut self, path: &str) {
        self.time += 1;
        if is_settings(path) {
            self.settings = Arc::default();
        }
    }

    /// How often any text changed: what was checked with an older shelf may be out of date.
    pub fn time(&self) -> u64 {
        self.time
    }

    /// What is kept from one check of a file to the next, while it is open.
    pub(crate) fn memory(&self, path: &str) -> Arc<Memory> {
        self.open.get(path).map(|open| Arc::clone(open.memory())).unwrap_or_default()
    }

    /// What is known to be in a file, without a look at the disk.
    pub fn known(&self, path: &str) -> Option<Arc<Content>> {
        if let Some(open) = self.open.get(path) {
            return Some(Arc::clone(open.content()));
        }
        let read = self.read.read().unwrap_or_else(PoisonError::into_inner);
        read.kept.get(path).and_then(|kept| kept.clone().ok())
    }

    /// What is in a file.
    ///
    /// # Errors
    /// As [`Disk::read`].
    pub fn content(&self, path: &str) -> Kept {
        if let Some(open) = self.open.get(path) {
            return Ok(Arc::clone(open.content()));
        }
        let read = self.read.read().unwrap_or_else(PoisonError::into_inner);
        let (known, times) = (read.kept.get(path).cloned(), read.times);
        drop(read);
        known.unwrap_or_else(|| {
            let content = self.disk.read(path).map(|text| Arc::new(Content::of(text)));
            let mut read = self.read.write().unwrap_or_else(PoisonError::into_inner);
            if read.times == times {
                read.kept.insert(path.to_owned(), content.clone());
            }
            content
        })
    }

    /// The same without keeping it, for those who look at thousands of files.
    pub fn glance(&self, path: &str) -> Option<Arc<Content>> {
        self.known(path).or_else(|| self.disk.read(path).ok().map(|text| Arc::new(Content::of(text))))
    }

    /// Nobody is likely to ask for this file soon: it need not be kept, and can be read again.
    pub fn release(&self, path: &str) {
        self.read.write().unwrap_or_else(PoisonError::into_inner).kept.remove(path);
    }

    /// The files that a text uses directly, in the order of its `use` lines.
    pub fn uses(&self, path: &str, content: &Content) -> Vec<String> {
        let declared = content.tree.declarations.iter();
        let used = declared.filter_map(|declared| match &declared.kind {
            DeclarationKind::Use(text) => Some(self.disk.join(path, &text.text)),
            _ => None,
        });
        used.collect()
    }

    /// What the settings for a file say, and the folder that they lie in.
    pub(crate) fn options(&self, path: &str) -> (Options, Option<String>) {
        let day = self.disk.today();
        match self.settings_of(path) {
            Some(file) => {
                let options = Options { day, ..(*self.said(&file)).clone() };
                (options, Some(folder(&file).to_owned()))
            }
            None => (Options { day, ..Options::default() }, None),
        }
    }

    /// The file of settings that counts for a file; a file of settings for itself.
    fn settings_of(&self, path: &str) -> Option<String> {
        if is_settings(path) {
            return Some(path.to_owned());
        }
        let known = self.settings.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = known.above.get(folder(path)) {
            return known.clone();
        }
        drop(known);
        let found = self.disk.settings(path, &|path| self.open.contains_key(path));
        let mut known = self.settings.write().unwrap_or_else(PoisonError::into_inner);
        known.above.insert(folder(path).to_owned(), found.clone());
        found
    }

    fn said(&self, file: &str) -> Arc<Options> {
        let known = self.settings.read().unwrap_or_else(PoisonError::into_inner);
        if let Some(known) = known.said.get(file) {
            return Arc::clone(known);
        }
        drop(known);
        let text = match self.open.get(file) {
            Some(open) => Ok(open.text().to_owned()),
            None => self.disk.read(file),
        };
        let options = text.map(|text| dwell_settings::read(&text).options(file, &text, None));
        let options = Arc::new(options.unwrap_or_default());
        let mut known = self.settings.write().unwrap_or_else(PoisonError::into_inner);
        known.said.insert(file.to_owned(), Arc::clone(&options));
        options
    }
}

/// The folder of a path.
fn folder(path: &str) -> &str {
    path.rfind('/').and_then(|end| path.get(..end)).unwrap_or_default()
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
