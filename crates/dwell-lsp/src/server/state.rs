//! What questions look at: all that is open and known, as it was at one moment.

use super::disk::RealDisk;
use super::document::Document;
use super::editor::Editor;
use super::settings::Settings;
use crate::ide::Shelf;
use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

/// The state; a clone costs little and stays as it is.
#[derive(Clone)]
pub(crate) struct State {
    /// The editor.
    pub(crate) editor: Arc<Editor>,
    /// What its user has set.
    pub(crate) settings: Settings,
    /// All texts.
    pub(crate) shelf: Shelf,
    /// How files are named.
    pub(crate) disk: Arc<RealDisk>,
    /// The documents that are open.
    pub(crate) open: Arc<HashMap<String, Document>>,
    /// The files that lie in the open folders.
    pub(crate) files: Arc<BTreeSet<String>>,
}

impl State {
    /// Nothing is open yet.
    pub(crate) fn new(disk: Arc<RealDisk>) -> State {
        State {
            editor: Arc::default(),
            settings: Settings::default(),
            shelf: Shelf::new(Arc::<RealDisk>::clone(&disk)),
            disk,
            open: Arc::default(),
            files: Arc::default(),
        }
    }

    /// Every file that is open or lies in an open folder, each once.
    pub(crate) fn known(&self) -> BTreeSet<&String> {
        self.open.keys().chain(self.files.iter()).collect()
    }
}
