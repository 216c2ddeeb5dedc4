//! Tools: what they measure and set, how fine and how exactly.

use dwell_quantity::{Band, Decimal, Exact, Kind, Unit, from_base_difference};
use dwell_syntax::tree::{self, AccuracyPart, DeclarationKind, LineKind};

use super::Site;
use super::amount::Wanted;
use super::band::lone_or_band;
use super::known::quantity;
use super::line::needed;
use crate::finding::Place;
use crate::model::{Abilities, Ability, Model, QuantityRef, StateRef, Thing, When};
use crate::trouble::Trouble;

/// The most decimals that a tool is taken to show.
const MOST_DECIMALS: u32 = 6;

/// Fills in what every tool can do.
pub(super) fn abilities(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Tool(node), Thing::Tool(place)) = (site.kind, site.thing) else { continue };
        let mut abilities = Abilities::default();
        for line in &node.lines {
            match &line.kind {
                LineKind::Measures(ability) => {
                    abilities.measures.extend(one(model, site.file, ability, line, troubles));
                }
                LineKind::Sets(ability) => {
                    abilities.sets.extend(one(model, site.file, ability, line, troubles));
                }
                LineKind::Impedance(band) => {
                    let kind = QuantityRef::Kind(Kind::RESISTANCE);
                    let known = super::band(model, site.file, band, kind, troubles);
                    abilities.impedance = known.map(|known| known.written);
                }
                LineKind::Reaches(amount) => {
                    abilities.reaches = reach(site.file, amount, troubles);
                }
                LineKind::Extends { by, at } => {
                    abilities.extends = extension(site.file, by, at.as_ref(), troubles);
                }
                LineKind::Calibrated(months) => abilities.calibrated_months = Some(months.value),
                _ => {}
            }
        }
        if let Some(item) = model.items.get_mut(place) {
            item.tool = Some(abilities);
        }
    }
}

fn one(
    model: &Model,
    file: usize,
    node: &tree::Ability,
    line: &tree::Line,
    troubles: &mut Vec<Trouble>,
) -> Option<Ability> {
    let quantity = quantity(model, file, &node.kind, troubles)?;
    let kind = model.kind(quantity)?;
    let label = model.quantity_name(quantity);
    let range = match &node.range {
        None => None,
        Some(range) => Some(lone_or_band(model, file, range, quantity, label, troubles)?),
    };
    let unit = range.as_ref().map_or(kind.usual_unit(), |range| range.unit);
    let wanted = Wanted { file, kind, label, declared: None };
    let resolution = match &node.resolution {
        None => None,
        Some(amount) => Some(step(&wanted, amount, unit, troubles)?),
    };
    let accuracy = accuracy(&wanted, &node.accuracy, unit, resolution.as_ref(), troubles)?;
    let decimals = match &resolution {
        Some(step) => from_base_difference(step, unit).decimals_needed().unwrap_or(MOST_DECIMALS / 2),
        None => range.as_ref().map_or(0, |range| range.decimals),
    };
    Some(Ability {
        quantity,
        kind,
        written: range.as_ref().map(|range| range.written.clone()).unwrap_or_default(),
        range: range.map_or_else(Band::all, |range| range.band),
        unit,
        resolution,
        accuracy: accuracy.fixed,
        accuracy_of_reading: accuracy.of_reading,
        decimals: decimals.min(MOST_DECIMALS),
        needs: needs(model, file, node, line, troubles),
        place: Place { file, span: line.span },
    })
}

/// How far it is from the square drive of a wrench to the hand; more than nothing.
fn reach(file: usize, amount: &tree::Amount, troubles: &mut Vec<Trouble>) -> Option<Exact> {
    let reach = super::amount(file, amount, Kind::LENGTH, "how far a wrench reaches", true, troubles)?;
    if reach.is_zero() || reach.is_negative() {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: amount.span },
            what: "a wrench that reaches nowhere".to_owned(),
            help: "write the length from the square drive to the middle of the grip: `reaches 350 mm`"
                .to_owned(),
        });
        return None;
    }
    Some(reach)
}

/// How far an adapter takes the fastener away from the square drive, and at which angle to the wrench; straight on without.
fn extension(
    file: usize,
    by: &tree::Amount,
    at: Option<&tree::Amount>,
    troubles: &mut Vec<Trouble>,
) -> Option<(Exact, Exact)> {
    let by = super::amount(file, by, Kind::LENGTH, "how far an adapter extends", true, troubles)?;
    let at = match at {
        None => Exact::zero(),
        Some(at) => super::amount(file, at, Kind::ANGLE, "the angle of an adapter", true, troubles)?,
    };
    Some((by, at))
}

/// What must hold while the tool measures or is set: how its own switch stands, above all.
fn needs(
    model: &Model,
    file: usize,
    node: &tree::Ability,
    line: &tree::Line,
    troubles: &mut Vec<Trouble>,
) -> Vec<(StateRef, Vec<When>, Place)> {
    if let (Some(when), true) = (line.when.first(), node.needs.is_empty()) {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: when.span },
            what: "what a tool can do does not depend on a condition".to_owned(),
            help: "write what it needs for it: `needs TOOL is STATE`, and then `when` that is needed"
                .to_owned(),
        });
        return Vec::new();
    }
    let when = super::when(model, file, &line.when, troubles);
    let states = needed(model, file, &node.needs, troubles).into_iter();
    states.map(|(state, place)| (state, when.clone(), place)).collect()
}

/// A resolution or a fixed part of an accuracy, in base units; without a unit it has the tool's.
fn step(
    wanted: &Wanted<'_>,
    amount: &tree::Amount,
    unit: Unit,
    troubles: &mut Vec<Trouble>,
) -> Option<Exact> {
    let typed = wanted.typed(amount, Some(unit), troubles)?;
    Some(wanted.base(amount, &typed, true, troubles)?.abs())
}

/// The parts of an accuracy, those of a sort added.
#[derive(Default)]
struct Accuracy {
    fixed: Option<Exact>,
    of_reading: Option<Exact>,
}

fn accuracy(
    wanted: &Wanted<'_>,
    parts: &[AccuracyPart],
    unit: Unit,
    resolution: Option<&Exact>,
    troubles: &mut Vec<Trouble>,
) -> Option<Accuracy> {
    let mut sum = Accuracy::default();
    for part in parts {
        match part {
            AccuracyPart::Fixed(amount) => add(&mut sum.fixed, step(wanted, amount, unit, troubles)?),
            // A share without its unit would be a hundred times as much as with a lost `%`.
            AccuracyPart::OfReading(amount) if amount.unit.is_none() => {
                let share = Wanted { kind: Kind::RATIO, label: "a share of the reading", ..*wanted };
                return share.unit_missing(amount, troubles);
            }
            AccuracyPart::OfReading(amount) => {
                let share = Wanted { kind: Kind::RATIO, label: "a share of the reading", ..*wanted };
                let typed = share.typed(amount, None, troubles)?;
                add(&mut sum.of_reading, share.base(amount, &typed, true, troubles)?.abs());
            }
            AccuracyPart::Digits(number) => {
                let digits = match Decimal::parse(&number.text) {
                    Ok(digits) => digits.value.abs(),
                    Err(why) => return wanted.bad_number(number, why.to_string(), troubles),
                };
                let Some(resolution) = resolution else {
                    troubles.push(Trouble::NotExecutable {
                        place: wanted.place(number.span),
                        what: "digits of what? the tool has no resolution here".to_owned(),
                        help: "add the smallest step that is shown: `resolution …`".to_owned(),
                    });
                    return None;
                };
                add(&mut sum.fixed, &digits * resolution);
            }
        }
    }
    Some(sum)
}

fn add(sum: &mut Option<Exact>, part: Exact) {
    *sum = Some(sum.take().unwrap_or_default() + part);
}
