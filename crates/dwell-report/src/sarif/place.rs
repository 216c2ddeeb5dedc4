//! Places as SARIF has them: lines from 1, columns from 1 in UTF-16 code units, the end one past the last.

use crate::Base;
use dwell_check::finding::Place;
use dwell_check::program::{PRELUDE, Program, SourceFile};
use serde_json::{Value, json};

/// The name of the top folder in `originalUriBaseIds`.
pub(super) const TOP: &str = "SRCROOT";

/// The file of a path as it is shown.
pub(super) fn artifact(base: &Base, path: &str) -> Value {
    match base.uri(path) {
        (uri, true) => json!({ "uri": uri, "uriBaseId": TOP }),
        (uri, false) => json!({ "uri": uri }),
    }
}

/// File and region; nothing for a place in the prelude, which is no file.
pub(super) fn physical(base: &Base, program: &Program, at: Place) -> Option<Value> {
    let file = program.files.get(at.file).filter(|file| file.path != PRELUDE)?;
    Some(json!({ "artifactLocation": artifact(base, &file.path), "region": region(file, at) }))
}

/// The region of a place.
pub(super) fn region(file: &SourceFile, at: Place) -> Value {
    let (start_line, start_column) = line_and_column(file, at.span.start);
    let (end_line, end_column) = line_and_column(file, at.span.end);
    json!({
        "startLine": start_line,
        "startColumn": start_column,
        "endLine": end_line,
        "endColumn": end_column,
    })
}

/// Line and column of a byte, the column in UTF-16 code units. A byte order mark is no part of the first line.
fn line_and_column(file: &SourceFile, byte: usize) -> (usize, usize) {
    let line = file.lines.line(byte);
    let before = file.text.get(file.lines.start(line)..byte).unwrap_or_default();
    let before = if line == 0 { before.trim_start_matches('\u{FEFF}') } else { before };
    (line + 1, before.encode_utf16().count() + 1)
}
