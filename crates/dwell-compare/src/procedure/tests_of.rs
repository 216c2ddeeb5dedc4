//! What stands beside the work: the cases of a procedure, and the findings that are waived.

use crate::fact::Fact;
use crate::{Change, Grade, Side};
use dwell_check::check::Compiled;
use dwell_syntax::tree::{DeclarationKind, Part};
use std::collections::BTreeMap;

/// The cases as facts.
pub(super) fn facts(side: Side, compiled: &Compiled) -> Vec<Fact> {
    let Some(file) = side.checked.program.files.get(compiled.file) else { return Vec::new() };
    let procedures = file.tree.declarations.iter().filter_map(|declared| match &declared.kind {
        DeclarationKind::Procedure(procedure) if procedure.name.text == compiled.name => Some(procedure),
        _ => None,
    });
    let mut facts = Vec::new();
    for part in procedures.flat_map(|procedure| &procedure.parts) {
        let Part::Case(case) = part else { continue };
        let text = file.text.get(case.span.start..case.span.end).unwrap_or_default();
        let says = text.split_whitespace().collect::<Vec<_>>().join(" ");
        facts.push(Fact { about: "case", says, gone: Grade::Middle, come: Grade::Quiet });
    }
    facts
}

/// Findings that are waived now and were not, and the other way round.
pub(super) fn waived(old: Side, new: Side) -> Vec<Change> {
    type Waived = BTreeMap<(&'static str, String, String), Option<crate::Where>>;
    let all = |side: Side| -> Waived {
        let waived = side.checked.waived.iter();
        waived
            .map(|one| {
                let path = side.relative(one.finding.place.file).to_owned();
                ((one.finding.rule, path, one.because.clone()), side.place(one.place))
            })
            .collect()
    };
    let (before, after) = (all(old), all(new));
    let change = |grade, says: String, old, new, path: &str| Change {
        grade,
        of: format!("file {path}"),
        kind: "waiver",
        says,
        old,
        new,
    };
    let mut changes = Vec::new();
    for ((rule, path, because), at) in after.iter().filter(|(key, _)| !before.contains_key(key)) {
        changes.push(change(Grade::Loud, format!("{rule} is waived: {because}"), None, at.clone(), path));
    }
    for ((rule, path, because), at) in before.iter().filter(|(key, _)| !after.contains_key(key)) {
        changes.push(change(
            Grade::Quiet,
            format!("{rule} is no longer waived: {because}"),
            at.clone(),
            None,
            path,
        ));
    }
    changes
}
