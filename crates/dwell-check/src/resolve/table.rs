//! Tables (bands by another reading) and series (sizes that parts come in).

use dwell_quantity::Exact;
use dwell_syntax::tree::{self, DeclarationKind};

use super::Site;
use super::band::lone_or_band;
use super::known::quantity;
use super::quantity::leads_somewhere;
use super::spec::lines;
use crate::finding::Place;
use crate::model::{Model, QuantityRef, ResolvedBand, Rows, Thing};
use crate::trouble::Trouble;

/// Fills in the rows of every table.
pub(super) fn rows(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Table(node), Thing::Table(place)) = (site.kind, site.thing) else { continue };
        if !leads_somewhere(model, site.file, &node.name) {
            continue;
        }
        let Some(mut spec) = model.specs.get(place).cloned() else { continue };
        lines(model, site.file, &node.lines, &mut spec, troubles);
        if !std::mem::take(&mut spec.stages).is_empty() {
            troubles.push(Trouble::NotExecutable {
                place: spec.place,
                what: format!("the table `{}` has stages", spec.name),
                help: "a tightening in stages is a `spec`".to_owned(),
            });
        }
        rules_stand_there(site.file, node, troubles);
        let by = quantity(model, site.file, &node.by, troubles);
        if let Some((by, by_kind)) = by.and_then(|by| Some((by, model.kind(by)?))) {
            let mut groups = Vec::new();
            for group in &node.groups {
                let when = super::when(model, site.file, &group.when, troubles);
                let rows = group.rows.iter();
                let rows = rows.filter_map(|row| one(model, site.file, row, by, spec.quantity, troubles));
                groups.push((when, rows.collect()));
            }
            let linear = node.between_linear == Some(true);
            if linear {
                points_only(site.file, node, troubles);
            }
            spec.rows = Some(Rows { by, by_kind, groups, linear });
        }
        if let Some(known) = model.specs.get_mut(place) {
            *known = spec;
        }
    }
}

/// Fills in the range and step of every series.
pub(super) fn series(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Series(node), Thing::Series(place)) = (site.kind, site.thing) else { continue };
        if !leads_somewhere(model, site.file, &node.name) {
            continue;
        }
        let Some(known) = model.series.get(place) else { continue };
        let quantity = known.quantity;
        let range = super::band(model, site.file, &node.range, quantity, troubles);
        let kind = model.kind(quantity);
        let step = kind.and_then(|kind| super::amount(site.file, &node.step, kind, "a step", true, troubles));
        if step.as_ref().is_some_and(|step| *step <= Exact::zero()) {
            troubles.push(Trouble::BadNumber {
                place: Place { file: site.file, span: node.step.span },
                why: "the step from one size to the next must be above zero".to_owned(),
            });
        }
        if let (Some(range), Some(step), Some(known)) = (range, step, model.series.get_mut(place)) {
            known.range = range;
            known.step = step;
        }
    }
}

/// Key and band of a row.
fn one(
    model: &Model,
    file: usize,
    row: &tree::Row,
    by: QuantityRef,
    quantity: QuantityRef,
    troubles: &mut Vec<Trouble>,
) -> Option<(ResolvedBand, ResolvedBand)> {
    let label = model.quantity_name(by);
    let key = lone_or_band(model, file, &row.key, by, label, troubles);
    let band = super::band(model, file, &row.band, quantity, troubles);
    Some((key?, band?))
}

/// What holds between the rows and outside them must be said: a value that is made up is worse than none.
fn rules_stand_there(file: usize, node: &tree::Table, troubles: &mut Vec<Trouble>) {
    let place = Place { file, span: node.name.span };
    let mut missing = |what: &str, help: &str| {
        let what = format!("the table `{}` does not say what holds {what}", node.name.text);
        troubles.push(Trouble::NotExecutable { place, what, help: help.to_owned() });
    };
    if node.between_linear.is_none() {
        missing("between its rows", "add `between rows linear` or `between rows refuse`");
    }
    if !node.outside_refuse {
        missing("outside its rows", "add `outside rows refuse`");
    }
    if node.groups.iter().all(|group| group.rows.is_empty()) {
        let what = format!("the table `{}` has no rows", node.name.text);
        let help = "write a row: `at 20 °C: 13.8 .. 14.7 V`".to_owned();
        troubles.push(Trouble::NotExecutable { place, what, help });
    }
}

/// Between points there is a straight line; between classes there is none.
fn points_only(file: usize, node: &tree::Table, troubles: &mut Vec<Trouble>) {
    let rows = node.groups.iter().flat_map(|group| &group.rows);
    if let Some(class) = rows.map(|row| &row.key).find(|key| !matches!(key.form, tree::BandForm::Bare(_))) {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: class.span },
            what: "there is no straight line between a point and a class of values".to_owned(),
            help: "make it a point, or write `between rows refuse`".to_owned(),
        });
    }
}
