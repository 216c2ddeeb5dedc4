//! A second judgement of a reading that was out: it does not make good what the first one found.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use dwell_syntax::tree::{Arm, Block, Condition, Expr, Span, Statement, StatementKind, TestKind};

pub(super) const RULE: Rule = Rule {
    name: "out-not-mended",
    level: Level::Warning,
    waivable: true,
    page: include_str!("out_not_mended.md"),
};

/// An `expect` whose `otherwise` can go on: what it judges, where it stands, and where its arms end.
struct Open<'a> {
    judged: Vec<(&'a str, &'a str)>,
    place: Span,
    arms: Span,
    again: bool,
}

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        let mut open: Vec<Open<'_>> = Vec::new();
        crate::check::statements(procedure, whole, &mut |statement, _| match &statement.kind {
            StatementKind::Measure(measure) if measure.again => {
                for known in &mut open {
                    let again = measure
                        .readings
                        .iter()
                        .any(|reading| known.judged.iter().any(|(name, _)| *name == reading.name.text));
                    known.again |= again && known.arms.holds(statement.span);
                }
            }
            StatementKind::Expect { condition, otherwise, .. } => {
                let judged = judged(condition);
                let first = open
                    .iter()
                    .find(|known| known.again && known.judged.iter().any(|pair| judged.contains(pair)));
                if let Some(first) = first {
                    findings.push(
                        RULE.at(Place { file, span: condition.span }, "being in here does not mend what was out before: the result stays failed")
                            .label("judged a second time")
                            .related(Place { file, span: first.place }, "it was out here, and that counts")
                            .why("The vehicle is good again and leaves with “failed” in its record, or is worked on once more for nothing.")
                            .help("put the work into `adjust … by { }` in the first `otherwise`, or come to the first `expect` again with `back to`"),
                    );
                }
                if otherwise.iter().any(goes_on) {
                    let arms = otherwise.iter().map(|arm| arm.span).reduce(Span::to).unwrap_or_default();
                    open.push(Open { judged, place: condition.span, arms, again: false });
                }
            }
            _ => {}
        });
    }
}

/// The readings of a condition, each with the limit that it is to meet.
fn judged(condition: &Condition) -> Vec<(&str, &str)> {
    let tests = condition.tests.iter();
    tests
        .filter_map(|test| match &test.kind {
            TestKind::Meets { what: Expr::Name(name), misses: false, spec, .. } => {
                Some((name.text.as_str(), spec.text.as_str()))
            }
            _ => None,
        })
        .collect()
}

/// Whether an arm measures again and goes on, itself or in one of its branches, and has no `adjust`.
fn goes_on(arm: &Arm) -> bool {
    let mut adjusts = false;
    crate::check::statements_in(&arm.block, &mut |statement, _| {
        adjusts |= matches!(statement.kind, StatementKind::Adjust { .. });
    });
    !adjusts && (measures_again(&arm.block) || arm.block.statements.iter().any(branch_goes_on))
}

fn measures_again(block: &Block) -> bool {
    let again =
        |statement: &Statement| matches!(&statement.kind, StatementKind::Measure(measure) if measure.again);
    block.statements.iter().any(again)
}

/// Whether a branch measures again and does not leave.
fn branch_goes_on(statement: &Statement) -> bool {
    let StatementKind::If { arms, last } = &statement.kind else { return false };
    arms.iter().map(|(_, block)| block).chain(last).any(|block| {
        let leaves = block.statements.last().is_some_and(|last| {
            matches!(
                last.kind,
                StatementKind::End { .. }
                    | StatementKind::Refer { .. }
                    | StatementKind::Back { .. }
                    | StatementKind::On { .. }
            )
        });
        !leaves && (measures_again(block) || block.statements.iter().any(branch_goes_on))
    })
}
