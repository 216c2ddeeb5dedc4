//! The messages of the protocol, one method each: what is told goes to the worker at once, what is asked waits for it.

use super::document::Change;
use super::editor::Editor;
use super::worker::{Ask, Desk, Event};
use super::{abilities, actions, addresses, edits, findings};
use crate::ide::{View, layout};
use dwell_syntax::tree::Span;
use tokio::sync::mpsc::UnboundedSender;
use tokio::sync::oneshot;
use tower_lsp::LanguageServer;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp::ls_types::*;

/// The server: a way to the worker.
pub(crate) struct Service {
    events: UnboundedSender<Event>,
}

impl Service {
    /// A server that speaks for this worker.
    pub(crate) fn new(events: UnboundedSender<Event>) -> Service {
        Service { events }
    }

    fn tell(&self, event: Event) {
        // A worker that is gone has ended the session.
        let _ = self.events.send(event);
    }

    /// Asks the worker. Where it fails, or lets the question go, the editor is told to ask again.
    async fn ask<T: Send + 'static>(
        &self,
        uri: Option<&Uri>,
        checked: bool,
        answer: impl FnOnce(Desk<'_>) -> Result<T> + Send + 'static,
    ) -> Result<T> {
        let (sender, receiver) = oneshot::channel();
        let answer = Box::new(move |desk: Desk<'_>| {
            if !sender.is_closed() {
                let _ = sender.send(answer(desk));
            }
        });
        self.tell(Event::Ask(Ask { key: uri.map(addresses::key), checked, answer }));
        receiver.await.unwrap_or_else(|_| Err(Error::new(ErrorCode::InternalError)))
    }

    /// Asks about a document as it was checked; none where it is not open.
    async fn viewed<T: Send + 'static>(
        &self,
        uri: &Uri,
        answer: impl FnOnce(Desk<'_>, &View) -> Option<T> + Send + 'static,
    ) -> Result<Option<T>> {
        self.ask(Some(uri), true, move |desk| {
            let view = desk.document.and_then(|document| document.newest());
            Ok(view.and_then(|view| answer(desk, view)))
        })
        .await
    }
}

/// The keys of files that were reported.
fn keys(files: impl IntoIterator<Item = Uri>) -> Vec<String> {
    files.into_iter().map(|uri| addresses::key(&uri)).collect()
}

impl LanguageServer for Service {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let editor = Editor::of(&params);
        let answer = abilities::of(&editor);
        self.tell(Event::Start(Box::new(editor)));
        Ok(answer)
    }

    async fn initialized(&self, _: InitializedParams) {
        self.tell(Event::Ready);
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        let TextDocumentItem { uri, version, text, .. } = params.text_document;
        self.tell(Event::Open { uri, version, text });
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        let VersionedTextDocumentIdentifier { uri, version } = params.text_document;
        let changes = params
            .content_changes
            .into_iter()
            .map(|change| Change { range: change.range, text: change.text });
        self.tell(Event::Change { uri, version, changes: changes.collect() });
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.tell(Event::Close { uri: params.text_document.uri });
    }

    async fn did_save(&self, _: DidSaveTextDocumentParams) {}

    async fn did_change_watched_files(&self, params: DidChangeWatchedFilesParams) {
        self.tell(Event::Disk(keys(params.changes.into_iter().map(|change| change.uri))));
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        let of = |folders: Vec<WorkspaceFolder>| keys(folders.into_iter().map(|folder| folder.uri));
        self.tell(Event::Folders { added: of(params.event.added), removed: of(params.event.removed) });
    }

    async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
        self.tell(Event::Settings(params.settings));
    }

    async fn diagnostic(&self, params: DocumentDiagnosticParams) -> Result<DocumentDiagnosticReportResult> {
        let uri = params.text_document.uri;
        let found = self.viewed(&uri, |desk, view| Some(findings::diagnostics(desk.worker, view))).await?;
        let report = FullDocumentDiagnosticReport { result_id: None, items: found.unwrap_or_default() };
        Ok(DocumentDiagnosticReportResult::Report(DocumentDiagnosticReport::Full(
            RelatedFullDocumentDiagnosticReport {
                related_documents: None,
                full_document_diagnostic_report: report,
            },
        )))
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        let uri = params.text_document.uri;
        self.ask(Some(&uri), false, |desk| {
            Ok(desk.document.map(|document| {
                edits::text_edits(desk.worker, &document.content, layout::whole(&document.content))
            }))
        })
        .await
    }

    async fn range_formatting(&self, params: DocumentRangeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        let (uri, range) = (params.text_document.uri, params.range);
        self.set_within(&uri, range).await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position;
        let line = Position { line: position.line, character: 0 };
        self.set_within(&text_document.uri, Range { start: line, end: position }).await
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<CodeActionResponse>> {
        let (range, only) = (params.range, params.context.only);
        self.viewed(&params.text_document.uri, move |desk, view| {
            let range: Span = desk.worker.editor.encoding.span(view.source()?, range);
            Some(actions::actions(desk.worker, view, range, only.as_deref()))
        })
        .await
    }
}

impl Service {
    async fn set_within(&self, uri: &Uri, range: Range) -> Result<Option<Vec<TextEdit>>> {
        self.ask(Some(uri), false, move |desk| {
            Ok(desk.document.map(|document| {
                let span = desk.worker.editor.encoding.span(&document.content, range);
                edits::text_edits(desk.worker, &document.content, layout::within(&document.content, span))
            }))
        })
        .await
    }
}
