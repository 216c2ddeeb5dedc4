//! What kind of quantity a number in a declaration is of, where the declaration says it, and the limit that it stands in.

use crate::facts::Facts;
use crate::finding::Place;
use crate::model::Thing;
use dwell_quantity::Kind;
use dwell_syntax::tree::{Band, DeclarationKind, LineKind, SpecLine, SpecLineKind};

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

/// The limit of a spec or a table that holds a place.
pub(crate) fn declared_band<'a>(facts: &Facts<'a>, place: Place) -> Option<&'a Band> {
    let file = facts.program.files.get(place.file)?;
    let declaration = file.tree.declarations.iter().find(|declaration| declaration.span.holds(place.span))?;
    let holds = |band: &&Band| band.span.holds(place.span);
    let of_lines = |lines: &'a [SpecLine]| lines.iter().flat_map(|line| bands(&line.kind)).find(holds);
    match &declaration.kind {
        DeclarationKind::Spec(spec) => of_lines(&spec.lines),
        DeclarationKind::Table(table) => {
            let rows = table.groups.iter().flat_map(|group| &group.rows);
            rows.map(|row| &row.band).find(holds).or_else(|| of_lines(&table.lines))
        }
        _ => None,
    }
}

/// The limits of a line.
fn bands(line: &SpecLineKind) -> Vec<&Band> {
    match line {
        SpecLineKind::Check(band, _) | SpecLineKind::Adjust(band, _) => vec![band],
        SpecLineKind::Stages(stages) => {
            stages.iter().filter(|(turn, _)| !turn).map(|(_, band)| band).collect()
        }
        _ => Vec::new(),
    }
}
