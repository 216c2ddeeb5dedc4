//! What a card must be like before anything of it is believed: its places exist, its formulas and its ways come to an end.

use super::view::{measure_of, unit_named};
use crate::refusal::Refusal;
use dwell_card::Card;
use dwell_card::graph::{Act, Way};
use dwell_card::limit::Formula;
use dwell_card::ways::Ways;
use dwell_quantity::Kind;

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
        if let Act::Work(work) = &node.act
            && let Some(set) = &work.worked_out
        {
            if Kind::named(&set.kind).is_none() || unit_named(&set.unit).is_none() {
                return broken(format!("the kind or the unit of its limit {} is not known", set.name));
            }
            let ends = [&set.low, &set.high].into_iter().flatten();
            let cost =
                ends.fold(0, |sum: u64, (end, _)| sum.saturating_add(formula_cost(card, end, &mut known, 0)));
            if cost > MOST_PARTS || !node.next.contains_key(&Way::NoReading) {
                return broken(format!(
                    "its limit {} is worked out from too much, or nothing follows where that cannot be done",
                    set.name
                ));
            }
        }
        if let Act::Choose(choose) = &node.act
            && card.readings.get(choose.reading).is_none_or(|reading| reading.formula.is_some())
        {
            return broken(format!("node {place} chooses for a reading that is not there, or is computed"));
        }
        if let Act::Release { hold, .. } = &node.act
            && !matches!(card.nodes.get(*hold).map(|node| &node.act), Some(Act::Hold(_)))
        {
            return broken(format!("node {place} ends a span that never begins"));
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
    shape(card).map_or(Ok(()), broken)
}

/// What is wrong with the ways of a card: nobody may be led where it does not go on to the end, and no procedure may be over
/// without having passed its list of what is put back.
fn shape(card: &Card) -> Option<String> {
    let ways = Ways::of(&card.nodes);
    let all_that = |wanted: fn(&Act) -> bool| {
        let nodes = card.nodes.iter().enumerate().filter(move |(_, node)| wanted(&node.act));
        nodes.map(|(place, node)| (place, node.frame))
    };
    let ends: Vec<usize> = all_that(|act| matches!(act, Act::Finish)).map(|(place, _)| place).collect();
    let to_the_end = ways.leading_to(&ends);
    let mut nodes = ways.reachable().into_iter().zip(to_the_end).enumerate();
    if let Some((stuck, _)) = nodes.find(|(_, (reached, ends))| *reached && !ends) {
        return Some(format!("from node {stuck} no way leads to its end"));
    }
    let dominators = ways.dominators();
    for (close, frame) in all_that(|act| matches!(act, Act::Close)) {
        let mut lists = all_that(|act| matches!(act, Act::Restore)).filter(|(_, of)| *of == frame);
        let passed = lists.next().is_some_and(|(list, _)| dominators.dominates(list, close));
        if dominators.dominates(0, close) && !passed {
            return Some(format!("frame {frame} can be over without its list of what is put back"));
        }
    }
    None
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
        Formula::Sine(inner) | Formula::Root(inner) => formula_cost(card, inner, known, depth),
        Formula::Fold(_, readings) => readings
            .iter()
            .fold(1, |sum: u64, reading| sum.saturating_add(reading_cost(card, *reading, known, depth))),
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => {
            formula_cost(card, a, known, depth).saturating_add(formula_cost(card, b, known, depth))
        }
    }
}
