//! What this server tells the editor that it can do.

use super::actions::FIX_ALL;
use super::editor::Editor;
use tower_lsp::ls_types::{
    CodeActionKind, CodeActionOptions, CodeActionProviderCapability, DiagnosticOptions,
    DiagnosticServerCapabilities, DocumentOnTypeFormattingOptions, InitializeResult, OneOf, SaveOptions,
    ServerCapabilities, ServerInfo, TextDocumentSyncCapability, TextDocumentSyncKind,
    TextDocumentSyncOptions, TextDocumentSyncSaveOptions, WorkspaceFoldersServerCapabilities,
    WorkspaceServerCapabilities,
};

/// The answer to the editor's first message.
pub(crate) fn of(editor: &Editor) -> InitializeResult {
    InitializeResult {
        capabilities: ServerCapabilities {
            position_encoding: Some(editor.encoding.kind()),
            text_document_sync: Some(TextDocumentSyncCapability::Options(TextDocumentSyncOptions {
                open_close: Some(true),
                change: Some(TextDocumentSyncKind::INCREMENTAL),
                save: Some(TextDocumentSyncSaveOptions::SaveOptions(SaveOptions {
                    include_text: Some(false),
                })),
                ..TextDocumentSyncOptions::default()
            })),
            document_formatting_provider: Some(OneOf::Left(true)),
            document_range_formatting_provider: Some(OneOf::Left(true)),
            document_on_type_formatting_provider: Some(DocumentOnTypeFormattingOptions {
                first_trigger_character: "}".to_owned(),
                more_trigger_character: None,
            }),
            code_action_provider: Some(CodeActionProviderCapability::Options(CodeActionOptions {
                code_action_kinds: Some(vec![CodeActionKind::QUICKFIX, CodeActionKind::new(FIX_ALL)]),
                ..CodeActionOptions::default()
            })),
            diagnostic_provider: editor.pulls.then(|| {
                DiagnosticServerCapabilities::Options(DiagnosticOptions {
                    identifier: Some("dwell".to_owned()),
                    inter_file_dependencies: true,
                    workspace_diagnostics: false,
                    ..DiagnosticOptions::default()
                })
            }),
            workspace: Some(WorkspaceServerCapabilities {
                workspace_folders: Some(WorkspaceFoldersServerCapabilities {
                    supported: Some(true),
                    change_notifications: Some(OneOf::Left(true)),
                }),
                file_operations: None,
            }),
            ..ServerCapabilities::default()
        },
        server_info: Some(ServerInfo {
            name: "dwell".to_owned(),
            version: Some(env!("CARGO_PKG_VERSION").to_owned()),
        }),
        offset_encoding: None,
    }
}
