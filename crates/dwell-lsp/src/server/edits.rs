//! Edits as the protocol wants them: by document, with its version where the editor takes one.

use super::findings::uri_of;
use super::state::State;
use crate::ide::View;
use crate::ide::fixes::Repair;
use crate::ide::layout::Edit;
use dwell_check::program::Content;
use std::collections::BTreeMap;
use std::collections::HashMap;
use tower_lsp::ls_types::{
    DocumentChanges, OneOf, OptionalVersionedTextDocumentIdentifier, TextDocumentEdit, TextEdit, Uri,
    WorkspaceEdit,
};

/// Edits of one text.
pub(crate) fn text_edits(state: &State, content: &Content, edits: Vec<Edit>) -> Vec<TextEdit> {
    let encoding = state.editor.encoding;
    edits
        .into_iter()
        .map(|edit| TextEdit { range: encoding.range(content, edit.span), new_text: edit.text })
        .collect()
}

/// A repair as edits of the documents that it changes; none where one of them has no address.
pub(crate) fn repair(state: &State, view: &View, repair: &Repair) -> Option<WorkspaceEdit> {
    let mut by_file: BTreeMap<usize, Vec<TextEdit>> = BTreeMap::new();
    for edit in &repair.edits {
        let range = state.editor.encoding.range(view.other(edit.place.file)?, edit.place.span);
        by_file
            .entry(edit.place.file)
            .or_default()
            .push(TextEdit { range, new_text: edit.replacement.clone() });
    }
    let mut by_key = Vec::new();
    for (file, edits) in by_file {
        by_key.push((view.other(file)?.path.clone(), edits));
    }
    workspace_edit(state, by_key)
}

/// Edits of several files, each by its key.
pub(crate) fn workspace_edit(state: &State, by_key: Vec<(String, Vec<TextEdit>)>) -> Option<WorkspaceEdit> {
    let mut all: Vec<(Uri, Option<i32>, Vec<TextEdit>)> = Vec::new();
    for (key, edits) in by_key {
        let version = state.open.get(&key).map(|document| document.version);
        all.push((uri_of(state, &key)?, version, edits));
    }
    if !state.editor.versioned {
        let changes: HashMap<Uri, Vec<TextEdit>> =
            all.into_iter().map(|(uri, _, edits)| (uri, edits)).collect();
        return Some(WorkspaceEdit { changes: Some(changes), ..WorkspaceEdit::default() });
    }
    let documents = all.into_iter().map(|(uri, version, edits)| TextDocumentEdit {
        text_document: OptionalVersionedTextDocumentIdentifier { uri, version },
        edits: edits.into_iter().map(OneOf::Left).collect(),
    });
    Some(WorkspaceEdit {
        document_changes: Some(DocumentChanges::Edits(documents.collect())),
        ..WorkspaceEdit::default()
    })
}
