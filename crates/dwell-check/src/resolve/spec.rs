//! Specs: the kind of their bands, what to check against and what to set to.

use dwell_quantity::Kind;
use dwell_syntax::tree::{DeclarationKind, SpecLine, SpecLineKind};

use super::Site;
use super::compare::adjust_inside_check;
use super::known::quantity;
use super::quantity::{hide, leads_somewhere};
use crate::finding::Place;
use crate::model::{Model, QuantityRef, Spec, SpecBand, Thing, Withdrawn};
use crate::trouble::Trouble;

/// Looks up what each spec, table and series is of. One whose kind is not known keeps its name but leads nowhere.
pub(super) fn kinds(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (name, nowhere) = match site.kind {
            DeclarationKind::Spec(node) => (&node.kind, Thing::Spec(usize::MAX)),
            DeclarationKind::Table(node) => (&node.kind, Thing::Table(usize::MAX)),
            DeclarationKind::Series(node) => (&node.kind, Thing::Series(usize::MAX)),
            _ => continue,
        };
        let quantity = quantity(model, site.file, name, troubles);
        let known = quantity.and_then(|quantity| Some((quantity, model.kind(quantity)?)));
        match (known, site.thing) {
            (Some((quantity, kind)), Thing::Spec(place) | Thing::Table(place)) => {
                if let Some(spec) = model.specs.get_mut(place) {
                    spec.quantity = quantity;
                    spec.kind = kind;
                }
            }
            (Some((quantity, _)), Thing::Series(place)) => {
                if let Some(series) = model.series.get_mut(place) {
                    series.quantity = quantity;
                }
            }
            _ => hide(model, site.thing, nowhere),
        }
    }
}

/// Fills in the bands of every spec.
pub(super) fn bands(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Spec(node), Thing::Spec(place)) = (site.kind, site.thing) else { continue };
        if !leads_somewhere(model, site.file, &node.name) {
            continue;
        }
        let Some(mut spec) = model.specs.get(place).cloned() else { continue };
        lines(model, site.file, &node.lines, &mut spec, troubles);
        let needless =
            |line: &SpecLine| matches!(line.kind, SpecLineKind::Check(..) | SpecLineKind::Stages(_));
        if !node.lines.iter().any(needless) {
            troubles.push(Trouble::NotExecutable {
                place: spec.place,
                what: format!("the spec `{}` does not say what to check against", spec.name),
                help: "add the band: `check …`".to_owned(),
            });
        }
        adjust_inside_check(&spec, troubles);
        if let Some(known) = model.specs.get_mut(place) {
            *known = spec;
        }
    }
}

/// Reads the lines that specs and tables share.
pub(super) fn lines(
    model: &Model,
    file: usize,
    lines: &[SpecLine],
    spec: &mut Spec,
    troubles: &mut Vec<Trouble>,
) {
    for line in lines {
        let place = Place { file, span: line.span };
        match &line.kind {
            SpecLineKind::Check(band, when) => {
                let when = super::when(model, file, when, troubles);
                if let Some(limit) = super::band(model, file, band, spec.quantity, troubles) {
                    spec.check.push(SpecBand { when, limit });
                }
            }
            SpecLineKind::Adjust(band, when) => {
                let when = super::when(model, file, when, troubles);
                if let Some(limit) = super::band(model, file, band, spec.quantity, troubles) {
                    spec.adjust.push(SpecBand { when, limit });
                }
            }
            SpecLineKind::NotAdjustable => spec.not_adjustable = Some(place),
            SpecLineKind::Source(text) => spec.source = Some(text.text.clone()),
            SpecLineKind::Condition(text) => spec.condition = Some(text.text.clone()),
            SpecLineKind::Stages(stages) => {
                for (turn, band) in stages {
                    let kind = if *turn { QuantityRef::Kind(Kind::TURN_ANGLE) } else { spec.quantity };
                    super::band(model, file, band, kind, troubles);
                }
                troubles.push(Trouble::NotExecutable {
                    place,
                    what: "a tightening in stages cannot be executed yet".to_owned(),
                    help: "write one spec for each stage and one `tighten` or `do` for each".to_owned(),
                });
            }
            SpecLineKind::Withdrawn(date, why) => {
                spec.withdrawn = Some(Withdrawn { on: date.text.clone(), why: why.text.clone(), place });
            }
        }
    }
}
