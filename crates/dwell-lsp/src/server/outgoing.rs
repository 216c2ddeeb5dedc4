//! What is sent to the editor without being asked, in order, and never in the way of the worker.

use super::editor::Editor;
use super::worker::Event;
use serde_json::json;
use std::time::Duration;
use tokio::sync::mpsc::{UnboundedReceiver, UnboundedSender, unbounded_channel};
use tokio::sync::watch;
use tower_lsp::Client;
use tower_lsp::ls_types::notification::Progress as ProgressNote;
use tower_lsp::ls_types::{
    ConfigurationItem, Diagnostic, MessageType, NumberOrString, ProgressParams, ProgressParamsValue,
    Registration, Uri, WorkDoneProgress, WorkDoneProgressBegin, WorkDoneProgressEnd, WorkDoneProgressReport,
};

/// How long an editor may take to answer something that we ask.
const PATIENCE: Duration = Duration::from_secs(10);

/// How long a report of progress stands before the next one: nobody reads faster.
const BETWEEN: Duration = Duration::from_millis(100);

/// What is sent.
enum Out {
    Publish(Uri, Option<i32>, Vec<Diagnostic>),
    Log(MessageType, String),
    /// Something that the editor has to answer; nothing waits for it.
    Asked(Asked),
    ProgressBegins(usize),
    Progress(usize, usize),
    ProgressEnds,
}

/// What the editor is asked.
enum Asked {
    Watch,
    Open,
    Settings(UnboundedSender<Event>),
    Findings,
    Hints,
    Lenses,
}

/// The way to the editor.
#[derive(Clone)]
pub(crate) struct Outgoing(UnboundedSender<Out>);

impl Outgoing {
    /// Begins to send.
    pub(crate) fn to(client: Client) -> Outgoing {
        let (sender, receiver) = unbounded_channel();
        tokio::spawn(send(client, receiver));
        Outgoing(sender)
    }

    fn put(&self, out: Out) {
        // When nobody reads any more the session is over.
        let _ = self.0.send(out);
    }

    /// The findings of a document, of which the editor forgets all it had.
    pub(crate) fn publish(&self, uri: Uri, version: Option<i32>, findings: Vec<Diagnostic>) {
        self.put(Out::Publish(uri, version, findings));
    }

    /// A line for the editor's log.
    pub(crate) fn log(&self, level: MessageType, words: String) {
        self.put(Out::Log(level, words));
    }

    /// Says that something of ours failed, and that nothing else did.
    pub(crate) fn fault(&self) {
        let words = "a fault inside dwell stopped one answer; all others go on";
        self.log(MessageType::ERROR, words.to_owned());
    }

    /// What is asked of an editor that is ready, as far as it can.
    pub(crate) fn begin(&self, editor: &Editor, events: &UnboundedSender<Event>) {
        if editor.watches {
            self.put(Out::Asked(Asked::Watch));
        }
        if editor.opens {
            self.put(Out::Asked(Asked::Open));
        }
        if editor.configuration {
            self.put(Out::Asked(Asked::Settings(events.clone())));
        }
    }

    /// Asks for the settings again.
    pub(crate) fn settings(&self, events: &UnboundedSender<Event>) {
        self.put(Out::Asked(Asked::Settings(events.clone())));
    }

    /// The editor shall ask for everything again.
    pub(crate) fn refresh(&self, editor: &Editor) {
        if editor.refresh_hints {
            self.put(Out::Asked(Asked::Hints));
        }
        if editor.refresh_lenses {
            self.put(Out::Asked(Asked::Lenses));
        }
        self.refresh_findings(editor);
    }

    /// The editor shall ask for the findings again.
    pub(crate) fn refresh_findings(&self, editor: &Editor) {
        if editor.pulls && editor.refresh_findings {
            self.put(Out::Asked(Asked::Findings));
        }
    }

    /// So many files are being checked.
    pub(crate) fn progress_begins(&self, editor: &Editor, files: usize) {
        if editor.progress {
            self.put(Out::ProgressBegins(files));
        }
    }

    /// So many of them are done.
    pub(crate) fn progress(&self, done: usize, all: usize) {
        self.put(Out::Progress(done, all));
    }

    /// All of them are done.
    pub(crate) fn progress_ends(&self) {
        self.put(Out::ProgressEnds);
    }
}

async fn send(client: Client, mut receiver: UnboundedReceiver<Out>) {
    let mut begun = 0;
    let mut progress: Option<watch::Sender<Option<(usize, usize)>>> = None;
    while let Some(out) = receiver.recv().await {
        match out {
            Out::Publish(uri, version, findings) => client.publish_diagnostics(uri, findings, version).await,
            Out::Log(level, words) => client.log_message(level, words).await,
            Out::Asked(asked) => {
                tokio::spawn(tokio::time::timeout(PATIENCE, ask(client.clone(), asked)));
            }
            Out::ProgressBegins(files) if progress.is_none() => {
                let (sender, receiver) = watch::channel(Some((0, files)));
                progress = Some(sender);
                begun += 1;
                tokio::spawn(show_progress(client.clone(), begun, receiver));
            }
            Out::ProgressBegins(files) => {
                progress.as_ref().map(|progress| progress.send(Some((0, files))));
            }
            Out::Progress(done, all) => {
                progress.as_ref().map(|progress| progress.send(Some((done, all))));
            }
            Out::ProgressEnds => {
                progress.take().map(|progress| progress.send(None));
            }
        }
    }
}

async fn ask(client: Client, asked: Asked) {
    match asked {
        Asked::Watch => {
            let watchers =
                json!({ "watchers": [{ "globPattern": "**/*.dwell" }, { "globPattern": "**/dwell.toml" }] });
            let _ = client
                .register_capability(vec![Registration {
                    id: "dwell-files".to_owned(),
                    method: "workspace/didChangeWatchedFiles".to_owned(),
                    register_options: Some(watchers),
                }])
                .await;
        }
        Asked::Open => drop(client.register_capability(settings_documents()).await),
        Asked::Settings(events) => {
            let item = ConfigurationItem { scope_uri: None, section: Some("dwell".to_owned()) };
            if let Ok(sent) = client.configuration(vec![item]).await
                && let Some(sent) = sent.into_iter().next()
                && !sent.is_null()
            {
                let _ = events.send(Event::Settings(sent));
            }
        }
        Asked::Findings => drop(client.workspace_diagnostic_refresh().await),
        Asked::Hints => drop(client.inlay_hint_refresh().await),
        Asked::Lenses => drop(client.code_lens_refresh().await),
    }
}

/// That we want to know what is in `dwell.toml` while it is open, and nothing else about it.
fn settings_documents() -> Vec<Registration> {
    let documents = json!([{ "scheme": "file", "pattern": "**/dwell.toml" }]);
    // 2: changes are told as ranges.
    let options = json!({ "documentSelector": documents, "syncKind": 2 });
    let methods = ["textDocument/didOpen", "textDocument/didChange", "textDocument/didClose"];
    let register = |method: &str| Registration {
        id: format!("dwell-settings-{}", method.rsplit('/').next().unwrap_or_default()),
        method: method.to_owned(),
        register_options: Some(options.clone()),
    };
    methods.iter().map(|method| register(method)).collect()
}

/// Shows how far it is until it is done; not at all where the editor does not want to.
async fn show_progress(client: Client, number: usize, mut state: watch::Receiver<Option<(usize, usize)>>) {
    let token = NumberOrString::String(format!("dwell-files-{number}"));
    let created = tokio::time::timeout(PATIENCE, client.create_work_done_progress(token.clone())).await;
    if !matches!(created, Ok(Ok(()))) {
        return;
    }
    let note = |value| {
        client.send_notification::<ProgressNote>(ProgressParams {
            token: token.clone(),
            value: ProgressParamsValue::WorkDone(value),
        })
    };
    note(WorkDoneProgress::Begin(WorkDoneProgressBegin {
        title: "Checking procedures".to_owned(),
        cancellable: Some(false),
        message: None,
        percentage: Some(0),
    }))
    .await;
    loop {
        let so_far = *state.borrow_and_update();
        let Some((done, all)) = so_far else { break };
        note(WorkDoneProgress::Report(WorkDoneProgressReport {
            cancellable: Some(false),
            message: Some(format!("{done} of {all} files")),
            percentage: u32::try_from(done * 100 / all.max(1)).ok(),
        }))
        .await;
        tokio::time::sleep(BETWEEN).await;
        if state.changed().await.is_err() {
            break;
        }
    }
    note(WorkDoneProgress::End(WorkDoneProgressEnd { message: None })).await;
}
