//! Bands to set to that are worked out: what they come to, and whether they have a value on every way.

use super::test::{Scene, sides};
use super::value::{plus, scaled};
use super::{Value, basis};
use crate::card::Card;
use crate::graph::{Side, WorkedOut};
use crate::limit::{Fold, Formula};
use dwell_quantity::{Band, Exact};
use std::collections::BTreeMap;

/// How deep formulas may follow each other before nothing more is known of them.
const MOST_DEEP: usize = 64;

/// What a band that is worked out comes to, in base units; none where an end has no value, or no room is left between them.
pub fn set_to(worked_out: &WorkedOut, scene: &Scene<'_>) -> Option<Band> {
    let is_there = sides(&worked_out.has_room(), scene) == [Side::In];
    is_there.then(|| basis(&worked_out.band(), scene)).flatten().map(|basis| basis.band)
}

/// Whether a band that is worked out may have a value here, and whether it may have none.
pub fn may_be_set(worked_out: &WorkedOut, scene: &Scene<'_>) -> (bool, bool) {
    let sides = sides(&worked_out.has_room(), scene);
    let may = sides.contains(&Side::In);
    (may, sides.iter().any(|side| *side != Side::In) && !(may && surely(worked_out, scene)))
}

/// Whether there is a band whatever the readings are: no end can be without a value, and the ends never come too near.
fn surely(worked_out: &WorkedOut, scene: &Scene<'_>) -> bool {
    let number = |value: Value| !value.may_be_missing() && !value.may_be_interval();
    let ends = [&worked_out.low, &worked_out.high];
    if !ends.into_iter().flatten().all(|(end, _)| number(scene.value(end))) {
        return false;
    }
    let (Some((_, low_in)), Some((_, high_in))) = (&worked_out.low, &worked_out.high) else { return true };
    ways_between(worked_out, scene).iter().all(|room| {
        room.as_ref()
            .and_then(|room| room.low.as_ref())
            .is_some_and(|room| !room.value.is_negative() && (!room.value.is_zero() || (*low_in && *high_in)))
    })
}

/// Whether there is never a band that leaves room, whatever the readings are; a single value is room only where `one_is_enough`.
pub fn never_set(worked_out: &WorkedOut, one_is_enough: bool, scene: &Scene<'_>) -> bool {
    ways_between(worked_out, scene).iter().flatten().any(|room| {
        let most = room.high.as_ref().map(|most| &most.value);
        most.is_some_and(|most| most.is_negative() || (most.is_zero() && !one_is_enough))
    })
}

/// All that the way from the low end to the high one may be; several where an end is the smallest or the largest of some.
fn ways_between(worked_out: &WorkedOut, scene: &Scene<'_>) -> Vec<Option<Band>> {
    let (Some((low, _)), Some((high, _))) = (&worked_out.low, &worked_out.high) else { return Vec::new() };
    let most = parts(high, |formula| match formula {
        Formula::Smaller(one, other) => Some((one, other)),
        _ => None,
    });
    let least = parts(low, |formula| match formula {
        Formula::Larger(one, other) => Some((one, other)),
        _ => None,
    });
    most.iter().flat_map(|high| least.iter().map(|low| apart(low, high, scene))).collect()
}

/// A formula, or what it is the smallest or largest of.
fn parts(formula: &Formula, split: fn(&Formula) -> Option<(&Formula, &Formula)>) -> Vec<&Formula> {
    let mut all = Vec::new();
    let mut waiting = vec![formula];
    while let Some(next) = waiting.pop() {
        match split(next) {
            Some((one, other)) => waiting.extend([one, other]),
            None => all.push(next),
        }
    }
    all
}

/// All that the way from one formula to another may be. What both have in common falls out where they are sums.
fn apart(low: &Formula, high: &Formula, scene: &Scene<'_>) -> Option<Band> {
    let sums = Sum::of(low, scene.card, 0).zip(Sum::of(high, scene.card, 0));
    let Some((low_sum, high_sum)) = sums else {
        let (low, high) = (scene.value(low), scene.value(high));
        let less = scaled(low.reach()?.as_ref(), &Exact::whole(-1));
        return Some(plus(high.reach()?.as_ref(), &less));
    };
    let between = high_sum.and(low_sum, &Exact::whole(-1));
    let mut all = Band::exactly(between.constant);
    for ((reading, first), by) in &between.of {
        let value = (scene.read)(*reading, *first);
        all = plus(&all, &scaled(value.reach()?.as_ref(), by));
    }
    Some(all)
}

/// A sum of readings, each so many times, and a number.
struct Sum {
    constant: Exact,
    of: BTreeMap<(usize, bool), Exact>,
}

impl Sum {
    /// A formula as a sum; none where it is something else.
    fn of(formula: &Formula, card: &Card, deep: usize) -> Option<Sum> {
        if deep > MOST_DEEP {
            return None;
        }
        let of = |formula| Sum::of(formula, card, deep + 1);
        let reading = |reading: usize| match card.readings.get(reading)?.formula.as_ref() {
            Some(inner) => of(inner),
            None => Some(Sum { constant: Exact::zero(), of: [((reading, false), Exact::one())].into() }),
        };
        let number = |constant| Sum { constant, of: BTreeMap::new() };
        match formula {
            Formula::Value(value) => Some(number(value.0.clone())),
            Formula::Latest(latest) => reading(*latest),
            Formula::Plus(one, other) => Some(of(one)?.and(of(other)?, &Exact::one())),
            Formula::Minus(one, other) => Some(of(one)?.and(of(other)?, &Exact::whole(-1))),
            Formula::Times(one, other) => match (of(one)?, of(other)?) {
                (Sum { constant, of }, sum) | (sum, Sum { constant, of }) if of.is_empty() => {
                    Some(number(Exact::zero()).and(sum, &constant))
                }
                _ => None,
            },
            Formula::Over(one, other) => match of(other)? {
                Sum { constant, of: none } if none.is_empty() => {
                    Some(number(Exact::zero()).and(of(one)?, &Exact::one().checked_div(&constant)?))
                }
                _ => None,
            },
            Formula::Fold(fold @ (Fold::Sum | Fold::Mean), readings) => {
                let count = Exact::whole(i64::try_from(readings.len()).ok()?);
                let by = match fold {
                    Fold::Mean => Exact::one().checked_div(&count)?,
                    _ => Exact::one(),
                };
                readings.iter().try_fold(number(Exact::zero()), |sum, one| Some(sum.and(reading(*one)?, &by)))
            }
            _ => None,
        }
    }

    /// This, and the other so many times.
    fn and(mut self, other: Sum, by: &Exact) -> Sum {
        self.constant = &self.constant + &(&other.constant * by);
        for (reading, times) in other.of {
            let known = self.of.entry(reading).or_default();
            *known = &*known + &(&times * by);
        }
        self.of.retain(|_, times| !times.is_zero());
        self
    }
}

#[cfg(test)]
mod tests;
