//! Second units: every limit of a text in the units of the other system too, rounded inwards.

use crate::check::statements;
use crate::finding::{Edit, Place};
use crate::model::{Model, QuantityRef, ResolvedBand, Thing};
use crate::program::{Program, Sources};
use crate::resolve;
use dwell_quantity::{Kind, Lookup, System, lookup, partner, second_unit};
use dwell_syntax::tree::{
    self, Condition, DeclarationKind, Kept, RowGroup, SpecLineKind, Statement, StatementKind, TestKind, To,
};

/// What is to be done with the second units of a text.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Wish {
    /// The system to print beside; none to print no second unit.
    pub system: Option<System>,
    /// Whether second units that are there are written anew, or taken away; otherwise they stay as they are.
    pub rewrite: bool,
}

/// The edits that do it in these files, each with its file in the program. A limit that cannot be read, one whose unit
/// belongs to neither system, and one whose second unit would say less than it (a count) are left alone.
pub fn second_units(roots: &[String], sources: &dyn Sources, wish: Wish) -> (Program, Vec<Edit>) {
    let mut troubles = Vec::new();
    let program = Program::load(roots, sources, &mut troubles);
    let model = resolve::resolve(&program, &mut troubles);
    let mut edits = Vec::new();
    for (file, source) in program.files.iter().enumerate().filter(|(_, source)| source.root) {
        let mut printed = Printed { model: &model, file, text: &source.text, wish, edits: &mut edits };
        for declared in &source.tree.declarations {
            printed.declaration(&declared.kind, declared.span);
        }
    }
    edits.sort_by_key(|edit: &Edit| edit.place);
    edits.dedup();
    (program, edits)
}

/// The limits of one file.
struct Printed<'a> {
    model: &'a Model,
    file: usize,
    text: &'a str,
    wish: Wish,
    edits: &'a mut Vec<Edit>,
}

impl Printed<'_> {
    fn declaration(&mut self, declared: &DeclarationKind, span: tree::Span) {
        match declared {
            DeclarationKind::Spec(spec) => self.spec(&spec.name, &spec.lines, &[]),
            DeclarationKind::Table(table) => self.spec(&table.name, &table.lines, &table.groups),
            DeclarationKind::Procedure(procedure) => {
                let mut all = Vec::new();
                statements(procedure, span, &mut |statement, _| all.push(statement));
                for statement in all {
                    self.statement(statement);
                }
            }
            _ => {}
        }
    }

    fn spec(&mut self, name: &tree::Name, lines: &[tree::SpecLine], groups: &[RowGroup]) {
        let thing = self.model.scopes.get(self.file).and_then(|scope| scope.names.get(&name.text));
        let Some(Thing::Spec(spec) | Thing::Table(spec)) = thing else { return };
        let Some(quantity) = self.model.specs.get(*spec).map(|spec| spec.quantity) else { return };
        for line in lines {
            match &line.kind {
                SpecLineKind::Check(band, _) | SpecLineKind::Adjust(band, _) => self.band(band, quantity),
                SpecLineKind::Stages(stages) => {
                    for (_, band) in stages.iter().filter(|(turn, _)| !turn) {
                        self.band(band, quantity);
                    }
                }
                _ => {}
            }
        }
        for row in groups.iter().flat_map(|group| &group.rows) {
            self.band(&row.band, quantity);
        }
    }

    fn statement(&mut self, statement: &Statement) {
        match &statement.kind {
            StatementKind::Expect { condition, .. } => self.condition(condition),
            StatementKind::If { arms, .. } => {
                for (condition, _) in arms {
                    self.condition(condition);
                }
            }
            StatementKind::Handle(handle) => {
                if let Some(To::Band(band)) = &handle.to {
                    self.by_unit(band);
                }
            }
            StatementKind::Keep(keep) => {
                if let Kept::Quantity(_, band) = &keep.what {
                    self.by_unit(band);
                }
            }
            _ => {}
        }
    }

    fn condition(&mut self, condition: &Condition) {
        for test in &condition.tests {
            if let TestKind::Band { band, .. } = &test.kind {
                self.by_unit(band);
            }
        }
    }

    /// A limit that stands where it is used: its unit says of what.
    fn by_unit(&mut self, band: &tree::Band) {
        let name = band.form.amounts().into_iter().find_map(|amount| amount.unit.as_ref());
        let Some(Lookup::Unit(unit)) = name.map(|name| lookup(&name.text)) else { return };
        let Some(kind) = unit.kinds().first() else { return };
        self.band(band, QuantityRef::Kind(*kind));
    }

    fn band(&mut self, band: &tree::Band, quantity: QuantityRef) {
        let Some(kind) = self.model.kind(quantity) else { return };
        let written = band.second.as_ref().map(|second| second.span);
        if written.is_some() && !self.wish.rewrite {
            return;
        }
        let resolved = resolve::band(self.model, self.file, band, quantity, &mut Vec::new());
        let Some(resolved) = resolved else { return };
        let second = self.wish.system.and_then(|system| in_system(&resolved, kind, system));
        let edit = match (written, second) {
            (Some(span), Some(second)) => Some((span, second)),
            (Some(span), None) if self.wish.system.is_none() => {
                self.parentheses(span).map(|span| (span, String::new()))
            }
            (None, Some(second)) => {
                let end = band.span.end;
                Some((tree::Span { start: end, end }, format!(" ({second})")))
            }
            _ => None,
        };
        if let Some((span, replacement)) = edit {
            self.edits.push(Edit { place: Place { file: self.file, span }, replacement });
        }
    }

    /// What stands between parentheses, with them and with the blanks before.
    fn parentheses(&self, span: tree::Span) -> Option<tree::Span> {
        let before = self.text.get(..span.start)?.trim_end().strip_suffix('(')?.trim_end();
        let after = self.text.get(span.end..)?;
        let end = span.end + after.find(')')? + 1;
        Some(tree::Span { start: before.len(), end })
    }
}

/// A limit in the units of the system; none where it has no unit there.
fn in_system(limit: &ResolvedBand, kind: Kind, system: System) -> Option<String> {
    let (unit, decimals) = partner(limit.unit, kind, &limit.band, system)?;
    let second = second_unit(&limit.band, unit, kind, decimals);
    // A band that its digits cannot show is better not shown.
    (!second.starts_with("exactly") && !second.contains(" and ")).then_some(second)
}
