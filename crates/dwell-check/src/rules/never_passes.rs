//! A procedure that no vehicle can pass, whatever is read.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;
use dwell_syntax::tree::{DeclarationKind, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "never-passes",
    level: Level::Warning,
    waivable: true,
    page: include_str!("never_passes.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let searches = referred_to(facts);
    for trouble in facts.troubles {
        let Trouble::NeverPasses { place, name } = trouble else { continue };
        if searches.contains(&name.as_str()) {
            continue;
        }
        findings.push(
            RULE.at(*place, format!("no vehicle can pass `{name}`, whatever is read"))
                .label("fails, or is left unfinished, on every way")
                .why("A sound vehicle is sent back like a bad one, and soon nobody believes the result any more.")
                .help("look for an `end failed` behind the last judgement, or for a limit that nothing meets; a search for a fault is named in a `refer to`"),
        );
    }
}

/// The procedures that some other one refers to: a search for a fault need not pass.
fn referred_to<'a>(facts: &Facts<'a>) -> Vec<&'a str> {
    let mut all = Vec::new();
    for source in &facts.program.files {
        for declared in &source.tree.declarations {
            let DeclarationKind::Procedure(procedure) = &declared.kind else { continue };
            crate::check::statements(procedure, declared.span, &mut |statement, _| {
                if let StatementKind::Refer { to, .. } = &statement.kind {
                    all.push(to.text.as_str());
                }
            });
        }
    }
    all
}
