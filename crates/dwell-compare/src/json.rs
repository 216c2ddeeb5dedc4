//! A comparison as JSON; the shape is described in `grammar/JSON.md` and has a version number.

use crate::{Change, Comparison, Grade, Where};
use serde_json::{Value, json};

/// The version of the shape.
const VERSION: u32 = 1;

/// All changes, in the order of the comparison.
pub fn json(comparison: &Comparison) -> Value {
    json!({
        "version": VERSION,
        "loud": comparison.count(Grade::Loud),
        "middle": comparison.count(Grade::Middle),
        "quiet": comparison.count(Grade::Quiet),
        "changes": comparison.changes.iter().map(change).collect::<Vec<_>>(),
        "not-compared": comparison.not_compared,
    })
}

fn change(change: &Change) -> Value {
    json!({
        "grade": change.grade.word(),
        "of": change.of,
        "kind": change.kind,
        "says": change.says,
        "old": change.old.as_ref().map(place),
        "new": change.new.as_ref().map(place),
    })
}

fn place(place: &Where) -> Value {
    json!({ "file": place.path, "line": place.line, "column": place.column })
}
