//! What a card must be like before anything of it is believed: its places exist, its formulas come to an end.

use super::view::measure_of;
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_card::graph::Act;
use dwell_card::limit::Formula;

/// The most readings that one computed reading may come from, counted with their repetitions.
const MOST_PARTS: u64 = 10_000;

/// Checks what the runner relies on. The rest is checked where it is used.
pub(super) fn sound(card: &Card) -> Result<(), Refusal> {
    let broken = |what: String| Err(Refusal::BrokenCard(what));
    if card.format != dwell_card::FORMAT {
        return broken(format!(
            "it has format {}, and this program reads format {}",
            card.format,
            dwell_card::FORMAT
        ));
    }
    if let Some(axis) = card.axes.iter().find(|axis| axis.values.is_empty()) {
        return broken(format!("its variant {} has no values", axis.name));
    }
    for reading in &card.readings {
        if measure_of(reading).is_none() {
            return broken(format!("the kind or the unit of its reading {} is not known", reading.name));
        }
    }
    let mut known = vec![None; card.readings.len()];
    for reading in 0..card.readings.len() {
        let cost = reading_cost(card, reading, &mut known, 0);
        if cost > MOST_PARTS {
            return broken("one of its readings is computed from itself, or from too many others".into());
        }
    }
    for (place, node) in card.nodes.iter().enumerate() {
        if node.frame >= card.frames.len() {
            return broken(format!("node {place} belongs to frame {}, which is not there", node.frame));
        }
        if let Act::Choose(choose) = &node.act
            && card.readings.get(choose.reading).is_none_or(|reading| reading.formula.is_some())
        {
            return broken(format!("node {place} chooses for a reading that is not there, or is computed"));
        }
        if let Act::Measure(measure) = &node.act {
            let taken = |reading: &usize| {
                card.readings.get(*reading).is_some_and(|reading| reading.formula.is_none())
            };
            if measure.readings.is_empty() || !measure.readings.iter().all(taken) {
                return broken(format!("node {place} measures something that is not there, or is computed"));
            }
        }
    }
    Ok(())
}

/// How many values a reading is made of; too many for one that goes round in a circle.
fn reading_cost(card: &Card, reading: usize, known: &mut Vec<Option<u64>>, depth: usize) -> u64 {
    if let Some(Some(cost)) = known.get(reading) {
        return *cost;
    }
    let formula = card.readings.get(reading).and_then(|reading| reading.formula.as_ref());
    let cost = match formula {
        None => 1,
        Some(_) if depth > 64 => MOST_PARTS + 1,
        Some(formula) => formula_cost(card, formula, known, depth + 1),
    };
    if let Some(place) = known.get_mut(reading) {
        *place = Some(cost);
    }
    cost
}

fn formula_cost(card: &Card, formula: &Formula, known: &mut Vec<Option<u64>>, depth: usize) -> u64 {
    match formula {
        Formula::Value(_) => 1,
        Formula::Latest(reading) | Formula::First(reading) | Formula::Samples(_, reading) => {
            reading_cost(card, *reading, known, depth)
        }
        Formula::Fold(_, readings) => readings
            .iter()
            .fold(1, |sum: u64, reading| sum.saturating_add(reading_cost(card, *reading, known, depth))),
        Formula::Plus(a, b) | Formula::Minus(a, b) | Formula::Times(a, b) | Formula::Over(a, b) => {
            formula_cost(card, a, known, depth).saturating_add(formula_cost(card, b, known, depth))
        }
    }
}
