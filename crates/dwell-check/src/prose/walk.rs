//! Every text of the statements of a file with what it is there for.

use super::Role;
use crate::check::statements;
use dwell_syntax::tree::{DeclarationKind, File, Span, Statement, StatementKind, Text};

/// Shows `visit` each text: its role, where it stands, and the statement that it belongs to with its place.
pub(super) fn texts<'a>(tree: &'a File, visit: &mut dyn FnMut(Role, Span, &'a StatementKind, Span)) {
    for declared in &tree.declarations {
        if let DeclarationKind::Procedure(procedure) = &declared.kind {
            statements(procedure, declared.span, &mut |statement, _| {
                if let Some((role, text)) = of(statement) {
                    visit(role, text.span, &statement.kind, statement.span);
                }
            });
        }
    }
}

/// The text of a statement that is read at the vehicle. A `cause` says what is so, not what to do; it has none.
fn of(statement: &Statement) -> Option<(Role, &Text)> {
    match &statement.kind {
        StatementKind::Do { text, .. } => Some((Role::Work, text)),
        StatementKind::Handle(handle) => Some((Role::Beside, handle.text.as_ref()?)),
        StatementKind::Measure(measure) => Some((Role::Beside, measure.text.as_ref()?)),
        StatementKind::Wait { text, .. } => Some((Role::Beside, text.as_ref()?)),
        StatementKind::Keep(keep) => Some((Role::Beside, keep.text.as_ref()?)),
        StatementKind::Ask { text, .. } => Some((Role::Question, text)),
        StatementKind::Note(text) => Some((Role::Note, text)),
        StatementKind::Caution { text, .. } => Some((Role::Caution, text.as_ref()?)),
        StatementKind::End { text, .. } | StatementKind::Refer { text, .. } => {
            Some((Role::End, text.as_ref()?))
        }
        _ => None,
    }
}
