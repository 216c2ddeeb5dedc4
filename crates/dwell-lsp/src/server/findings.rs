//! Findings as diagnostics of the protocol.

use super::state::State;
use super::{addresses, pages};
use crate::ide::View;
use crate::ide::findings::{Remark, remarks};
use dwell_check::finding::{Level, Place};
use tower_lsp::ls_types::{
    CodeDescription, Diagnostic, DiagnosticRelatedInformation, DiagnosticSeverity, DiagnosticTag, Location,
    NumberOrString, Uri,
};

/// All findings of a file.
pub(crate) fn diagnostics(state: &State, view: &View) -> Vec<Diagnostic> {
    remarks(view).into_iter().filter_map(|remark| diagnostic(state, view, remark)).collect()
}

fn diagnostic(state: &State, view: &View, remark: Remark) -> Option<Diagnostic> {
    let encoding = state.editor.encoding;
    let related = remark.related.iter().filter_map(|(place, message)| {
        Some(DiagnosticRelatedInformation {
            location: location(state, view, *place)?,
            message: message.clone(),
        })
    });
    Some(Diagnostic {
        range: encoding.range(view.source()?, remark.span),
        severity: Some(severity(remark.level)),
        code: Some(NumberOrString::String(remark.rule.to_owned())),
        code_description: pages::rule(remark.rule).map(|href| CodeDescription { href }),
        source: Some("dwell".to_owned()),
        message: remark.message,
        related_information: state.editor.related.then(|| related.collect()),
        tags: (remark.needless && state.editor.tags).then(|| vec![DiagnosticTag::UNNECESSARY]),
        data: None,
    })
}

/// The protocol's word for a level.
pub(crate) fn severity(level: Level) -> DiagnosticSeverity {
    match level {
        Level::Error => DiagnosticSeverity::ERROR,
        Level::Warning => DiagnosticSeverity::WARNING,
        Level::Information => DiagnosticSeverity::INFORMATION,
        Level::Hint => DiagnosticSeverity::HINT,
    }
}

/// A place of the program of a file, in the protocol's terms.
pub(crate) fn location(state: &State, view: &View, place: Place) -> Option<Location> {
    let source = view.other(place.file)?;
    Some(Location {
        uri: uri_of(state, &source.path)?,
        range: state.editor.encoding.range(source, place.span),
    })
}

/// The address of a file: as the editor spells it where it has the file open.
pub(crate) fn uri_of(state: &State, key: &str) -> Option<Uri> {
    if let Some(document) = state.open.get(key) {
        return Some(document.uri.clone());
    }
    if key == dwell_check::program::PRELUDE {
        pages::prelude()
    } else {
        addresses::address(&state.disk.shown(key))
    }
}
