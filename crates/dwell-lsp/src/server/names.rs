//! Names: where they are declared, where they are used, how they are renamed, who calls whom.

use super::findings::{location, uri_of};
use super::further::Files;
use super::worker::{Desk, Worker};
use super::{edits, positions::Encoding};
use crate::ide::references::{Reference, Use};
use crate::ide::{View, calls, definition, links, references, rename};
use dwell_check::program::Content;
use dwell_syntax::tree::Span;
use std::sync::Arc;
use tower_lsp::jsonrpc::{Error, Result};
use tower_lsp::ls_types::*;

/// Where the name at a byte is declared: with the name itself for an editor that takes such links.
pub(crate) fn declared(worker: &Worker, view: &View, at: usize) -> Option<GotoDefinitionResponse> {
    let found = definition::definition(view, at)?;
    let places: Vec<Location> = found.to.iter().filter_map(|place| location(worker, view, *place)).collect();
    if places.is_empty() {
        return None;
    }
    if !worker.editor.definition_links {
        return Some(GotoDefinitionResponse::Array(places));
    }
    let origin = worker.editor.encoding.range(view.source()?, found.from);
    let links = places.into_iter().map(|place| LocationLink {
        origin_selection_range: Some(origin),
        target_uri: place.uri,
        target_range: place.range,
        target_selection_range: place.range,
    });
    Some(GotoDefinitionResponse::Link(links.collect()))
}

/// Every place that names what stands at a byte.
pub(crate) fn everywhere(worker: &Worker, view: &View, at: usize, declarations: bool) -> Vec<Location> {
    let files = Files::all(worker);
    let all = references::references(view, at, &files.further()).into_iter();
    all.filter(|found| declarations || !found.declares)
        .filter_map(|found| placed(worker, view, &found))
        .collect()
}

fn placed(worker: &Worker, view: &View, found: &Reference) -> Option<Location> {
    let range = worker.editor.encoding.range(&*content(worker, view, &found.path)?, found.span);
    Some(Location { uri: uri_of(worker, &found.path)?, range })
}

/// What is in a file that something was found in; of the prelude as well.
fn content(worker: &Worker, view: &View, path: &str) -> Option<Arc<Content>> {
    let own = view.checked.program.files.iter().find(|file| file.path == path);
    own.map(|file| Arc::clone(&file.content)).or_else(|| worker.shelf.content(path).ok())
}

/// Every place of this file that names what stands at a byte.
pub(crate) fn highlights(worker: &Worker, view: &View, at: usize) -> Option<Vec<DocumentHighlight>> {
    let source = view.source()?;
    let all = references::highlights(view, at).into_iter().map(|(span, used)| DocumentHighlight {
        range: worker.editor.encoding.range(source, span),
        kind: Some(match used {
            Use::Read => DocumentHighlightKind::READ,
            Use::Write => DocumentHighlightKind::WRITE,
        }),
    });
    Some(all.collect())
}

/// The name at a byte, if it can be renamed.
pub(crate) fn prepared(worker: &Worker, view: &View, at: usize) -> Result<Option<PrepareRenameResponse>> {
    let Ok((span, placeholder)) = rename::prepare(view, at) else { return Ok(None) };
    let range = view.source().map(|source| worker.editor.encoding.range(source, span));
    Ok(range.map(|range| PrepareRenameResponse::RangeWithPlaceholder { range, placeholder }))
}

/// The edits that write another name; a sentence where that cannot be.
pub(crate) fn renamed(worker: &Worker, view: &View, at: usize, new: &str) -> Result<Option<WorkspaceEdit>> {
    let files = Files::all(worker);
    let renamed = rename::rename(view, at, new, &files.further()).map_err(refusal)?;
    let mut by_key = Vec::new();
    for (path, changed) in renamed {
        let Some(content) = content(worker, view, &path) else {
            return Err(refusal(format!("{path} names it too and cannot be read: nothing was renamed")));
        };
        let edits = edits::text_edits(worker, &content, changed);
        by_key.push((path, edits));
    }
    Ok(edits::workspace_edit(worker, by_key))
}

/// A kind refusal, which an editor shows as it is.
fn refusal(why: String) -> Error {
    Error { code: tower_lsp::jsonrpc::ErrorCode::ServerError(-32803), message: why.into(), data: None }
}

/// The paths after `use`.
pub(crate) fn followed(worker: &Worker, view: &View) -> Option<Vec<DocumentLink>> {
    let source = view.source()?;
    let all = links::links(view).into_iter().map(|link| DocumentLink {
        range: worker.editor.encoding.range(source, link.span),
        target: uri_of(worker, &link.path),
        tooltip: None,
        data: None,
    });
    Some(all.collect())
}

/// The procedure that is named at a byte.
pub(crate) fn procedure(worker: &Worker, view: &View, at: usize) -> Option<Vec<CallHierarchyItem>> {
    let callee = calls::callee(view, at)?;
    Some(vec![item(worker, view, &callee)?])
}

fn item(worker: &Worker, view: &View, callee: &calls::Callee) -> Option<CallHierarchyItem> {
    let content = content(worker, view, &callee.path)?;
    let encoding: Encoding = worker.editor.encoding;
    Some(CallHierarchyItem {
        name: callee.name.clone(),
        kind: SymbolKind::FUNCTION,
        tags: None,
        detail: (!callee.title.is_empty()).then(|| callee.title.clone()),
        uri: uri_of(worker, &callee.path)?,
        range: encoding.range(&content, callee.span),
        selection_range: encoding.range(&content, callee.name_span),
        data: None,
    })
}

/// Who leads to the procedure of an item.
pub(crate) fn incoming(desk: Desk<'_>, view: &View, at: usize) -> Vec<CallHierarchyIncomingCall> {
    let files = Files::all(desk.worker);
    let all = calls::incoming(view, at, &files.further()).into_iter().filter_map(|call| {
        let from_ranges = ranges(desk.worker, view, &call.other.path, &call.at)?;
        Some(CallHierarchyIncomingCall { from: item(desk.worker, view, &call.other)?, from_ranges })
    });
    all.collect()
}

/// Where the procedure of an item leads.
pub(crate) fn outgoing(desk: Desk<'_>, view: &View, at: usize) -> Vec<CallHierarchyOutgoingCall> {
    let all = calls::outgoing(view, at).into_iter().filter_map(|call| {
        let from_ranges = ranges(desk.worker, view, &view.path, &call.at)?;
        Some(CallHierarchyOutgoingCall { to: item(desk.worker, view, &call.other)?, from_ranges })
    });
    all.collect()
}

fn ranges(worker: &Worker, view: &View, path: &str, spans: &[Span]) -> Option<Vec<Range>> {
    let content = content(worker, view, path)?;
    Some(spans.iter().map(|span| worker.editor.encoding.range(&content, *span)).collect())
}
