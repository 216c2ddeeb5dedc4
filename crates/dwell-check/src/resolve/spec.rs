//! Specs: the kind of their bands, what to check against and what to set to.

use dwell_quantity::Kind;
use dwell_syntax::tree::{Band, DeclarationKind, SpecLine, SpecLineKind};

use super::Site;
use super::compare::adjust_inside_check;
use super::known::quantity;
use super::quantity::{hide, leads_somewhere};
use crate::finding::Place;
use crate::model::{Model, QuantityRef, Spec, SpecBand, SpecStage, Thing, Withdrawn};
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
        adjust_inside_check(model, &spec, troubles);
        if !(spec.stages.is_empty() || spec.check.is_empty() && spec.adjust.is_empty()) {
            troubles.push(Trouble::NotExecutable {
                place: spec.place,
                what: format!("the spec `{}` has stages and a band beside them", spec.name),
                help: "make two specs of it: one with the stages, one with the band".to_owned(),
            });
        }
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
            SpecLineKind::Waive { .. } => {}
            SpecLineKind::Source(text) => spec.source = Some(text.text.clone()),
            SpecLineKind::Condition(text) => spec.condition = Some(text.text.clone()),
            SpecLineKind::Stages(stages) => staged(model, place, stages, spec, troubles),
            SpecLineKind::Signed(persons) => spec.signed = Some((*persons, place)),
            SpecLineKind::Withdrawn(date, why) => {
                spec.withdrawn = Some(Withdrawn { on: date.text.clone(), why: why.text.clone(), place });
            }
        }
    }
}

/// Fills in the stages of a tightening; none where one of them is no band.
fn staged(
    model: &Model,
    place: Place,
    stages: &[(bool, Band)],
    spec: &mut Spec,
    troubles: &mut Vec<Trouble>,
) {
    if spec.kind != Kind::TORQUE {
        return troubles.push(Trouble::KindMismatch {
            place,
            other: Some(spec.place),
            first: format!("`{}` ({})", spec.name, spec.kind),
            second: "a tightening in stages (torque)".to_owned(),
            why: spec.kind.why_not(Kind::TORQUE).map(str::to_owned),
        });
    }
    if !spec.stages.is_empty() {
        return troubles.push(Trouble::NotExecutable {
            place,
            what: format!("the stages of `{}` are said twice", spec.name),
            help: "write all stages in one line, with `then` between them".to_owned(),
        });
    }
    let resolved = stages.iter().map(|(turn, band)| {
        let (kind, quantity) = match turn {
            true => (Kind::TURN_ANGLE, QuantityRef::Kind(Kind::TURN_ANGLE)),
            false => (Kind::TORQUE, spec.quantity),
        };
        let limit = super::band(model, place.file, band, quantity, troubles)?;
        Some(SpecStage { kind, limit })
    });
    let resolved: Vec<Option<SpecStage>> = resolved.collect();
    spec.stages = resolved.into_iter().collect::<Option<Vec<_>>>().unwrap_or_default();
}
