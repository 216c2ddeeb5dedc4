//! A measurement with a tool that is not connected there.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Edit, Finding, Level, Place};
use crate::model::Thing;
use crate::repair::{self, handled};
use crate::trouble::Trouble;
use dwell_syntax::tree::{Clause, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "tool-not-connected",
    level: Level::Error,
    waivable: true,
    page: include_str!("tool_not_connected.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolNotConnected { place, tool, state, witness } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("the {tool} is not connected when it is read"))
                .label(format!("may still be {state}"))
                .why("A tool that hangs on nothing shows something all the same, and it would be judged.")
                .help(format!("connect the {tool} before this, on every way that leads here"))
                .witness(witness)
                .mended("connect it before this", repair(facts, *place)),
        );
    }
}

/// The tool connected before it is read, and off again in `restore`, if it does not come off there yet. None where it is
/// connected anywhere in the procedure: then it is not plain on which way that is missed.
fn repair(facts: &Facts, place: Place) -> Option<Vec<Edit>> {
    let held = repair::statement_at(facts, place)?;
    let StatementKind::Measure(measure) = &held.statement.kind else { return None };
    let tool = &measure.with.as_ref()?.text;
    if !handled(held.procedure, "connect", tool).is_empty() {
        return None;
    }
    let scope = &facts.model.scopes.get(place.file)?.names;
    let read_at = measure.clauses.iter().find_map(|clause| match clause {
        Clause::At(name) if matches!(scope.get(&name.text), Some(Thing::Item(_))) => Some(&name.text),
        _ => None,
    });
    let line = match read_at {
        Some(item) => format!("connect {tool} to {item}"),
        None => format!("connect {tool}"),
    };
    let mut edits = vec![repair::before(facts, place.file, held.statement.span, &line)];
    if !repair::restores(held.procedure, "disconnect", tool) {
        edits.push(repair::into_restore(facts, place, &format!("disconnect {tool}"))?);
    }
    Some(edits)
}
