//! Readings that a procedure takes and then leaves alone: not judged, not computed with, not shown.

use crate::check::statements;
use crate::finding::Place;
use crate::model::Model;
use crate::program::Program;
use crate::trouble::Trouble;
use dwell_syntax::tree::{
    BandForm, Clause, Condition, DeclarationKind, Expr, Handle, Name, Statement, StatementKind, TestKind, To,
};
use std::collections::{BTreeMap, HashSet};

/// Tells of every reading of every procedure of the checked files that nothing comes of.
pub(crate) fn unused(program: &Program, model: &Model, troubles: &mut Vec<Trouble>) {
    for head in &model.procedures {
        let Some(source) = program.files.get(head.place.file).filter(|source| source.root) else { continue };
        let Some(declared) = source.tree.declarations.get(head.declaration) else { continue };
        let DeclarationKind::Procedure(procedure) = &declared.kind else { continue };
        let text = source.text.get(declared.span.start..declared.span.end).unwrap_or_default();
        let mut taken = Taken::default();
        statements(procedure, declared.span, &mut |statement, _| taken.look(statement));
        for (name, computed) in taken.left_alone(text) {
            let place = Place { file: head.place.file, span: name.span };
            troubles.push(Trouble::ReadingUnused { place, name: name.text.clone(), computed });
        }
    }
}

/// The readings of a procedure and what is done with them.
#[derive(Default)]
struct Taken<'a> {
    /// Each reading where it is first taken, and whether it is computed.
    readings: BTreeMap<&'a str, (&'a Name, bool)>,
    /// Names that something is decided by.
    used: HashSet<&'a str>,
    /// Names that formulas are made of.
    in_formulas: HashSet<&'a str>,
}

impl<'a> Taken<'a> {
    fn look(&mut self, statement: &'a Statement) {
        match &statement.kind {
            StatementKind::Measure(measure) => {
                for new in measure.readings.iter().filter(|_| !measure.again) {
                    self.readings.entry(&new.name.text).or_insert((&new.name, false));
                }
                for clause in &measure.clauses {
                    if let Clause::Until(condition) = clause {
                        self.condition(condition);
                    }
                }
            }
            StatementKind::Read { name, .. } => {
                self.readings.entry(&name.text).or_insert((name, false));
            }
            StatementKind::Let { name, value, .. } => {
                self.readings.entry(&name.text).or_insert((name, true));
                names(value, &mut self.in_formulas);
            }
            StatementKind::LetBand { name, band, .. } => {
                self.readings.entry(&name.text).or_insert((name, true));
                for (end, _) in [&band.low, &band.high].into_iter().flatten() {
                    names(end, &mut self.in_formulas);
                }
            }
            StatementKind::Expect { condition, .. } => self.condition(condition),
            StatementKind::Adjust { what, .. } => {
                self.used.extend(
                    what.iter().flat_map(|(reading, spec)| [reading, spec]).map(|name| name.text.as_str()),
                );
            }
            StatementKind::If { arms, .. } => {
                for (condition, _) in arms {
                    self.condition(condition);
                }
            }
            StatementKind::ForEach { condition: Some(condition), .. } => self.condition(condition),
            StatementKind::Handle(Handle { to: Some(To::Name(name)), .. }) => {
                self.used.insert(&name.text);
            }
            StatementKind::Choose { nearest, .. } => names(nearest, &mut self.used),
            _ => {}
        }
    }

    fn condition(&mut self, condition: &'a Condition) {
        for test in &condition.tests {
            match &test.kind {
                TestKind::Meets { what, at, spec, .. } => {
                    names(what, &mut self.used);
                    self.used.insert(&spec.text);
                    if let Some(at) = at {
                        names(at, &mut self.used);
                    }
                }
                TestKind::Band { what, band } => {
                    names(what, &mut self.used);
                    if let BandForm::AtLeast(end)
                    | BandForm::AtMost(end)
                    | BandForm::Above(end)
                    | BandForm::Below(end) = &band.form
                    {
                        names(end, &mut self.used);
                    }
                }
                TestKind::Is { name, .. } => {
                    self.used.insert(&name.text);
                }
            }
        }
    }

    /// Those that nothing comes of. What only goes into a formula that is not used itself is told with that formula.
    fn left_alone(&self, text: &str) -> Vec<(&'a Name, bool)> {
        let shown = |name: &str| text.contains(&format!("{{{name}}}"));
        let all = self.readings.iter();
        all.filter(|(name, _)| {
            !self.used.contains(*name) && !self.in_formulas.contains(*name) && !shown(name)
        })
        .map(|(_, known)| *known)
        .collect()
    }
}

/// The names that a formula is made of.
fn names<'a>(formula: &'a Expr, out: &mut HashSet<&'a str>) {
    match formula {
        Expr::Name(name) | Expr::First(name) | Expr::TargetOf(name) => {
            out.insert(&name.text);
        }
        Expr::At(inner, _)
        | Expr::Fold(_, inner, _)
        | Expr::Function(_, inner, _)
        | Expr::Share(_, inner)
        | Expr::Group(inner, _) => {
            names(inner, out);
        }
        Expr::Binary(_, left, right) => {
            names(left, out);
            names(right, out);
        }
        Expr::Amount(_) => {}
    }
}
