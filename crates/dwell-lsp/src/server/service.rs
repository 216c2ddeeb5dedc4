//! The messages of the protocol, one method each: what is told goes to the worker at once, what is asked waits for it.

use super::answers::{Ask, Desk};
use super::document::{Change, Document};
use super::editor::Editor;
use super::page::Asked;
use super::worker::Event;
use super::{abilities, actions, addresses, beside, edits, findings, names, shapes, typing};
use crate::ide::{View, layout};
use dwell_syntax::tree::Span;
use std::sync::Arc;
use tokio::sync::mpsc::UnboundedSender;
use tokio::sync::oneshot;
use tower_lsp::jsonrpc::{Error, ErrorCode, Result};
use tower_lsp::ls_types::*;
use tower_lsp::{Client, LanguageServer};

/// The server: a way to the worker.
pub(crate) struct Service {
    events: UnboundedSender<Event>,
    client: Client,
}

impl Service {
    /// A server that speaks for this worker.
    pub(crate) fn new(events: UnboundedSender<Event>, client: Client) -> Service {
        Service { events, client }
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

    /// Asks about a procedure as it was checked; none where it is not open.
    async fn viewed<T: Send + 'static>(
        &self,
        uri: &Uri,
        answer: impl FnOnce(Desk<'_>, &View) -> Option<T> + Send + 'static,
    ) -> Result<Option<T>> {
        self.checked(uri, |desk, view| {
            let settings = desk.document.is_some_and(Document::is_settings);
            if settings { None } else { answer(desk, view) }
        })
        .await
    }

    /// The same, also about settings.
    async fn checked<T: Send + 'static>(
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
        let found = self.checked(&uri, |desk, view| Some(findings::diagnostics(desk.state, view))).await?;
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
        self.read(&uri, |desk, document| {
            let content = document.draft.content();
            edits::text_edits(desk.state, content, layout::whole(content))
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
        self.checked(&params.text_document.uri, move |desk, view| {
            let range: Span = desk.state.editor.encoding.span(view.source()?, range);
            Some(actions::actions(desk.state, view, range, only.as_deref()))
        })
        .await
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        self.at(params.text_document_position_params, |desk, view, at| beside::said(desk.state, view, at))
            .await
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        self.at(params.text_document_position, |desk, view, at| typing::suggested(desk.state, view, at)).await
    }

    async fn signature_help(&self, params: SignatureHelpParams) -> Result<Option<SignatureHelp>> {
        let TextDocumentPositionParams { text_document, position } = params.text_document_position_params;
        let shape = self.read(&text_document.uri, move |desk, document| {
            let at = desk.state.editor.encoding.offset(document.draft.content(), position);
            typing::shape(desk.state, document.draft.content(), at)
        });
        Ok(shape.await?.flatten())
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        let range = params.range;
        self.viewed(&params.text_document.uri, move |desk, view| beside::hinted(desk.state, view, range))
            .await
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        let uri = params.text_document.uri.clone();
        self.viewed(&params.text_document.uri, move |desk, view| beside::above(desk.state, &uri, view)).await
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<LSPAny>> {
        let quiet = params.arguments.first().and_then(|sent| sent.get("quiet")) == Some(&LSPAny::Bool(true));
        let Some((uri, of)) = beside::argument(&params.arguments) else {
            return Err(Error::invalid_params("a document and what of it"));
        };
        let view = self
            .ask(Some(&uri), true, |desk| Ok(desk.document.and_then(|document| document.newest()).cloned()))
            .await?;
        let Some(view) = view else { return Err(Error::invalid_params("this document is not open")) };
        // It may take a while, and the worker must not wait for it.
        let done = tokio::task::spawn_blocking(move || beside::done(&view, &params.command, &of)).await;
        let Ok(Some((well, words))) = done else { return Err(Error::new(ErrorCode::InternalError)) };
        let level = if well { MessageType::INFO } else { MessageType::WARNING };
        if !quiet {
            self.client.show_message(level, &words).await;
        }
        Ok(Some(serde_json::json!({ "well": well, "words": words })))
    }

    async fn goto_definition(&self, params: GotoDefinitionParams) -> Result<Option<GotoDefinitionResponse>> {
        self.at(params.text_document_position_params, |desk, view, at| names::declared(desk.state, view, at))
            .await
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        let declarations = params.context.include_declaration;
        self.at(params.text_document_position, move |desk, view, at| {
            Some(names::everywhere(desk.state, view, at, declarations))
        })
        .await
    }

    async fn document_highlight(
        &self,
        params: DocumentHighlightParams,
    ) -> Result<Option<Vec<DocumentHighlight>>> {
        self.at(params.text_document_position_params, |desk, view, at| {
            names::highlights(desk.state, view, at)
        })
        .await
    }

    async fn prepare_rename(
        &self,
        params: TextDocumentPositionParams,
    ) -> Result<Option<PrepareRenameResponse>> {
        self.at(params, |desk, view, at| Some(names::prepared(desk.state, view, at)))
            .await?
            .unwrap_or(Ok(None))
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        let new = params.new_name;
        self.at(params.text_document_position, move |desk, view, at| {
            Some(names::renamed(desk.state, view, at, &new))
        })
        .await?
        .unwrap_or(Ok(None))
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        self.viewed(&params.text_document.uri, |desk, view| names::followed(desk.state, view)).await
    }

    async fn prepare_call_hierarchy(
        &self,
        params: CallHierarchyPrepareParams,
    ) -> Result<Option<Vec<CallHierarchyItem>>> {
        self.at(params.text_document_position_params, |desk, view, at| names::procedure(desk.state, view, at))
            .await
    }

    async fn incoming_calls(
        &self,
        params: CallHierarchyIncomingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyIncomingCall>>> {
        self.of_item(params.item, names::incoming).await
    }

    async fn outgoing_calls(
        &self,
        params: CallHierarchyOutgoingCallsParams,
    ) -> Result<Option<Vec<CallHierarchyOutgoingCall>>> {
        self.of_item(params.item, names::outgoing).await
    }

    async fn document_symbol(&self, params: DocumentSymbolParams) -> Result<Option<DocumentSymbolResponse>> {
        self.read(&params.text_document.uri, |desk, document| {
            shapes::outline(desk.state, &document.uri, document.draft.content())
        })
        .await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<WorkspaceSymbolResponse>> {
        let query = params.query;
        self.ask(None, false, move |desk| {
            Ok(Some(WorkspaceSymbolResponse::Flat(shapes::found(desk.state, &query))))
        })
        .await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        self.read(&params.text_document.uri, |_, document| shapes::folds(document.draft.content())).await
    }

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        let positions = params.positions;
        self.read(&params.text_document.uri, move |desk, document| {
            let encoding = desk.state.editor.encoding;
            positions
                .into_iter()
                .map(|at| shapes::enclosing(encoding, document.draft.content(), at))
                .collect()
        })
        .await
    }

    async fn semantic_tokens_full(
        &self,
        params: SemanticTokensParams,
    ) -> Result<Option<SemanticTokensResult>> {
        let found = self.viewed(&params.text_document.uri, |desk, view| {
            shapes::colours(desk.state.editor.encoding, view, None)
        });
        Ok(found.await?.map(SemanticTokensResult::Tokens))
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokensRangeResult>> {
        let range = params.range;
        let found = self.viewed(&params.text_document.uri, move |desk, view| {
            shapes::colours(desk.state.editor.encoding, view, Some(range))
        });
        Ok(found.await?.map(SemanticTokensRangeResult::Tokens))
    }
}

impl Service {
    /// Asks about a position of a document as it was checked.
    async fn at<T: Send + 'static>(
        &self,
        place: TextDocumentPositionParams,
        answer: impl FnOnce(Desk<'_>, &View, usize) -> Option<T> + Send + 'static,
    ) -> Result<Option<T>> {
        let position = place.position;
        self.viewed(&place.text_document.uri, move |desk, view| {
            let at = desk.state.editor.encoding.offset(view.source()?, position);
            answer(desk, view, at)
        })
        .await
    }

    /// Asks about the text of a procedure, checked or not.
    async fn read<T: Send + 'static>(
        &self,
        uri: &Uri,
        answer: impl FnOnce(Desk<'_>, &Document) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        self.ask(Some(uri), false, |desk| {
            let document = desk.document.filter(|document| !document.is_settings());
            Ok(document.map(|document| answer(desk, document)))
        })
        .await
    }

    /// Asks about the procedure of an item, whose file may be closed by now.
    async fn of_item<T: Send + 'static>(
        &self,
        item: CallHierarchyItem,
        answer: impl FnOnce(Desk<'_>, &View, usize) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        let CallHierarchyItem { uri, selection_range, .. } = item;
        self.ask(Some(&uri.clone()), true, move |desk| {
            let open = desk.document.and_then(|document| document.newest()).cloned();
            let key = || desk.state.disk.real(&addresses::key(&uri));
            let view = open.unwrap_or_else(|| Arc::new(View::of(&key(), &desk.state.shelf)));
            let at =
                view.source().map(|source| desk.state.editor.encoding.offset(source, selection_range.start));
            Ok(at.map(|at| answer(desk, &view, at)))
        })
        .await
    }

    /// The page beside a text. It may take a while, and the worker must not wait for it.
    pub(crate) async fn page(&self, sent: serde_json::Value) -> Result<serde_json::Value> {
        let asked = Asked::of(&sent).ok_or_else(|| Error::invalid_params("a document is missing"))?;
        let uri = asked.uri.clone();
        let found = self
            .ask(Some(&uri), true, |desk| {
                let document = desk.document;
                let view = document.and_then(|document| Some((document.newest()?.clone(), document.version)));
                Ok(view.map(|(view, version)| (view, version, desk.state.editor.encoding)))
            })
            .await?;
        let Some((view, version, encoding)) = found else {
            return Err(Error::invalid_params("this document is not open"));
        };
        let made = tokio::task::spawn_blocking(move || asked.answered(&view, encoding, version)).await;
        made.ok().flatten().ok_or_else(|| Error::new(ErrorCode::InternalError))
    }

    async fn set_within(&self, uri: &Uri, range: Range) -> Result<Option<Vec<TextEdit>>> {
        self.ask(Some(uri), false, move |desk| {
            Ok(desk.document.map(|document| {
                let span = desk.state.editor.encoding.span(document.draft.content(), range);
                edits::text_edits(
                    desk.state,
                    document.draft.content(),
                    layout::within(document.draft.content(), span),
                )
            }))
        })
        .await
    }
}
