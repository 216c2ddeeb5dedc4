//! A reading that is put together in another way than its quantity is defined.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::Thing;
use dwell_syntax::tree::{Clause, DeclarationKind, Fold, LineKind, StatementKind};

pub(super) const RULE: Rule = Rule {
    name: "measured-another-way",
    level: Level::Warning,
    waivable: true,
    page: include_str!("measured_another_way.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        crate::check::statements(procedure, whole, &mut |statement, _| {
            let StatementKind::Measure(measure) = &statement.kind else { return };
            let taken = measure.clauses.iter().find_map(|clause| match clause {
                Clause::Take(fold, span) => Some((*fold, *span)),
                _ => None,
            });
            let Some((taken, span)) = taken else { return };
            for reading in &measure.readings {
                let kind = reading.kind.as_ref().unwrap_or(&reading.name);
                let Some((means, defined)) = defined(facts, file, &kind.text) else { continue };
                if means != taken {
                    findings.push(
                        RULE.at(Place { file, span }, format!("`{}` is the {} of its readings, and here their {} is taken", kind.text, word(means), word(taken)))
                            .label(format!("not the {}", word(means)))
                            .related(defined, "defined here")
                            .why("The number has the right name and unit, but it is another value: with the mean of a run-out a bent disc passes.")
                            .help(format!("write `take {}`, or give what is taken here a quantity of its own", word(means))),
                    );
                }
            }
        });
    }
}

/// How a quantity is defined, by its own `means` or that of the quantity that it is one of.
fn defined(facts: &Facts, file: usize, name: &str) -> Option<(Fold, Place)> {
    let Thing::Quantity(quantity) = facts.thing(file, name)? else { return None };
    let quantity = facts.model.quantities.get(quantity)?;
    let source = facts.program.files.get(quantity.place.file)?;
    let declared = source.tree.declarations.iter().find_map(|declared| match &declared.kind {
        DeclarationKind::Quantity(known) if known.name.span == quantity.place.span => Some(known),
        _ => None,
    })?;
    let own = declared.lines.iter().find_map(|line| match &line.kind {
        LineKind::Means(fold, _) => Some((*fold, line.span)),
        _ => None,
    });
    match own {
        Some((fold, span)) => Some((fold, Place { file: quantity.place.file, span })),
        None if declared.kind.text != name => defined(facts, quantity.place.file, &declared.kind.text),
        None => None,
    }
}

fn word(fold: Fold) -> &'static str {
    crate::lower::fold(fold).word()
}
