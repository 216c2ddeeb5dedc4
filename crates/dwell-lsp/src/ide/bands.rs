//! The bands that are written in a file, each with what it limits.

use super::blocks;
use super::view::View;
use dwell_check::finding::Place;
use dwell_check::model::{QuantityRef, ResolvedBand, Thing};
use dwell_check::resolve;
use dwell_quantity::{Kind, Lookup, lookup};
use dwell_syntax::tree::{self, DeclarationKind, Kept, Span, StatementKind, TestKind, To};

/// A band that stands in the file.
#[derive(Clone, Debug)]
pub(crate) struct Written {
    /// Where.
    pub(crate) span: Span,
    /// What it means.
    pub(crate) limit: ResolvedBand,
    /// The kind of what it limits.
    pub(crate) kind: Kind,
    /// The spec or table that it is a line of, by its place in the model.
    pub(crate) spec: Option<usize>,
}

/// The band that a byte stands in.
pub(crate) fn at(view: &View, at: usize) -> Option<Written> {
    let touches = |span: Span| span.start <= at && at <= span.end;
    of_specs(view).into_iter().chain(of_statements(view, at)).find(|written| touches(written.span))
}

/// The bands of the specs and tables of this file.
fn of_specs(view: &View) -> Vec<Written> {
    let mut all = Vec::new();
    for (place, spec) in view.checked.model.specs.iter().enumerate() {
        if spec.place.file != view.file() {
            continue;
        }
        let bands = spec.check.iter().chain(&spec.adjust).map(|band| (&band.limit, spec.kind));
        let stages = spec.stages.iter().map(|stage| (&stage.limit, stage.kind));
        let rows = spec.rows.iter().flat_map(|rows| &rows.groups).flat_map(|(_, rows)| rows);
        let rows = rows.map(|(_, limit)| (limit, spec.kind));
        all.extend(bands.chain(stages).chain(rows).map(|(limit, kind)| Written {
            span: limit.place.span,
            limit: limit.clone(),
            kind,
            spec: Some(place),
        }));
    }
    all
}

/// The bands that stand where they are used, in the procedure at a byte: their unit says of what they are.
fn of_statements(view: &View, at: usize) -> Vec<Written> {
    let Some(procedure) = blocks::procedure(view, at) else { return Vec::new() };
    let mut bands: Vec<&tree::Band> = Vec::new();
    for statement in blocks::statements(procedure) {
        match &statement.kind {
            StatementKind::Expect { condition, .. } => bands.extend(tests(condition)),
            StatementKind::If { arms, .. } => {
                bands.extend(arms.iter().flat_map(|(condition, _)| tests(condition)));
            }
            StatementKind::Handle(handle) => {
                if let Some(To::Band(band)) = &handle.to {
                    bands.push(band);
                }
            }
            StatementKind::Keep(keep) => {
                if let Kept::Quantity(_, band) = &keep.what {
                    bands.push(band);
                }
            }
            StatementKind::Read { expected: Some(band), .. } => bands.push(band),
            _ => {}
        }
    }
    bands.into_iter().filter_map(|band| by_unit(view, band)).collect()
}

fn tests(condition: &tree::Condition) -> impl Iterator<Item = &tree::Band> {
    condition.tests.iter().filter_map(|test| match &test.kind {
        TestKind::Band { band, .. } => Some(band),
        _ => None,
    })
}

fn by_unit(view: &View, band: &tree::Band) -> Option<Written> {
    let name = band.form.amounts().into_iter().find_map(|amount| amount.unit.as_ref())?;
    let Lookup::Unit(unit) = lookup(&name.text) else { return None };
    let kind = unit.kinds().first().copied()?;
    let model = &view.checked.model;
    let limit = resolve::band(model, view.file(), band, QuantityRef::Kind(kind), &mut Vec::new())?;
    Some(Written { span: band.span, limit, kind, spec: None })
}

/// The thing that a name of this file means.
pub(crate) fn thing(view: &View, name: &str) -> Option<Thing> {
    view.checked.model.scopes.get(view.file())?.names.get(name).copied()
}

/// The name of a declaration that begins at a place of some file, and its first byte.
pub(crate) fn declaration_at(view: &View, place: Place) -> Option<(usize, &DeclarationKind)> {
    let declared = &view.other(place.file)?.tree.declarations;
    let found = declared.iter().find(|declared| declared.span.holds(place.span))?;
    Some((found.span.start, &found.kind))
}
