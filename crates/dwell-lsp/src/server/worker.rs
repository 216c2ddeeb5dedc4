//! The one thread that owns the state: what is open, what is known of all files, who waits for an answer.
//!
//! Messages come through one channel in the order in which the editor sent them, so that no answer is about an older text
//! than the one that the editor had when it asked. Checking is done by other threads, so that nothing waits for it here.

use super::addresses::address;
use super::document::{Change, Document};
use super::editor::Editor;
use super::outgoing::Outgoing;
use super::queue::{Outcome, Queue};
use super::settings::Settings;
use crate::ide::interface::Interface;
use crate::ide::{Shelf, View};
use dwell_check::program::Content;
use serde_json::Value;
use std::collections::{HashMap, HashSet};
use std::panic::{self, AssertUnwindSafe};
use std::sync::Arc;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender};
use tower_lsp::ls_types::{MessageType, Uri};

/// What the worker is told.
pub(crate) enum Event {
    /// The editor presented itself.
    Start(Box<Editor>),
    /// The editor is ready to be spoken to.
    Ready,
    /// A document was opened.
    Open { uri: Uri, version: i32, text: String },
    /// It was changed.
    Change { uri: Uri, version: i32, changes: Vec<Change> },
    /// It was closed.
    Close { uri: Uri },
    /// Files changed on the disk.
    Disk(Vec<String>),
    /// Other folders are open.
    Folders { added: Vec<String>, removed: Vec<String> },
    /// The user set something.
    Settings(Value),
    /// A check was made.
    Checked(Outcome),
    /// These files lie in the folders.
    Found(Vec<String>),
    /// Somebody asks something.
    Ask(Ask),
    /// The session is over.
    Stop,
}

/// A question: what it is about, and what answers it.
pub(crate) struct Ask {
    /// The document; none for one about all of them.
    pub(crate) key: Option<String>,
    /// Whether it must wait until the newest text is checked.
    pub(crate) checked: bool,
    /// The answer; the sender within it is closed when nobody waits any more.
    pub(crate) answer: Answer,
}

/// What answers a question.
pub(crate) type Answer = Box<dyn FnOnce(Desk<'_>) + Send>;

/// What a question may look at.
#[derive(Clone, Copy)]
pub(crate) struct Desk<'a> {
    /// Everything.
    pub(crate) worker: &'a Worker,
    /// The document, if it is open.
    pub(crate) document: Option<&'a Document>,
}

/// What is known of a file that is not open.
#[derive(Debug, Default)]
pub(crate) struct Known {
    /// The newest order to check it.
    order: u64,
    /// The files that it uses.
    uses: Vec<String>,
    /// Whether findings of it are shown.
    shown: bool,
}

/// The state.
pub(crate) struct Worker {
    pub(crate) editor: Editor,
    pub(crate) settings: Settings,
    pub(crate) shelf: Shelf,
    pub(crate) open: HashMap<String, Document>,
    pub(crate) known: HashMap<String, Known>,
    /// Which files use a file, directly or not.
    users: HashMap<String, HashSet<String>>,
    waiting: Vec<Ask>,
    orders: u64,
    ready: bool,
    /// How many files were to be checked behind when that began; 0 while none are.
    behind: usize,
    queue: Queue,
    out: Outgoing,
    events: UnboundedSender<Event>,
}

impl Worker {
    /// A worker that knows nothing yet.
    pub(crate) fn new(shelf: Shelf, queue: Queue, out: Outgoing, events: UnboundedSender<Event>) -> Worker {
        Worker {
            editor: Editor::default(),
            settings: Settings::default(),
            shelf,
            open: HashMap::new(),
            known: HashMap::new(),
            users: HashMap::new(),
            waiting: Vec::new(),
            orders: 0,
            ready: false,
            behind: 0,
            queue,
            out,
            events,
        }
    }

    /// Works until nobody can send anything any more.
    pub(crate) fn run(mut self, mut events: UnboundedReceiver<Event>) {
        while let Some(event) = events.blocking_recv() {
            if matches!(event, Event::Stop) {
                break;
            }
            let done = panic::catch_unwind(AssertUnwindSafe(|| self.take(event)));
            if done.is_err() {
                self.out.log(
                    MessageType::ERROR,
                    "a fault inside dwell stopped one answer; all others go on".into(),
                );
            }
        }
        self.queue.close();
    }

    fn take(&mut self, event: Event) {
        match event {
            Event::Start(editor) => {
                self.settings = Settings::of(&editor.options);
                self.editor = *editor;
            }
            Event::Ready => self.begin(),
            Event::Open { uri, version, text } => self.opened(uri, version, text),
            Event::Change { uri, version, changes } => self.changed(&uri, version, changes),
            Event::Close { uri } => self.closed(&uri),
            Event::Disk(keys) => self.on_disk(keys),
            Event::Folders { added, removed } => {
                self.editor.folders.retain(|folder| !removed.contains(folder));
                self.editor.folders.extend(added);
                self.look_for_files();
            }
            Event::Settings(sent) => self.set(&sent),
            Event::Checked(outcome) => self.checked(outcome),
            Event::Found(keys) => self.found(keys),
            Event::Ask(ask) => self.asked(ask),
            Event::Stop => {}
        }
    }

    fn begin(&mut self) {
        self.ready = true;
        self.out.begin(&self.editor, &self.events);
        self.look_for_files();
    }

    fn set(&mut self, sent: &Value) {
        // An editor that can be asked often says only that something changed.
        if sent.get("dwell").is_none() && sent.get("findings").is_none() && self.editor.configuration {
            return self.out.settings(&self.events);
        }
        let before = std::mem::replace(&mut self.settings, Settings::of(sent));
        if before.all_files == self.settings.all_files {
            self.out.refresh(&self.editor);
        } else if self.settings.all_files {
            self.look_for_files();
        } else {
            let shown: Vec<String> =
                self.known.iter().filter(|(_, known)| known.shown).map(|(key, _)| key.clone()).collect();
            for key in shown {
                self.show_nothing(&key);
            }
            self.known.clear();
        }
    }

    /// Has the folders searched for files, beside everything else.
    fn look_for_files(&self) {
        if !self.settings.all_files || self.editor.folders.is_empty() || !self.ready {
            return;
        }
        let (folders, events) = (self.editor.folders.clone(), self.events.clone());
        std::thread::spawn(move || {
            let folders: Vec<std::path::PathBuf> = folders.into_iter().map(Into::into).collect();
            let found = dwell_workspace::Folder::of(&folders).roots().to_vec();
            let _ = events.send(Event::Found(found));
        });
    }

    fn found(&mut self, keys: Vec<String>) {
        let new: Vec<String> = keys
            .into_iter()
            .filter(|key| !self.open.contains_key(key) && !self.known.contains_key(key))
            .collect();
        let later =
            new.into_iter().map(|key| (self.order_closed(&key), key)).map(|(order, key)| (key, order));
        let later: Vec<(String, u64)> = later.collect();
        self.behind += later.len();
        if self.behind > 0 {
            self.out.progress_begins(&self.editor, self.behind);
        }
        self.queue.put(&self.shelf, Vec::new(), later);
    }

    fn opened(&mut self, uri: Uri, version: i32, text: String) {
        let key = super::addresses::key(&uri);
        if self.known.get(&key).is_some_and(|known| known.shown) && self.editor.pulls {
            self.show_nothing(&key);
        }
        self.known.remove(&key);
        let before = self.shelf.content(&key).ok();
        let content = Arc::new(Content::of(text));
        self.shelf.open(&key, Arc::clone(&content));
        self.open.insert(key.clone(), Document::new(uri, version, content));
        self.recheck(&key, before.as_deref());
    }

    fn changed(&mut self, uri: &Uri, version: i32, changes: Vec<Change>) {
        let key = super::addresses::key(uri);
        let encoding = self.editor.encoding;
        let Some(document) = self.open.get_mut(&key) else { return };
        let before = Arc::clone(&document.content);
        if !document.change(version, changes, encoding) {
            return;
        }
        self.shelf.open(&key, Arc::clone(&document.content));
        self.recheck(&key, Some(&before));
    }

    fn closed(&mut self, uri: &Uri) {
        let key = super::addresses::key(uri);
        let Some(document) = self.open.remove(&key) else { return };
        self.shelf.close(&key);
        self.refuse_waiting(&key);
        self.out.publish(document.uri, None, Vec::new());
        let before = Some(document.content);
        if self.is_in_folders(&key) && self.settings.all_files && self.shelf.content(&key).is_ok() {
            let order = self.order_closed(&key);
            self.queue.put(&self.shelf, Vec::new(), vec![(key.clone(), order)]);
        }
        self.recheck_users(&key, before.as_deref());
    }

    fn is_in_folders(&self, key: &str) -> bool {
        self.editor.folders.iter().any(|folder| {
            key.strip_prefix(folder.as_str())
                .is_some_and(|rest| folder.ends_with('/') || rest.starts_with('/'))
        })
    }

    fn on_disk(&mut self, keys: Vec<String>) {
        for key in keys {
            if key.ends_with(dwell_settings::NAME) {
                self.recheck_all();
                continue;
            }
            let before = self.shelf.content(&key).ok();
            self.shelf.forget(&key);
            if self.open.contains_key(&key) {
                continue;
            }
            if self.shelf.content(&key).is_err() {
                if self.known.get(&key).is_some_and(|known| known.shown) {
                    self.show_nothing(&key);
                }
                self.known.remove(&key);
            } else if self.settings.all_files && self.is_in_folders(&key) {
                let order = self.order_closed(&key);
                self.queue.put(&self.shelf, Vec::new(), vec![(key.clone(), order)]);
            }
            self.recheck_users(&key, before.as_deref());
        }
    }

    /// Checks an open document again, and what uses it where that can see a difference.
    fn recheck(&mut self, key: &str, before: Option<&Content>) {
        let order = self.order_open(key);
        if let Some(document) = self.open.get_mut(key) {
            document.for_others = false;
        }
        self.queue.put(&self.shelf, vec![(key.to_owned(), order)], Vec::new());
        self.recheck_users(key, before);
    }

    fn recheck_users(&mut self, key: &str, before: Option<&Content>) {
        let Some(users) = self.users.get(key).filter(|users| !users.is_empty()) else { return };
        let now = self.shelf.content(key).ok();
        let same = before.map(Interface::of) == now.as_deref().map(Interface::of);
        if same {
            return;
        }
        let users: Vec<String> = users.iter().filter(|user| *user != key).cloned().collect();
        self.order_all(users);
    }

    fn recheck_all(&mut self) {
        let all = self.open.keys().chain(self.known.keys()).cloned().collect();
        self.order_all(all);
    }

    fn order_all(&mut self, keys: Vec<String>) {
        let (mut now, mut later) = (Vec::new(), Vec::new());
        for key in keys {
            if self.open.contains_key(&key) {
                now.push((key.clone(), self.order_open(&key)));
                if let Some(document) = self.open.get_mut(&key) {
                    document.for_others = true;
                }
            } else if self.known.contains_key(&key) {
                later.push((key.clone(), self.order_closed(&key)));
            }
        }
        self.queue.put(&self.shelf, now, later);
    }

    fn order_open(&mut self, key: &str) -> u64 {
        self.orders += 1;
        if let Some(document) = self.open.get_mut(key) {
            document.order = self.orders;
        }
        self.orders
    }

    fn order_closed(&mut self, key: &str) -> u64 {
        self.orders += 1;
        self.known.entry(key.to_owned()).or_default().order = self.orders;
        self.orders
    }

    fn checked(&mut self, outcome: Outcome) {
        let Outcome { key, order, view } = outcome;
        let view = match view {
            Ok(view) => view,
            Err(said) => {
                self.out.log(
                    MessageType::ERROR,
                    format!("a fault inside dwell: {key} could not be checked: {said}"),
                );
                if self.open.get(&key).is_some_and(|document| document.order == order) {
                    self.refuse_waiting(&key);
                }
                return self.one_less_behind();
            }
        };
        if let Some(document) = self.open.get_mut(&key) {
            if document.order != order {
                return;
            }
            let old = document.view.replace((order, Arc::clone(&view)));
            let uses = view.uses();
            let before = old.map(|(_, old)| old.uses()).unwrap_or_default();
            self.note_uses(&key, &before, &uses);
            self.show_open(&key, &view);
            self.answer_waiting(&key);
        } else if let Some(known) = self.known.get_mut(&key) {
            if known.order == order {
                let uses = view.uses();
                let before = std::mem::replace(&mut known.uses, uses.clone());
                self.note_uses(&key, &before, &uses);
                self.show_closed(&key, &view);
            }
            self.one_less_behind();
        }
    }

    fn note_uses(&mut self, key: &str, before: &[String], now: &[String]) {
        for gone in before.iter().filter(|path| !now.contains(path)) {
            if let Some(users) = self.users.get_mut(gone) {
                users.remove(key);
            }
        }
        for used in now {
            self.users.entry(used.clone()).or_default().insert(key.to_owned());
        }
    }

    fn one_less_behind(&mut self) {
        if self.behind == 0 {
            return;
        }
        let left = self.queue.later();
        if left == 0 {
            self.behind = 0;
            self.out.progress_ends();
        } else {
            self.out.progress(self.behind.saturating_sub(left), self.behind);
        }
    }

    fn show_open(&self, key: &str, view: &View) {
        let Some(document) = self.open.get(key) else { return };
        if self.editor.pulls {
            if document.for_others {
                self.out.refresh_findings(&self.editor);
            }
            return;
        }
        let found = super::findings::diagnostics(self, view);
        self.out.publish(document.uri.clone(), Some(document.version), found);
    }

    fn show_closed(&mut self, key: &str, view: &View) {
        let found = super::findings::diagnostics(self, view);
        let Some(uri) = address(key) else { return };
        let Some(known) = self.known.get_mut(key) else { return };
        if known.shown || !found.is_empty() {
            known.shown = !found.is_empty();
            self.out.publish(uri, None, found);
        }
    }

    fn show_nothing(&self, key: &str) {
        if let Some(uri) = address(key) {
            self.out.publish(uri, None, Vec::new());
        }
    }

    fn asked(&mut self, ask: Ask) {
        if self.must_wait(&ask) {
            return self.waiting.push(ask);
        }
        self.answer(ask);
    }

    fn must_wait(&self, ask: &Ask) -> bool {
        let document = ask.key.as_ref().and_then(|key| self.open.get(key));
        ask.checked && document.is_some_and(|document| document.newest().is_none())
    }

    fn answer(&self, ask: Ask) {
        let document = ask.key.as_ref().and_then(|key| self.open.get(key));
        (ask.answer)(Desk { worker: self, document });
    }

    fn answer_waiting(&mut self, key: &str) {
        let waiting = std::mem::take(&mut self.waiting);
        let (now, still): (Vec<Ask>, Vec<Ask>) =
            waiting.into_iter().partition(|ask| ask.key.as_deref() == Some(key));
        self.waiting = still;
        for ask in now {
            // One answer that fails must not take the others with it.
            let _ = panic::catch_unwind(AssertUnwindSafe(|| self.answer(ask)));
        }
    }

    /// Who waits for this document gets no answer from it any more: dropping the question tells them.
    fn refuse_waiting(&mut self, key: &str) {
        self.waiting.retain(|ask| ask.key.as_deref() != Some(key));
    }
}
