//! Breaks of tables: rows that are lost, doubled, misprinted or in the wrong place.

use dwell_syntax::tree::{BandForm, DeclarationKind, Row, Table};

use super::Mutator;
use crate::mutation::broken::{Broken, Near};
use crate::mutation::ground::{Ground, Source, amounts, value};

pub(super) const ALL: &[(&str, Mutator)] = &[("table-shape", table_shape), ("table-gap", table_gap)];

fn tables(ground: &Ground) -> Vec<(&Source, &Table)> {
    let all = ground
        .sources
        .iter()
        .flat_map(|source| source.tree.declarations.iter().map(move |declaration| (source, declaration)));
    all.filter_map(|(source, declaration)| match &declaration.kind {
        DeclarationKind::Table(table) => Some((source, table)),
        _ => None,
    })
    .collect()
}

/// Whether a row stands for one value, not for a class of values.
fn single(row: &Row) -> bool {
    matches!(row.key.form, BandForm::Bare(_) | BandForm::Exactly(_))
}

/// Two rows change places, a row stands twice, a first number has a digit too many.
fn table_shape(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, table) in tables(ground) {
        for group in &table.groups {
            let rows: Vec<&Row> = group.rows.iter().filter(|row| single(row)).collect();
            for row in &rows {
                let copy = format!("\n        {}", source.of(row.span));
                all.push(source.broken("a row stands twice").put(row.span.end, copy));
            }
            // Of two rows there is no run that one of them could break.
            for pair in rows.windows(2).filter(|_| rows.len() > 2) {
                let [one, other] = pair else { continue };
                let broken = source.broken("two keys have changed places");
                let (first, second) = (source.of(one.key.span), source.of(other.key.span));
                all.push(broken.swap(one.key.span, second).swap(other.key.span, first));
            }
            for row in rows.iter().filter(|_| rows.len() > 2) {
                let numbers = amounts(&row.band);
                if numbers.iter().any(|amount| value(amount).is_none_or(|number| number <= 0.0)) {
                    continue;
                }
                let mut broken = source.broken("a digit too many in a row");
                for amount in numbers {
                    broken = broken.put(amount.number.span.start, "9");
                }
                all.push(broken);
            }
        }
    }
    all
}

/// A class of values is narrower or wider than it was, or a row for one value stands in a class.
fn table_gap(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for (source, table) in tables(ground) {
        for group in &table.groups {
            let (Some(first), Some(last)) = (group.rows.first(), group.rows.last()) else { continue };
            let Some(key) = amounts(&last.key).first().copied() else { continue };
            let (Some(number), Some(unit)) = (value(key), key.unit.as_ref()) else { continue };
            let band = source.of(last.band.span);
            // Two classes at the end that leave something between them, or share something.
            for (from, to, again, what) in [
                (10.0, 30.0, 35.0, "leave a gap"),
                (10.0, 30.0, 25.0, "overlap"),
                (5.0, 15.0, 16.0, "leave a gap"),
                (5.0, 15.0, 12.0, "overlap"),
            ] {
                let unit = &unit.text;
                let rows = format!(
                    "\n        at {} .. {} {unit}: {band}\n        at {} .. {} {unit}: {band}",
                    number + from,
                    number + to,
                    number + again,
                    number + again + 20.0
                );
                all.push(
                    source
                        .broken(format!("two classes {what}"))
                        .put(last.span.end, rows)
                        .near(Near::Declaration),
                );
            }
            if !single(first) {
                let copy = format!("\n    {}", source.of(first.span));
                all.push(
                    source.broken("a class stands twice").put(first.span.end, copy).near(Near::Declaration),
                );
            }
        }
    }
    all
}
