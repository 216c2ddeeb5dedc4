//! What kind of quantity a number in a declaration is of, where the declaration says it.

use crate::facts::Facts;
use crate::finding::Place;
use crate::model::Thing;
use dwell_quantity::Kind;
use dwell_syntax::tree::{DeclarationKind, LineKind};

/// The kind that the declaration at a place gives its numbers.
pub(crate) fn declared_kind(facts: &Facts, place: Place) -> Option<Kind> {
    let file = facts.program.files.get(place.file)?;
    let declaration = file.tree.declarations.iter().find(|declaration| declaration.span.holds(place.span))?;
    let name = match &declaration.kind {
        DeclarationKind::Spec(spec) => &spec.kind,
        DeclarationKind::Series(series) => &series.kind,
        DeclarationKind::Table(table) => {
            let rows = table.groups.iter().flat_map(|group| &group.rows);
            let row = rows.into_iter().find(|row| row.span.holds(place.span))?;
            // A row begins with its point or class, and its band follows.
            let text = facts.text(Place { file: place.file, span: row.span });
            let colon = row.span.start + text.find(':')?;
            if place.span.start < colon { &table.by } else { &table.kind }
        }
        DeclarationKind::Tool(tool) => {
            let line = tool.lines.iter().find(|line| line.span.holds(place.span))?;
            match &line.kind {
                LineKind::Measures(ability) | LineKind::Sets(ability) => &ability.kind,
                _ => return None,
            }
        }
        _ => return None,
    };
    match facts.model.scopes.get(place.file)?.names.get(&name.text)? {
        Thing::Kind(kind) => Some(*kind),
        Thing::Quantity(quantity) => facts.model.quantities.get(*quantity).map(|quantity| quantity.kind),
        _ => None,
    }
}
