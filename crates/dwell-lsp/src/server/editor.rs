//! What the editor can do, as far as it makes a difference to us.

use super::positions::Encoding;
use serde_json::Value;
use tower_lsp::ls_types::{ClientCapabilities, InitializeParams, MarkupKind};

/// The editor, as it presented itself.
#[derive(Clone, Debug, Default)]
pub(crate) struct Editor {
    /// In which units it counts.
    pub(crate) encoding: Encoding,
    /// It asks for findings itself.
    pub(crate) pulls: bool,
    /// It shows related places beside a finding.
    pub(crate) related: bool,
    /// It can be told that text serves nothing.
    pub(crate) tags: bool,
    /// It takes snippets.
    pub(crate) snippets: bool,
    /// It shows Markdown.
    pub(crate) markdown: bool,
    /// It takes edits with the version of the document that they are for.
    pub(crate) versioned: bool,
    /// It asks whether a name can be renamed.
    pub(crate) prepares_rename: bool,
    /// It takes the way to a declaration with the name that leads there.
    pub(crate) definition_links: bool,
    /// It nests symbols.
    pub(crate) nested_symbols: bool,
    /// It can be asked for its settings.
    pub(crate) configuration: bool,
    /// It lets us ask for watched files.
    pub(crate) watches: bool,
    /// It lets us ask for documents that are no procedures.
    pub(crate) opens: bool,
    /// It shows progress.
    pub(crate) progress: bool,
    /// It can be asked to pull findings again.
    pub(crate) refresh_findings: bool,
    /// It can be asked to ask for hints again.
    pub(crate) refresh_hints: bool,
    /// It can be asked to ask for lenses again.
    pub(crate) refresh_lenses: bool,
    /// The folders that are open in it.
    pub(crate) folders: Vec<String>,
    /// Settings that came with the first message.
    pub(crate) options: Value,
}

impl Editor {
    /// From its first message.
    pub(crate) fn of(params: &InitializeParams) -> Editor {
        let can: &ClientCapabilities = &params.capabilities;
        let text = can.text_document.as_ref();
        let workspace = can.workspace.as_ref();
        let published = text.and_then(|text| text.publish_diagnostics.as_ref());
        let offered = can.general.as_ref().and_then(|general| general.position_encodings.as_deref());
        #[allow(deprecated)]
        let root = params.root_uri.as_ref();
        let folders = params.workspace_folders.as_deref().unwrap_or_default();
        let folders: Vec<String> = folders.iter().map(|folder| super::addresses::key(&folder.uri)).collect();
        let folders =
            if folders.is_empty() { root.map(super::addresses::key).into_iter().collect() } else { folders };
        Editor {
            encoding: Encoding::of(offered),
            pulls: text.is_some_and(|text| text.diagnostic.is_some()),
            related: published.and_then(|can| can.related_information).unwrap_or(false),
            tags: published.is_some_and(|can| can.tag_support.is_some()),
            snippets: text
                .and_then(|text| text.completion.as_ref())
                .and_then(|completion| completion.completion_item.as_ref())
                .and_then(|item| item.snippet_support)
                .unwrap_or(false),
            markdown: text
                .and_then(|text| text.hover.as_ref())
                .and_then(|hover| hover.content_format.as_ref())
                .is_some_and(|formats| formats.contains(&MarkupKind::Markdown)),
            versioned: workspace
                .and_then(|workspace| workspace.workspace_edit.as_ref())
                .and_then(|edit| edit.document_changes)
                .unwrap_or(false),
            prepares_rename: text
                .and_then(|text| text.rename.as_ref())
                .and_then(|rename| rename.prepare_support)
                .unwrap_or(false),
            definition_links: text
                .and_then(|text| text.definition.as_ref())
                .and_then(|definition| definition.link_support)
                .unwrap_or(false),
            nested_symbols: text
                .and_then(|text| text.document_symbol.as_ref())
                .and_then(|symbol| symbol.hierarchical_document_symbol_support)
                .unwrap_or(false),
            configuration: workspace.and_then(|workspace| workspace.configuration).unwrap_or(false),
            watches: workspace
                .and_then(|workspace| workspace.did_change_watched_files.as_ref())
                .and_then(|watched| watched.dynamic_registration)
                .unwrap_or(false),
            opens: text
                .and_then(|text| text.synchronization.as_ref())
                .and_then(|synchronization| synchronization.dynamic_registration)
                .unwrap_or(false),
            progress: can.window.as_ref().and_then(|window| window.work_done_progress).unwrap_or(false),
            refresh_findings: refreshes(
                workspace.and_then(|can| can.diagnostics.as_ref()).and_then(|can| can.refresh_support),
            ),
            refresh_hints: refreshes(
                workspace.and_then(|can| can.inlay_hint.as_ref()).and_then(|can| can.refresh_support),
            ),
            refresh_lenses: refreshes(
                workspace.and_then(|can| can.code_lens.as_ref()).and_then(|can| can.refresh_support),
            ),
            folders,
            options: params.initialization_options.clone().unwrap_or(Value::Null),
        }
    }
}

fn refreshes(can: Option<bool>) -> bool {
    can.unwrap_or(false)
}
