//! Second units: every limit of a text in the units of the other system too, rounded inwards, and every single amount,
//! rounded to the nearest.

use crate::check::statements;
use crate::finding::{Edit, Place};
use crate::model::{Model, QuantityRef, ResolvedBand, Thing};
use crate::program::{Program, Sources};
use crate::resolve;
use dwell_quantity::{Band, Kind, Lookup, System, lookup, partner, second_unit, second_value};
use dwell_syntax::tree::{
    self, Ability, AccuracyPart, Amount, BandForm, Condition, DeclarationKind, Expr, Kept, LineKind,
    NeverSide, Operator, RowGroup, SpecLineKind, Statement, StatementKind, TestKind, To,
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
    let roots = program.files.iter().enumerate().filter(|(_, source)| source.root);
    let mut edits: Vec<Edit> = roots.flat_map(|(file, _)| of_file(&program, &model, file, wish)).collect();
    edits.sort_by_key(|edit: &Edit| edit.place);
    edits.dedup();
    (program, edits)
}

/// The same for one file of a program that was resolved before: the edits in the order of their places.
pub fn of_file(program: &Program, model: &Model, file: usize, wish: Wish) -> Vec<Edit> {
    let Some(source) = program.files.get(file) else { return Vec::new() };
    let mut edits = Vec::new();
    let mut printed = Printed { model, file, text: &source.text, wish, edits: &mut edits };
    for declared in &source.tree.declarations {
        printed.declaration(&declared.kind, declared.span);
    }
    edits.sort_by_key(|edit: &Edit| edit.place);
    edits.dedup();
    edits
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
            DeclarationKind::Table(table) => {
                self.keys(table);
                self.spec(&table.name, &table.lines, &table.groups);
            }
            DeclarationKind::Quantity(quantity) => {
                let kind = self.named(&quantity.name);
                for line in &quantity.lines {
                    if let (LineKind::Never(_, span), Some(kind)) = (&line.kind, kind) {
                        self.span(span, kind);
                    }
                }
            }
            DeclarationKind::Series(series) => {
                if let Some(kind) = self.named(&series.kind) {
                    self.span(&series.range, kind);
                    self.amount(&series.step, Some(kind), true);
                }
            }
            DeclarationKind::Tool(tool) => {
                for line in &tool.lines {
                    if let LineKind::Measures(ability) | LineKind::Sets(ability) = &line.kind {
                        self.ability(ability);
                    }
                }
            }
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

    /// A table's points and classes.
    fn keys(&mut self, table: &tree::Table) {
        let Some(by) = self.named(&table.by) else { return };
        for row in table.groups.iter().flat_map(|group| &group.rows) {
            self.span(&row.key, by);
        }
    }

    fn ability(&mut self, ability: &Ability) {
        let Some(kind) = self.named(&ability.kind) else { return };
        if let Some(range) = &ability.range {
            self.span(range, kind);
        }
        if let Some(amount) = &ability.resolution {
            self.amount(amount, Some(kind), true);
        }
        for part in &ability.accuracy {
            if let AccuracyPart::Fixed(amount) = part {
                self.amount(amount, Some(kind), true);
            }
        }
    }

    /// The kind of quantity that a name means in this file.
    fn named(&self, name: &tree::Name) -> Option<Kind> {
        match self.model.scopes.get(self.file)?.names.get(&name.text)? {
            Thing::Kind(kind) => Some(*kind),
            Thing::Quantity(quantity) => self.model.quantities.get(*quantity).map(|quantity| quantity.kind),
            _ => None,
        }
    }

    /// What is no limit but a range, a point, or a span that is never left: a single value is rounded to the nearest.
    fn span(&mut self, band: &tree::Band, kind: Kind) {
        match &band.form {
            BandForm::Bare(amount) => {
                let second = band.second.as_ref().map(|second| second.span);
                self.beside(amount, second, Some(kind), false);
            }
            _ => self.band(band, QuantityRef::Kind(kind)),
        }
    }

    /// A single amount.
    fn amount(&mut self, amount: &Amount, kind: Option<Kind>, difference: bool) {
        self.beside(amount, amount.second.as_ref().map(|second| second.span), kind, difference);
    }

    /// A single amount with the place of its second unit, where it has one. Without a kind its unit says of what it is.
    fn beside(&mut self, amount: &Amount, written: Option<tree::Span>, kind: Option<Kind>, difference: bool) {
        let Some(name) = &amount.unit else { return };
        let Lookup::Unit(unit) = lookup(&name.text) else { return };
        let Some(kind) = kind.or_else(|| unit.kinds().first().copied()) else { return };
        let value = resolve::alone(self.file, amount, kind, difference);
        // Nothing is nothing in every unit without a zero of its own.
        let value = value.filter(|value| !value.is_zero());
        let second = value.zip(self.wish.system).and_then(|(value, system)| {
            let (kind, unit) = if difference { (kind.difference(), unit.difference()) } else { (kind, unit) };
            let (unit, most) = partner(unit, kind, &Band::exactly(value.clone()), system)?;
            Some(second_value(&value, unit, kind, most))
        });
        self.write(written, amount.span.end, second);
    }

    /// The second unit written, written anew or taken away, as it is wished.
    fn write(&mut self, written: Option<tree::Span>, end: usize, second: Option<String>) {
        if written.is_some() && !self.wish.rewrite {
            return;
        }
        let edit = match (written, second) {
            (Some(span), Some(second)) => Some((span, second)),
            (Some(span), None) if self.wish.system.is_none() => {
                self.parentheses(span).map(|span| (span, String::new()))
            }
            (None, Some(second)) => Some((tree::Span { start: end, end }, format!(" ({second})"))),
            _ => None,
        };
        if let Some((span, replacement)) = edit {
            self.edits.push(Edit { place: Place { file: self.file, span }, replacement });
        }
    }

    /// The amounts of a formula that is more than one amount.
    fn formula(&mut self, formula: &Expr) {
        match formula {
            Expr::Amount(amount) => self.amount(amount, None, false),
            Expr::At(inner, _) | Expr::Fold(_, inner, _) | Expr::Share(_, inner) | Expr::Group(inner, _) => {
                self.formula(inner);
            }
            Expr::Binary(Operator::Plus | Operator::Minus, left, right) => {
                self.formula(left);
                self.formula(right);
            }
            // What multiplies or divides is a factor, which nobody reads off anything.
            Expr::Binary(..) | Expr::Function(..) | Expr::Name(_) | Expr::First(_) | Expr::TargetOf(_) => {}
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
            StatementKind::Read { expected: Some(band), .. } => self.by_unit(band),
            StatementKind::LetBand { band, .. } => {
                for (end, _) in band.low.iter().chain(&band.high) {
                    self.formula(end);
                }
                for (side, amount) in &band.never {
                    self.cap(amount, *side != NeverSide::Above);
                }
            }
            StatementKind::Let { value, .. } => self.formula(value),
            _ => {}
        }
    }

    /// `never above 18 lbf·in`: a limit, so it is rounded inwards.
    fn cap(&mut self, amount: &Amount, low: bool) {
        let Some(Lookup::Unit(unit)) = amount.unit.as_ref().map(|name| lookup(&name.text)) else { return };
        let Some(kind) = unit.kinds().first().copied() else { return };
        let value = resolve::alone(self.file, amount, kind, false);
        let second = value.zip(self.wish.system).and_then(|(value, system)| {
            let band = if low { Band::at_least(value) } else { Band::at_most(value) };
            let (unit, most) = partner(unit, kind, &band, system)?;
            let written = second_unit(&band, unit, kind, most);
            Some(written.trim_start_matches("at least ").trim_start_matches("at most ").to_owned())
        });
        self.write(amount.second.as_ref().map(|second| second.span), amount.span.end, second);
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
        if let Some(target) = &band.target {
            self.amount(target, Some(kind), false);
        }
        let written = band.second.as_ref().map(|second| second.span);
        let resolved = resolve::band(self.model, self.file, band, quantity, &mut Vec::new());
        let Some(resolved) = resolved else { return };
        let second = self.wish.system.and_then(|system| in_system(&resolved, kind, system));
        // Before the target, which has a second unit of its own.
        let end = band.form.amounts().last().map_or(band.span.end, |amount| amount.span.end);
        let end = if band.target.is_some() { end } else { band.span.end };
        self.write(written, end, second);
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
