//! Which band each reading is judged by, and what its tool can do: the pairs that tools are measured against.

use crate::finding::Place;
use crate::lower::Lowered;
use crate::model::{Ability, Model, QuantityRef};
use dwell_card::graph::{Act, Condition, Test};
use dwell_card::limit::Formula;
use dwell_quantity::{Band, Exact};

/// A reading of a tool, judged by a band.
pub(super) struct Judging<'a> {
    /// The reading, by its place on the card.
    pub(super) reading: usize,
    /// Where it is measured first.
    pub(super) measured: Place,
    /// Its quantity.
    pub(super) quantity: QuantityRef,
    /// The band, in base units, as written, and where it stands.
    pub(super) band: Band,
    pub(super) written: String,
    pub(super) band_place: Place,
    /// What people call the tool.
    pub(super) tool: &'a str,
    /// What the tool can do.
    pub(super) ability: &'a Ability,
}

impl Judging<'_> {
    /// How far off the tool may be at a value, in base units; `None` where nothing is said.
    pub(super) fn accuracy_at(&self, value: &Exact) -> Option<Exact> {
        let share = self.ability.accuracy_of_reading.as_ref().map(|share| share * &value.abs());
        match (&self.ability.accuracy, share) {
            (None, None) => None,
            (fixed, share) => Some(fixed.clone().unwrap_or_default() + share.unwrap_or_default()),
        }
    }
}

/// Every reading of a tool that decides about the result, with every band that it may be judged by.
pub(super) fn all<'a>(model: &'a Model, lowered: &Lowered) -> Vec<Judging<'a>> {
    let mut judgings = Vec::new();
    for (node, place) in lowered.card.nodes.iter().zip(&lowered.places) {
        if let Act::Judge(judge) = &node.act {
            of(model, lowered, &judge.condition, *place, &mut judgings);
        }
    }
    judgings
}

fn of<'a>(
    model: &'a Model,
    lowered: &Lowered,
    condition: &Condition,
    place: Place,
    out: &mut Vec<Judging<'a>>,
) {
    for test in &condition.tests {
        let (reading, bands) = match test {
            Test::Meets { value: Formula::Latest(reading), limit, adjusting, .. } => {
                (*reading, declared(model, lowered, *limit, *adjusting))
            }
            Test::Moments { condition, .. } => {
                of(model, lowered, condition, place, out);
                continue;
            }
            Test::Within { value: Formula::Latest(reading), low, high, written } => {
                let Some(band) = on_the_spot(low.as_ref(), high.as_ref()) else { continue };
                (*reading, vec![(band, written.clone(), place)])
            }
            _ => continue,
        };
        let Some((tool, ability)) = taken_with(model, lowered, reading) else { continue };
        let Some(quantity) = lowered.quantities.get(reading).copied() else { continue };
        let measured = first_measured(lowered, reading).unwrap_or(place);
        out.extend(bands.into_iter().map(|(band, written, band_place)| Judging {
            reading,
            measured,
            quantity,
            band,
            written,
            band_place,
            tool,
            ability,
        }));
    }
}

/// The bands of a spec or table that count: to check against, or to set to where there are such.
fn declared(model: &Model, lowered: &Lowered, limit: usize, adjusting: bool) -> Vec<(Band, String, Place)> {
    let spec = lowered.limit_specs.get(&limit).and_then(|spec| model.specs.get(*spec));
    let Some(spec) = spec else { return Vec::new() };
    let bands = if adjusting && !spec.adjust.is_empty() { &spec.adjust } else { &spec.check };
    let rows = spec.rows.iter().flat_map(|rows| &rows.groups).flat_map(|(_, rows)| rows);
    let all = bands.iter().map(|band| &band.limit).chain(rows.map(|(_, band)| band));
    all.map(|limit| (limit.band.clone(), limit.written.clone(), limit.place)).collect()
}

/// A band that stands in the condition, where its ends are numbers.
fn on_the_spot(low: Option<&(Formula, bool)>, high: Option<&(Formula, bool)>) -> Option<Band> {
    let end = |end: Option<&(Formula, bool)>| match end {
        None => Some(None),
        Some((Formula::Value(value), closed)) => {
            Some(Some(dwell_quantity::Bound { value: value.0.clone(), closed: *closed }))
        }
        Some(_) => None,
    };
    Some(Band { low: end(low)?, high: end(high)? })
}

/// The label of the tool that takes a reading, and what it can do there.
fn taken_with<'a>(model: &'a Model, lowered: &Lowered, reading: usize) -> Option<(&'a str, &'a Ability)> {
    let known = lowered.card.readings.get(reading)?;
    let tool = lowered.card.tools.get(known.tool?)?;
    let thing = model.items.iter().find(|item| item.tool.is_some() && item.name == tool.name)?;
    let quantity = lowered.quantities.get(reading).copied()?;
    let can = thing.tool.as_ref()?;
    let ability = can.measures.iter().find(|ability| model.may_meet(quantity, ability.quantity))?;
    Some((&thing.label, ability))
}

fn first_measured(lowered: &Lowered, reading: usize) -> Option<Place> {
    let takes = |act: &Act| matches!(act, Act::Measure(measure) if measure.readings.contains(&reading));
    let mut nodes = lowered.card.nodes.iter().zip(&lowered.places);
    nodes.find(|(node, _)| takes(&node.act)).map(|(_, place)| *place)
}
