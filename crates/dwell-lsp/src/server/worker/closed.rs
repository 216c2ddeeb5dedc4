//! The files that are not open in the editor: those in the folders, checked behind while the user wants that, and those that
//! change on the disk.

use super::{Event, Worker};
use crate::ide::View;
use crate::ide::interface::Interface;
use crate::ide::shelf::is_settings;
use crate::server::addresses::address;
use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

/// From so many files on that are checked behind, that is shown as progress.
const MANY: usize = 20;

/// What is known of a file that is not open.
#[derive(Debug, Default)]
pub(super) struct Known {
    /// The newest order to check it.
    pub(super) order: u64,
    /// Whether findings of it are shown.
    pub(super) shown: bool,
}

impl Worker {
    /// Has the folders searched for files, beside everything else.
    pub(super) fn look_for_files(&mut self) {
        if !self.ready {
            return;
        }
        if self.looking.is_some() {
            self.looking = Some(true);
            return;
        }
        self.looking = Some(false);
        let (folders, events) = (self.state.editor.folders.clone(), self.events.clone());
        let disk = Arc::clone(&self.state.disk);
        std::thread::spawn(move || {
            let folders: Vec<PathBuf> = folders.iter().map(|folder| disk.shown(folder).into()).collect();
            let found = dwell_workspace::Folder::of(&folders).roots().to_vec();
            let found = found.iter().map(|path| disk.real(path)).collect();
            let _ = events.send(Event::Found(found));
        });
    }

    /// These files lie in the folders, and no others.
    pub(super) fn found(&mut self, files: Vec<String>) {
        let again = self.looking.take() == Some(true);
        let files: BTreeSet<String> = files.into_iter().collect();
        let gone: Vec<String> = self.state.files.difference(&files).cloned().collect();
        for key in gone {
            self.forget(&key);
        }
        self.state.files = Arc::new(files);
        if self.state.settings.all_files {
            let new = self.state.files.iter().filter(|key| !self.state.open.contains_key(*key));
            let new: Vec<String> = new.filter(|key| !self.known.contains_key(*key)).cloned().collect();
            self.order_closed(new, false);
        }
        if again {
            self.look_for_files();
        }
    }

    /// Whether a file lies below an open folder, ignored or not.
    pub(super) fn is_in_folders(&self, key: &str) -> bool {
        self.state.editor.folders.iter().any(|folder| {
            key.strip_prefix(folder.as_str())
                .is_some_and(|rest| folder.ends_with('/') || rest.starts_with('/'))
        })
    }

    /// These files changed on the disk, came, or went.
    pub(super) fn on_disk(&mut self, paths: &[String]) {
        for path in paths {
            let before = self.disk().forget(path);
            let key = self.disk().real(path);
            if let Some(before) = before.filter(|before| *before != key) {
                // It leads to another file now.
                self.order_all(self.users.of(&before), false);
            }
            self.changed_on_disk(&key);
        }
    }

    fn changed_on_disk(&mut self, key: &str) {
        let before = self.state.shelf.known(key).as_deref().map(Interface::of);
        let open = self.state.open.contains_key(key);
        self.state.shelf.forget(key);
        if open {
            return;
        }
        let there = std::path::Path::new(key).is_file();
        if is_settings(key) {
            if !there {
                self.forget(key);
            } else if self.known.contains_key(key) {
                self.order_closed(vec![key.to_owned()], false);
            }
        } else if !there {
            self.forget(key);
            Arc::make_mut(&mut self.state.files).remove(key);
        } else if !self.state.files.contains(key) {
            // It is new, or passed over: the search tells.
            self.look_for_files();
        } else if self.state.settings.all_files {
            self.order_closed(vec![key.to_owned()], false);
        }
        self.recheck_users(key, before, false);
    }

    /// Checks the settings that counted for a file, where what is found in files that are not open is shown.
    pub(super) fn look_at_settings(&mut self, settings: Option<&str>) {
        let Some(settings) = settings.filter(|_| self.state.settings.all_files) else { return };
        if !self.state.open.contains_key(settings)
            && !self.known.contains_key(settings)
            && self.is_in_folders(settings)
        {
            self.order_closed(vec![settings.to_owned()], false);
        }
    }

    /// Has files that are not open checked; while somebody types in what they use, after a rest. None where the user does
    /// not want to see them.
    pub(super) fn order_closed(&mut self, keys: Vec<String>, typing: bool) {
        if keys.is_empty() || !self.state.settings.all_files {
            return;
        }
        let mut later = Vec::with_capacity(keys.len());
        for key in keys {
            let order = self.order();
            self.known.entry(key.clone()).or_default().order = order;
            later.push((key, order));
        }
        self.queue.later(&self.state.shelf, later, typing);
        let left = self.queue.left();
        if left >= MANY && left > self.behind {
            self.behind = left;
            self.out.progress_begins(&self.state.editor, left);
        }
    }

    pub(super) fn one_less_behind(&mut self) {
        if self.behind == 0 {
            return;
        }
        let left = self.queue.left();
        if left == 0 {
            self.behind = 0;
            self.out.progress_ends();
        } else {
            self.out.progress(self.behind.saturating_sub(left), self.behind);
        }
    }

    /// What is found in files that are not open is no longer shown.
    pub(super) fn forget_closed(&mut self) {
        let all: Vec<String> = self.known.keys().cloned().collect();
        for key in all {
            self.forget(&key);
        }
        if self.behind > 0 {
            self.behind = 0;
            self.out.progress_ends();
        }
    }

    /// This file is gone, or no longer looked at.
    fn forget(&mut self, key: &str) {
        if self.state.open.contains_key(key) {
            return;
        }
        self.queue.forget(key);
        self.users.note(key, &[]);
        if self.known.remove(key).is_some_and(|known| known.shown) {
            self.show_nothing(key);
        }
    }

    pub(super) fn show_closed(&mut self, key: &str, view: &View) {
        let found = crate::server::findings::diagnostics(&self.state, view);
        let Some(uri) = address(&self.disk().shown(key)) else { return };
        let Some(known) = self.known.get_mut(key) else { return };
        if known.shown || !found.is_empty() {
            known.shown = !found.is_empty();
            self.out.publish(uri, None, found);
        }
    }

    pub(super) fn show_nothing(&self, key: &str) {
        if let Some(uri) = address(&self.disk().shown(key)) {
            self.out.publish(uri, None, Vec::new());
        }
    }
}
