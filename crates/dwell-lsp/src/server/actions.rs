//! Repairs as code actions: one for a finding, and all that can be made at once.

use super::edits;
use super::findings::diagnostics;
use super::state::State;
use crate::ide::View;
use crate::ide::fixes::{self, Repair};
use dwell_syntax::tree::Span;
use tower_lsp::ls_types::{CodeAction, CodeActionKind, CodeActionOrCommand, Diagnostic};

/// The kind of the action that makes all repairs.
pub(crate) const FIX_ALL: &str = "source.fixAll.dwell";

/// What can be done in a range; only of the kinds that were asked for.
pub(crate) fn actions(
    state: &State,
    view: &View,
    range: Span,
    only: Option<&[CodeActionKind]>,
) -> Vec<CodeActionOrCommand> {
    let wants = |kind: &str| only.is_none_or(|only| only.iter().any(|asked| within(kind, asked.as_str())));
    let found = diagnostics(state, view);
    let mut actions = Vec::new();
    if wants("quickfix") {
        for repair in fixes::at(view, range) {
            actions.extend(action(state, view, &repair, CodeActionKind::QUICKFIX, &found));
        }
    }
    // Nobody wants it in the list at every place: it is given where it is asked for.
    if only.is_some()
        && wants(FIX_ALL)
        && let Some(repair) = fixes::all(view)
    {
        actions.extend(action(state, view, &repair, CodeActionKind::new(FIX_ALL), &found));
    }
    actions
}

/// Whether `kind` is `asked` or one of its kinds.
fn within(kind: &str, asked: &str) -> bool {
    kind.strip_prefix(asked).is_some_and(|rest| asked.is_empty() || rest.is_empty() || rest.starts_with('.'))
}

fn action(
    state: &State,
    view: &View,
    repair: &Repair,
    kind: CodeActionKind,
    found: &[Diagnostic],
) -> Option<CodeActionOrCommand> {
    let mends = repair.mends.iter().filter_map(|index| found.get(*index).cloned()).collect();
    Some(CodeActionOrCommand::CodeAction(CodeAction {
        title: repair.title.clone(),
        is_preferred: (kind == CodeActionKind::QUICKFIX).then_some(true),
        kind: Some(kind),
        diagnostics: Some(mends),
        edit: Some(edits::repair(state, view, repair)?),
        ..CodeAction::default()
    }))
}

#[cfg(test)]
mod tests {
    use super::within;

    #[test]
    fn a_kind_is_within_itself_and_what_stands_before_a_point() {
        assert!(within("source.fixAll.dwell", "source") && within("source.fixAll.dwell", "source.fixAll"));
        assert!(within("quickfix", "quickfix") && within("quickfix", ""));
        assert!(!within("quickfix", "quick") && !within("source.fixAll.dwell", "source.organizeImports"));
    }
}
