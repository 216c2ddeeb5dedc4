//! A part that is blamed although nothing was read: a plain `otherwise` is done for "no reading" as well.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use dwell_syntax::tree::{Arm, Condition, Expr, Name, Side, Statement, StatementKind, TestKind};

pub(super) const RULE: Rule = Rule {
    name: "blamed-unread",
    level: Level::Hint,
    waivable: true,
    page: include_str!("blamed_unread.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        let mut measured: Vec<&str> = Vec::new();
        crate::check::statements(procedure, whole, &mut |statement, _| match &statement.kind {
            StatementKind::Measure(measure) => {
                measured.extend(measure.readings.iter().map(|reading| reading.name.text.as_str()));
            }
            StatementKind::Expect { condition, proves: None, otherwise } => {
                let Some(reading) = judged(condition, &measured) else { return };
                let Some((arm, blame, part)) = blames(otherwise) else { return };
                findings.push(
                    RULE.at(
                        Place { file, span: blame },
                        format!("{part} is blamed even where there is no reading of `{}`", reading.text),
                    )
                    .label("also done with no reading")
                    .related(Place { file, span: arm.span }, "whatever is left comes here, no reading too")
                    .why("A tool that shows nothing condemns a good part, and the fault in the tool stays.")
                    .help("put `otherwise no reading { end unfinished \"…\" }` before it"),
                );
            }
            _ => {}
        });
    }
}

/// The first reading of a tool that a condition judges.
fn judged<'a>(condition: &'a Condition, measured: &[&str]) -> Option<&'a Name> {
    condition.tests.iter().find_map(|test| match &test.kind {
        TestKind::Meets { what, .. } | TestKind::Band { what, .. } => {
            name(what).filter(|name| measured.contains(&name.text.as_str()))
        }
        TestKind::Is { .. } => None,
    })
}

fn name(value: &Expr) -> Option<&Name> {
    match value {
        Expr::Name(name) | Expr::First(name) => Some(name),
        Expr::At(inner, _)
        | Expr::Fold(_, inner, _)
        | Expr::Function(_, inner, _)
        | Expr::Share(_, inner)
        | Expr::Group(inner, _) => name(inner),
        _ => None,
    }
}

/// The plain arm that blames a part, where no arm before it takes "no reading": the arm, where it blames, and what.
fn blames(arms: &[Arm]) -> Option<(&Arm, dwell_syntax::tree::Span, String)> {
    if arms.iter().any(|arm| arm.side == Some(Side::NoReading)) {
        return None;
    }
    let arm = arms.iter().find(|arm| arm.side.is_none())?;
    arm.block.statements.iter().find_map(|statement| Some((arm, statement.span, part(statement)?)))
}

/// What a statement blames: a cause, or what is to be renewed.
fn part(statement: &Statement) -> Option<String> {
    match &statement.kind {
        StatementKind::Cause { item, .. } => Some(format!("`{}`", item.text)),
        StatementKind::End { outcome, text: Some(text) } if outcome.text == "failed" => {
            let first = text.text.split(' ').next().unwrap_or_default();
            ["Renew", "Replace"].contains(&first).then(|| "a part".to_owned())
        }
        _ => None,
    }
}
