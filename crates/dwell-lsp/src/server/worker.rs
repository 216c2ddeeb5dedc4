//! The one thread that owns the state: what is open, what is known of all files, who waits for an answer.
//!
//! Messages come through one channel in the order in which the editor sent them, so that no answer is about an older text
//! than the one that the editor had when it asked. Checking and answering is done by other threads, so that nothing waits
//! for it here.

mod closed;
mod users;

use super::answers::{Answers, Ask};
use super::disk::RealDisk;
use super::document::{Change, Document};
use super::editor::Editor;
use super::outgoing::Outgoing;
use super::queue::{Outcome, Queue};
use super::settings::Settings;
use super::state::State;
use crate::ide::interface::Interface;
use crate::ide::shelf::is_settings;
use crate::ide::{Draft, View};
use closed::Known;
use serde_json::Value;
use std::collections::HashMap;
use std::panic::{self, AssertUnwindSafe};
use std::sync::Arc;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender};
use tower_lsp::ls_types::{MessageType, Uri};
use users::Users;

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

/// The state, and those who work with it.
pub(crate) struct Worker {
    state: State,
    /// What is known of files that are not open.
    known: HashMap<String, Known>,
    users: Users,
    waiting: Vec<Ask>,
    orders: u64,
    ready: bool,
    /// How many files were to be checked behind since there were none; 0 while there are none.
    behind: usize,
    /// Whether the folders are being searched, and whether they are to be searched once more.
    looking: Option<bool>,
    queue: Queue,
    answers: Answers,
    out: Outgoing,
    events: UnboundedSender<Event>,
}

impl Worker {
    /// A worker that knows nothing yet.
    pub(crate) fn new(
        state: State,
        queue: Queue,
        answers: Answers,
        out: Outgoing,
        events: UnboundedSender<Event>,
    ) -> Worker {
        Worker {
            state,
            known: HashMap::new(),
            users: Users::default(),
            waiting: Vec::new(),
            orders: 0,
            ready: false,
            behind: 0,
            looking: None,
            queue,
            answers,
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
                self.out.fault();
            }
        }
        self.queue.close();
    }

    fn take(&mut self, event: Event) {
        match event {
            Event::Start(editor) => {
                self.state.settings = Settings::of(&editor.options);
                let mut editor = *editor;
                editor.folders = editor.folders.iter().map(|folder| self.disk().real(folder)).collect();
                self.state.editor = Arc::new(editor);
            }
            Event::Ready => {
                self.ready = true;
                self.out.begin(&self.state.editor, &self.events);
                self.look_for_files();
            }
            Event::Open { uri, version, text } => self.opened(uri, version, text),
            Event::Change { uri, version, changes } => self.changed(&uri, version, changes),
            Event::Close { uri } => self.closed(&uri),
            Event::Disk(paths) => self.on_disk(&paths),
            Event::Folders { added, removed } => {
                let real = |folders: Vec<String>| folders.into_iter().map(|folder| self.disk().real(&folder));
                let (added, removed): (Vec<String>, Vec<String>) =
                    (real(added).collect(), real(removed).collect());
                let folders = &mut Arc::make_mut(&mut self.state.editor).folders;
                folders.retain(|folder| !removed.contains(folder));
                folders.extend(added);
                self.look_for_files();
            }
            Event::Settings(sent) => self.set(&sent),
            Event::Checked(outcome) => self.checked(outcome),
            Event::Found(files) => self.found(files),
            Event::Ask(ask) => self.asked(ask),
            Event::Stop => {}
        }
    }

    fn disk(&self) -> &RealDisk {
        &self.state.disk
    }

    /// What a document is known by.
    fn key(&self, uri: &Uri) -> String {
        self.disk().real(&super::addresses::key(uri))
    }

    fn document(&mut self, key: &str) -> Option<&mut Document> {
        Arc::make_mut(&mut self.state.open).get_mut(key)
    }

    fn set(&mut self, sent: &Value) {
        // An editor that can be asked often says only that something changed.
        if sent.get("dwell").is_none() && sent.get("findings").is_none() && self.state.editor.configuration {
            return self.out.settings(&self.events);
        }
        let before = std::mem::replace(&mut self.state.settings, Settings::of(sent));
        match (before.all_files, self.state.settings.all_files) {
            (false, true) => self.look_for_files(),
            (true, false) => self.forget_closed(),
            _ => self.out.refresh(&self.state.editor),
        }
    }

    fn opened(&mut self, uri: Uri, version: i32, text: String) {
        let key = self.key(&uri);
        if self.known.remove(&key).is_some_and(|known| known.shown) && self.state.editor.pulls {
            self.show_nothing(&key);
        }
        let before = self.state.shelf.known(&key).as_deref().map(Interface::of);
        let draft = Arc::new(Draft::of(text));
        self.state.shelf.open(&key, Arc::clone(&draft));
        let document = Document::new(uri, version, draft);
        Arc::make_mut(&mut self.state.open).insert(key.clone(), document);
        self.recheck(&key, before);
    }

    fn changed(&mut self, uri: &Uri, version: i32, changes: Vec<Change>) {
        let key = self.key(uri);
        let encoding = self.state.editor.encoding;
        let Some(document) = self.document(&key) else { return };
        let before = Arc::clone(&document.draft);
        if !document.change(version, changes, encoding) {
            return;
        }
        let now = Arc::clone(&document.draft);
        self.state.shelf.open(&key, now);
        // Only who is used is asked what others see of it.
        let before = self.users.any(&key).then(|| before.interface());
        self.recheck(&key, before);
    }

    fn closed(&mut self, uri: &Uri) {
        let key = self.key(uri);
        let Some(document) = Arc::make_mut(&mut self.state.open).remove(&key) else { return };
        self.state.shelf.close(&key);
        self.queue.forget(&key);
        self.refuse_waiting(&key);
        self.out.publish(document.uri, None, Vec::new());
        if self.state.files.contains(&key) {
            self.order_closed(vec![key.clone()], false);
        } else if self.is_in_folders(&key) && self.state.shelf.content(&key).is_ok() {
            self.look_for_files();
        }
        self.recheck_users(&key, self.users.any(&key).then(|| document.draft.interface()), false);
    }

    /// Checks an open document again, and what uses it where that can see a difference.
    fn recheck(&mut self, key: &str, before: Option<Interface>) {
        if let Some(document) = self.document(key) {
            document.for_others = false;
        }
        self.order_open(key);
        self.recheck_users(key, before, true);
    }

    /// Checks what uses a file, where that can see a difference.
    fn recheck_users(&mut self, key: &str, before: Option<Interface>, typing: bool) {
        let time = self.state.shelf.time();
        if is_settings(key) {
            self.users.settings_changed(time);
            return self.recheck_below(key, typing);
        }
        if !self.users.any(key) {
            // Somebody may be found to use it by a check that is being made.
            return self.users.changed(key, time);
        }
        let now = match self.state.open.get(key) {
            Some(document) => Some(document.draft.interface()),
            None => self.state.shelf.content(key).ok().as_deref().map(Interface::of),
        };
        if before != now || now.is_none() {
            self.users.changed(key, time);
            self.order_all(self.users.of(key), typing);
        }
    }

    /// Checks all files for which these settings may count.
    fn recheck_below(&mut self, settings: &str, typing: bool) {
        let folder = settings.strip_suffix(dwell_settings::NAME).unwrap_or_default();
        let all = self.state.open.keys().chain(self.known.keys());
        let below = all.filter(|key| key.starts_with(folder) && *key != settings).cloned().collect();
        self.order_all(below, typing);
    }

    fn order_all(&mut self, keys: Vec<String>, typing: bool) {
        let mut later = Vec::new();
        for key in keys {
            if let Some(document) = self.document(&key) {
                document.for_others = true;
                self.order_open(&key);
            } else if self.known.contains_key(&key) {
                later.push(key);
            }
        }
        self.order_closed(later, typing);
    }

    fn order(&mut self) -> u64 {
        self.orders += 1;
        self.orders
    }

    fn order_open(&mut self, key: &str) {
        let order = self.order();
        if let Some(document) = self.document(key) {
            document.order = order;
        }
        self.queue.now(&self.state.shelf, key, order);
    }

    fn checked(&mut self, outcome: Outcome) {
        let Outcome { key, order, view, behind } = outcome;
        match view {
            Ok(Some(view)) => self.viewed(&key, order, &view),
            Ok(None) => {}
            Err(said) => {
                let words = format!("a fault inside dwell: {key} could not be checked: {said}");
                self.out.log(MessageType::ERROR, words);
                if self.state.open.get(&key).is_some_and(|document| document.order == order) {
                    self.refuse_waiting(&key);
                }
            }
        }
        if behind {
            self.one_less_behind();
        }
    }

    fn viewed(&mut self, key: &str, order: u64, view: &Arc<View>) {
        let open = self.state.open.get(key).is_some_and(|document| document.order == order);
        if !open && self.known.get(key).is_none_or(|known| known.order != order) {
            return;
        }
        self.users.note(key, &view.uses);
        if self.users.outdated(&view.uses, view.time) {
            return self.order_all(vec![key.to_owned()], false);
        }
        if open {
            self.show_open(key, view);
            // To let go of an old check takes a while: nobody waits for that.
            let new = Some((order, Arc::clone(view)));
            let old = self.document(key).and_then(|document| std::mem::replace(&mut document.view, new));
            self.answer_waiting(key);
            drop(old);
        } else {
            if !self.users.any(key) {
                self.state.shelf.release(key);
            }
            self.show_closed(key, view);
        }
        self.look_at_settings(view.settings.as_deref());
    }

    fn show_open(&self, key: &str, view: &View) {
        let Some(document) = self.state.open.get(key) else { return };
        // Editors ask for the findings of procedures; settings have theirs sent.
        if self.state.editor.pulls && !document.is_settings() {
            if document.for_others {
                self.out.refresh_findings(&self.state.editor);
            }
            return;
        }
        let found = super::findings::diagnostics(&self.state, view);
        self.out.publish(document.uri.clone(), Some(document.version), found);
    }

    fn asked(&mut self, mut ask: Ask) {
        ask.key = ask.key.map(|key| self.disk().real(&key));
        if self.must_wait(&ask) {
            return self.waiting.push(ask);
        }
        self.answers.put(self.state.clone(), ask);
    }

    fn must_wait(&self, ask: &Ask) -> bool {
        let document = ask.key.as_ref().and_then(|key| self.state.open.get(key));
        ask.checked && document.is_some_and(|document| document.newest().is_none())
    }

    fn answer_waiting(&mut self, key: &str) {
        let waiting = std::mem::take(&mut self.waiting);
        let (now, still): (Vec<Ask>, Vec<Ask>) =
            waiting.into_iter().partition(|ask| ask.key.as_deref() == Some(key));
        self.waiting = still;
        for ask in now {
            self.answers.put(self.state.clone(), ask);
        }
    }

    /// Who waits for this document gets no answer from it any more: dropping the question tells them.
    fn refuse_waiting(&mut self, key: &str) {
        self.waiting.retain(|ask| ask.key.as_deref() != Some(key));
    }
}
