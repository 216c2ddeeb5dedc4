//! Names: where they are declared, where they are used, how they are renamed, who calls whom.

use super::answers::Desk;
use super::findings::{location, uri_of};
use super::further::Files;
use super::state::State;
use super::{edits, positions::Encoding};
use crate::ide::references::{Reference, Use};
use crate::ide::{View, calls, definition, links, references, rename};
use dwell_check::program::Content;
use dwell_syntax::tree::Span;
use std::sync::Arc;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::ls_types::*;

/// Where the name at a byte is declared: with the name itself for an editor that takes such links.
pub(crate) fn declared(state: &State, view: &View, at: usize) -> Option<GotoDefinitionResponse> {
    let found = definition::definition(view, at)?;
    let places: Vec<Location> = found.to.iter().filter_map(|place| location(state, view, *place)).collect();
    if places.is_empty() {
        return None;
    }
    if !state.editor.definition_links {
        return Some(GotoDefinitionResponse::Array(places));
    }
    let origin = state.editor.encoding.range(view.source()?, found.from);
    let links = places.into_iter().map(|place| LocationLink {
        origin_selection_range: Some(origin),
        target_uri: place.uri,
        target_range: place.range,
        target_selection_range: place.range,
    });
    Some(GotoDefinitionResponse::Link(links.collect()))
}

/// Every place that names what stands at a byte.
pub(crate) fn everywhere(state: &State, view: &View, at: usize, declarations: bool) -> Vec<Location> {
    let files = Files::all(state);
    let all = references::references(view, at, &files.further()).into_iter();
    all.filter(|found| declarations || !found.declares)
        .filter_map(|found| placed(state, view, &found))
        .collect()
}

fn placed(state: &State, view: &View, found: &Reference) -> Option<Location> {
    let range = state.editor.encoding.range(&*content(state, view, &found.path)?, found.span);
    Some(Location { uri: uri_of(state, &found.path)?, range })
}

/// What is in a file that something was found in; of the prelude as well.
fn content(state: &State, view: &View, path: &str) -> Option<Arc<Content>> {
    let own = view.checked.program.files.iter().find(|file| file.path == path);
    own.map(|file| Arc::clone(&file.content)).or_else(|| state.shelf.glance(path))
}

/// Every place of this file that names what stands at a byte.
pub(crate) fn highlights(state: &State, view: &View, at: usize) -> Option<Vec<DocumentHighlight>> {
    let source = view.source()?;
    let all = references::highlights(view, at).into_iter().map(|(span, used)| DocumentHighlight {
        range: state.editor.encoding.range(source, span),
        kind: Some(match used {
            Use::Read => DocumentHighlightKind::READ,
            Use::Write => DocumentHighlightKind::WRITE,
        }),
    });
    Some(all.collect())
}

/// The name at a byte, if it can be renamed.
pub(crate) fn prepared(state: &State, view: &View, at: usize) -> Result<Option<PrepareRenameResponse>> {
    let Ok((span, placeholder)) = rename::prepare(view, at) else { return Ok(None) };
    let range = view.source().map(|source| state.editor.encoding.range(source, span));
    Ok(range.map(|range| PrepareRenameResponse::RangeWithPlaceholder { range, placeholder }))
}

/// The edits that write another name; a sentence where that cannot be.
pub(crate) fn renamed(state: &State, view: &View, at: usize, new: &str) -> Result<Option<WorkspaceEdit>> {
    let files = Files::all(state);
    let renamed = rename::rename(view, at, new, &files.further()).map_err(refusal)?;
    let mut by_key = Vec::new();
    for (path, changed) in renamed {
        let Some(content) = content(state, view, &path) else {
            return Err(refusal(format!("{path} names it too and cannot be read: nothing was renamed")));
        };
        let edits = edits::text_edits(state, &content, changed);
        by_key.push((path, edits));
    }
    Ok(edits::workspace_edit(state, by_key))
}

/// A kind refusal, which an editor shows as it is.
fn refusal(why: String) -> Error {
    Error { code: tower_lsp::jsonrpc::ErrorCode::ServerError(-32803), message: why.into(), data: None }
}

/// The paths after `use`.
pub(crate) fn followed(state: &State, view: &View) -> Option<Vec<DocumentLink>> {
    let source = view.source()?;
    let all = links::links(view).into_iter().map(|link| DocumentLink {
        range: state.editor.encoding.range(source, link.span),
        target: uri_of(state, &link.path),
        tooltip: None,
        data: None,
    });
    Some(all.collect())
}

/// The procedure that is named at a byte.
pub(crate) fn procedure(state: &State, view: &View, at: usize) -> Option<Vec<CallHierarchyItem>> {
    let callee = calls::callee(view, at)?;
    Some(vec![item(state, view, &callee)?])
}

fn item(state: &State, view: &View, callee: &calls::Callee) -> Option<CallHierarchyItem> {
    let content = content(state, view, &callee.path)?;
    let encoding: Encoding = state.editor.encoding;
    Some(CallHierarchyItem {
        name: callee.name.clone(),
        kind: SymbolKind::FUNCTION,
        tags: None,
        detail: (!callee.title.is_empty()).then(|| callee.title.clone()),
        uri: uri_of(state, &callee.path)?,
        range: encoding.range(&content, callee.span),
        selection_range: encoding.range(&content, callee.name_span),
        data: None,
    })
}

/// Who leads to the procedure of an item.
pub(crate) fn incoming(desk: Desk<'_>, view: &View, at: usize) -> Vec<CallHierarchyIncomingCall> {
    let files = Files::all(desk.state);
    let all = calls::incoming(view, at, &files.further()).into_iter().filter_map(|call| {
        let from_ranges = ranges(desk.state, view, &call.other.path, &call.at)?;
        Some(CallHierarchyIncomingCall { from: item(desk.state, view, &call.other)?, from_ranges })
    });
    all.collect()
}

/// Where the procedure of an item leads.
pub(crate) fn outgoing(desk: Desk<'_>, view: &View, at: usize) -> Vec<CallHierarchyOutgoingCall> {
    let all = calls::outgoing(view, at).into_iter().filter_map(|call| {
        let from_ranges = ranges(desk.state, view, &view.path, &call.at)?;
        Some(CallHierarchyOutgoingCall { to: item(desk.state, view, &call.other)?, from_ranges })
    });
    all.collect()
}

fn ranges(state: &State, view: &View, path: &str, spans: &[Span]) -> Option<Vec<Range>> {
    let content = content(state, view, path)?;
    Some(spans.iter().map(|span| state.editor.encoding.range(&content, *span)).collect())
}
