//! Limits that are alike: values of a variant for which every decision comes out in the same way, whatever their numbers.
//!
//! A spec may have a band for each of forty variants. Whether a reading can be low here and in band there hangs on nothing but
//! the order in which the ends of all bands of that reading stand. Variants whose ends stand in the same order go the same
//! ways, so the walk takes the bands of one of them for all.

use super::live::{all_readings, in_formula, tests_of, through};
use crate::lower::Lowered;
use dwell_card::graph::{Act, Test};
use dwell_card::limit::{Choice, Formula, Limit};
use dwell_card::vehicle::Guard;
use dwell_quantity::{Band, Bound, Exact};
use std::collections::{BTreeMap, BTreeSet};

/// The same procedure with the bands of one variant for all that are alike; nothing where no two are. What is found in it
/// is found in the procedure and the other way round, for vehicles that correspond; the readings of a witness do not.
pub(super) fn merged(lowered: &Lowered) -> Option<Lowered> {
    if lowered.card.guarded || lowered.card.axes.is_empty() {
        return None;
    }
    let mut merged: Option<Lowered> = None;
    for Together { readings, limits } in Uses::of(lowered).together() {
        let Some((axis, count)) = axis_of(&limits, lowered) else { continue };
        let fixed = fixed_ends(&readings, lowered);
        let Some(groups) = groups(&limits, axis, count, &fixed, lowered) else { continue };
        if groups.len() == count {
            continue;
        }
        let card = &mut merged.get_or_insert_with(|| lowered.clone()).card;
        for limit in &limits {
            if let Some(limit) = card.limits.get_mut(*limit) {
                limit.check = taken(&limit.check, axis, &groups);
                limit.adjust = taken(&limit.adjust, axis, &groups);
            }
        }
    }
    merged
}

/// Readings and limits that are compared with each other, directly or through others.
struct Together {
    readings: BTreeSet<usize>,
    limits: BTreeSet<usize>,
}

/// What a reading or a limit is used for in a card.
#[derive(Default)]
struct Uses {
    /// Which reading is compared with which limit.
    pairs: BTreeSet<(usize, usize)>,
    /// Readings for which more counts than where they lie.
    readings: BTreeSet<usize>,
    /// Limits for which more counts than what lies in them.
    limits: BTreeSet<usize>,
}

impl Uses {
    fn of(lowered: &Lowered) -> Uses {
        let mut uses = Uses::default();
        for node in &lowered.card.nodes {
            tests_of(node).iter().for_each(|test| uses.test(test, lowered));
            match &node.act {
                Act::Measure(measure) => {
                    let until = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref());
                    until.iter().flat_map(|until| &until.tests).for_each(|test| uses.closely(test, lowered));
                }
                Act::Work(work) => {
                    work.worked_out.iter().for_each(|known| uses.closely(&known.band(), lowered));
                }
                Act::Choose(choose) => {
                    uses.readings.insert(choose.reading);
                    uses.readings.extend(through(in_formula(&choose.nearest), lowered));
                }
                _ => {}
            }
        }
        let formulas = lowered.card.readings.iter().filter_map(|reading| reading.formula.as_ref());
        uses.readings.extend(through(formulas.flat_map(in_formula).collect(), lowered));
        uses
    }

    fn test(&mut self, test: &Test, lowered: &Lowered) {
        let measured = |reading: &usize| {
            lowered.card.readings.get(*reading).is_some_and(|known| known.formula.is_none())
        };
        match test {
            Test::Meets { value: Formula::Latest(reading), limit, at: None, .. } if measured(reading) => {
                self.pairs.insert((*reading, *limit));
            }
            Test::Within { value: Formula::Latest(reading), low, high, .. }
                if measured(reading)
                    && [low, high].into_iter().flatten().all(|(end, _)| matches!(end, Formula::Value(_))) => {
            }
            // These do not look at where a reading lies.
            Test::Steady { .. }
            | Test::Fluctuating { .. }
            | Test::Answer { .. }
            | Test::Guard { .. }
            | Test::Side { .. } => {}
            _ => self.closely(test, lowered),
        }
    }

    /// All that a test looks at counts with its numbers.
    fn closely(&mut self, test: &Test, lowered: &Lowered) {
        self.readings.extend(all_readings(test, lowered));
        match test {
            Test::Meets { limit, .. } => {
                self.limits.insert(*limit);
            }
            Test::Moments { readings, condition, .. } => {
                self.readings.extend(readings);
                condition.tests.iter().for_each(|test| self.closely(test, lowered));
            }
            _ => {}
        }
    }

    /// The sets of which nothing counts with its numbers.
    fn together(&self) -> Vec<Together> {
        let mut sets: Vec<Together> = Vec::new();
        for (reading, limit) in &self.pairs {
            let touched = |set: &Together| set.readings.contains(reading) || set.limits.contains(limit);
            let (these, others): (Vec<_>, Vec<_>) = std::mem::take(&mut sets).into_iter().partition(touched);
            sets = others;
            let mut one = Together { readings: [*reading].into(), limits: [*limit].into() };
            for set in these {
                one.readings.extend(set.readings);
                one.limits.extend(set.limits);
            }
            sets.push(one);
        }
        sets.retain(|set| set.readings.is_disjoint(&self.readings) && set.limits.is_disjoint(&self.limits));
        sets
    }
}

/// The one variant that these limits hang on, and how many values it has; nothing where they hang on none, on several, on the
/// state of a thing, or are looked up in a table.
fn axis_of(limits: &BTreeSet<usize>, lowered: &Lowered) -> Option<(usize, usize)> {
    let limits: Vec<&Limit> = limits.iter().filter_map(|limit| lowered.card.limits.get(*limit)).collect();
    if limits.iter().any(|limit| !limit.rows.is_empty()) {
        return None;
    }
    let choices = || limits.iter().flat_map(|limit| limit.check.iter().chain(&limit.adjust));
    if choices().any(|choice| choice.when.len() > 1) {
        return None;
    }
    let mut axes = choices().flat_map(|choice| &choice.when).map(|guard| match guard {
        Guard::Variant { axis, .. } => Some(*axis),
        Guard::State { .. } => None,
    });
    let axis = axes.next()??;
    let count = lowered.card.axes.get(axis)?.values.len();
    axes.all(|other| other == Some(axis)).then_some((axis, count))
}

/// The ends that are the same for all vehicles: where a reading can lie at all, and numbers that stand in conditions.
fn fixed_ends(readings: &BTreeSet<usize>, lowered: &Lowered) -> Vec<Exact> {
    let mut ends = Vec::new();
    let mut both =
        |band: &Band| ends.extend([&band.low, &band.high].into_iter().flatten().map(|end| end.value.clone()));
    readings.iter().filter_map(|reading| lowered.spans.get(*reading)).for_each(&mut both);
    for node in &lowered.card.nodes {
        if let Act::Measure(measure) = &node.act
            && measure.readings.iter().any(|reading| readings.contains(reading))
            && let Some(expected) = &measure.expected
        {
            both(&expected.band());
        }
    }
    for test in lowered.card.nodes.iter().flat_map(tests_of) {
        let Test::Within { low, high, .. } = test else { continue };
        if all_readings(test, lowered).is_disjoint(readings) {
            continue;
        }
        ends.extend([low, high].into_iter().flatten().filter_map(|(end, _)| match end {
            Formula::Value(value) => Some(value.0.clone()),
            _ => None,
        }));
    }
    ends
}

/// One end of one band: its place in the order of all, and whether it belongs to the band.
type Stands = Option<(usize, bool)>;

/// The values of a variant in groups: those of one group have their ends in the same order. Nothing where one of them has two
/// bands for one thing.
fn groups(
    limits: &BTreeSet<usize>,
    axis: usize,
    count: usize,
    fixed: &[Exact],
    lowered: &Lowered,
) -> Option<Vec<Vec<usize>>> {
    let mut groups: BTreeMap<Vec<Option<[Stands; 2]>>, Vec<usize>> = BTreeMap::new();
    for value in 0..count {
        let mut bands: Vec<Option<Band>> = Vec::new();
        for limit in limits.iter().filter_map(|limit| lowered.card.limits.get(*limit)) {
            for choices in [&limit.check, &limit.adjust] {
                let mut those = choices.iter().filter(|choice| applies(choice, axis, value));
                bands.push(those.next().map(|choice| choice.band.band()));
                if those.next().is_some() {
                    return None;
                }
            }
        }
        let ends = |band: &Band| [band.low.clone(), band.high.clone()];
        let all = bands.iter().flatten().flat_map(ends).flatten().map(|end| end.value);
        let order: BTreeSet<Exact> = all.chain(fixed.iter().cloned()).collect();
        let place = |end: Bound| Some((order.iter().position(|known| *known == end.value)?, end.closed));
        let stands =
            bands.iter().map(|band| band.as_ref().map(|band| ends(band).map(|end| end.and_then(place))));
        // How many ends stand between those of the bands tells where the fixed ones are: they are the same for all.
        let mut key: Vec<Option<[Stands; 2]>> = stands.collect();
        key.extend(
            fixed.iter().map(|end| {
                Some([order.iter().position(|known| known == end).map(|place| (place, true)), None])
            }),
        );
        groups.entry(key).or_default().push(value);
    }
    Some(groups.into_values().collect())
}

fn applies(choice: &Choice, axis: usize, value: usize) -> bool {
    choice.when.iter().all(|guard| matches!(guard, Guard::Variant { axis: of, values } if *of == axis && values.contains(&value)))
}

/// The bands of the first of each group, for all of the group.
fn taken(choices: &[Choice], axis: usize, groups: &[Vec<usize>]) -> Vec<Choice> {
    let of_group = |group: &Vec<usize>| {
        let first = group.first().copied()?;
        let choice = choices.iter().find(|choice| applies(choice, axis, first))?;
        let when = vec![Guard::Variant { axis, values: group.clone() }];
        Some(Choice { when, ..choice.clone() })
    };
    groups.iter().filter_map(of_group).collect()
}
