//! Other values for a way whose own do not lead along it: where a formula decides, a single reading cannot be aimed at its band
//! by itself, so values around it are tried, and each that brings the run further along the way is kept.

use crate::follow::{Followed, follow};
use dwell_card::Card;
use dwell_card::graph::{Act, Test, Way};
use dwell_card::limit::{Formula, Reading};
use dwell_card::number::Range;
use dwell_check::finding::Reply;
use dwell_quantity::{Amount, Decimal, Exact, Kind, Lookup, Unit, from_base, lookup};
use dwell_run::Session;
use std::collections::BTreeSet;

/// How many runs one way may take.
const MOST_RUNS: usize = 200;

/// Answers that lead along the way, and the run; nothing where none was found.
pub(crate) fn led(
    begun: &Session,
    way: &[(usize, Way)],
    answers: &[Reply],
    at: &str,
) -> (Vec<Reply>, Followed) {
    let card = begun.card().clone();
    let mut answers = answers.to_vec();
    let mut best = follow(begun.clone(), way, &answers, at);
    let mut runs = 0;
    while best.left.is_some() {
        let Some((node, _)) = way.get(best.nodes).copied() else { break };
        let names = names_at(&card, node);
        let mut better = None;
        'search: for group in groups(&answers, best.answers, &names) {
            for value in around(&card, node, &answers, &group) {
                runs += 1;
                if runs > MOST_RUNS {
                    break 'search;
                }
                let mut other = answers.clone();
                for place in &group {
                    if let Some(reply) = other.get_mut(*place) {
                        *reply = value.clone();
                    }
                }
                let run = follow(begun.clone(), way, &other, at);
                if run.left.is_none() || run.nodes > best.nodes {
                    better = Some((other, run));
                    break 'search;
                }
            }
        }
        match better {
            Some((other, run)) => (answers, best) = (other, run),
            None => break,
        }
    }
    (answers, best)
}

/// The names of the readings that decide at a node, through formulas down to what is read.
fn names_at(card: &Card, node: usize) -> BTreeSet<String> {
    let mut waiting: Vec<usize> = Vec::new();
    match card.nodes.get(node).map(|node| &node.act) {
        Some(Act::Judge(judge)) => judge.condition.tests.iter().for_each(|test| in_test(test, &mut waiting)),
        Some(Act::Branch { condition }) => {
            condition.tests.iter().for_each(|test| in_test(test, &mut waiting));
        }
        Some(Act::Choose(choose)) => in_formula(&choose.nearest, &mut waiting),
        Some(Act::Measure(measure)) => waiting.extend(&measure.readings),
        _ => {}
    }
    let mut seen = BTreeSet::new();
    let mut names = BTreeSet::new();
    while let Some(reading) = waiting.pop() {
        let Some(known) = card.readings.get(reading).filter(|_| seen.insert(reading)) else { continue };
        match &known.formula {
            Some(formula) => in_formula(formula, &mut waiting),
            None => drop(names.insert(known.name.clone())),
        }
    }
    names
}

fn in_test(test: &Test, all: &mut Vec<usize>) {
    match test {
        Test::Meets { value, at, .. } => {
            in_formula(value, all);
            at.iter().for_each(|at| in_formula(at, all));
        }
        Test::Within { value, low, high, .. } => {
            in_formula(value, all);
            [low, high].into_iter().flatten().for_each(|(end, _)| in_formula(end, all));
        }
        Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } => all.push(*reading),
        Test::Moments { readings, condition, .. } => {
            all.extend(readings);
            condition.tests.iter().for_each(|test| in_test(test, all));
        }
        Test::Answer { .. } | Test::Guard { .. } | Test::Side { .. } => {}
    }
}

fn in_formula(formula: &Formula, all: &mut Vec<usize>) {
    match formula {
        Formula::Value(_) => {}
        Formula::Latest(reading) | Formula::First(reading) | Formula::Samples(_, reading) => {
            all.push(*reading)
        }
        Formula::Fold(_, readings) => all.extend(readings),
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => {
            in_formula(a, all);
            in_formula(b, all);
        }
    }
}

/// Which answers are changed together: those of one measurement, the latest first, then all of one name.
fn groups(answers: &[Reply], taken: usize, names: &BTreeSet<String>) -> Vec<Vec<usize>> {
    let mut runs: Vec<(String, Vec<usize>)> = Vec::new();
    for (place, reply) in answers.iter().enumerate().take(taken) {
        let (Reply::Value { name, .. } | Reply::NoReading(name)) = reply else { continue };
        if !names.contains(name) {
            continue;
        }
        match runs
            .last_mut()
            .filter(|(of, places)| of == name && places.last() == place.checked_sub(1).as_ref())
        {
            Some((_, places)) => places.push(place),
            None => runs.push((name.clone(), vec![place])),
        }
    }
    let together = names.iter().map(|name| {
        let of = runs.iter().filter(|(of, _)| of == name);
        of.flat_map(|(_, places)| places.iter().copied()).collect::<Vec<usize>>()
    });
    let together: Vec<Vec<usize>> = together.filter(|places| places.len() > 1).collect();
    let single: Vec<Vec<usize>> = runs
        .iter()
        .filter(|(_, places)| places.len() > 1)
        .flat_map(|(_, places)| places.iter().map(|place| vec![*place]))
        .collect();
    let mut all: Vec<Vec<usize>> = runs.into_iter().rev().map(|(_, places)| places).collect();
    all.extend(together);
    all.extend(single);
    all
}

/// Values around the one that a group has: by the ends and widths of the bands that decide at the node, and by shares of itself.
fn around(card: &Card, node: usize, answers: &[Reply], group: &[usize]) -> Vec<Reply> {
    let reply = group.first().and_then(|place| answers.get(*place));
    let Some(Reply::Value { name, .. } | Reply::NoReading(name)) = reply else { return Vec::new() };
    let Some(known) = card.readings.iter().find(|known| known.name == *name && known.formula.is_none())
    else {
        return Vec::new();
    };
    let (Some(kind), Some(unit)) = (Kind::named(&known.kind), unit_named(&known.unit)) else {
        return Vec::new();
    };
    let now = match reply {
        Some(Reply::Value { number, unit, .. }) => in_base(number, unit, kind),
        _ => None,
    };
    let numbers = numbers_at(card, node);
    let mut all: Vec<Exact> = Vec::new();
    let now = now.unwrap_or_else(|| numbers.first().cloned().unwrap_or_else(Exact::zero));
    for number in &numbers {
        for share in [Exact::whole(1), half(), Exact::whole(2)] {
            let by = number * &share;
            all.extend([&now + &by, &now - &by]);
        }
        all.push(number.clone());
    }
    for (over, under) in [(1, 2), (2, 1), (4, 5), (6, 5), (19, 20), (21, 20), (1, 10), (10, 1)] {
        all.extend(Exact::ratio(over, under).map(|share| &now * &share));
    }
    let step = Exact::ratio(1, 10_i64.pow(known.decimals.min(6))).unwrap_or_else(Exact::one);
    let more: Vec<Exact> = numbers.iter().flat_map(|number| [number + &step, number - &step]).collect();
    all.extend(more);
    let mut seen = BTreeSet::new();
    let mut out: Vec<Reply> = Vec::new();
    for value in all {
        let number = written(&value, known, unit, kind);
        if seen.insert(number.clone()) {
            out.push(Reply::Value { name: name.clone(), number, unit: known.unit.clone() });
        }
    }
    out.push(Reply::NoReading(name.clone()));
    out
}

fn half() -> Exact {
    Exact::ratio(1, 2).unwrap_or_else(Exact::one)
}

/// A unit by its symbol; a count has none, and is not found among the spellings.
fn unit_named(symbol: &str) -> Option<Unit> {
    match lookup(symbol) {
        Lookup::Unit(unit) => Some(unit),
        _ => Unit::all().find(|unit| unit.symbol() == symbol),
    }
}

/// A typed number in base units.
fn in_base(number: &str, unit: &str, kind: Kind) -> Option<Exact> {
    let unit = unit_named(unit)?;
    Amount { number: Decimal::parse(number).ok()?, unit }.in_base(kind).ok()
}

/// A value as it is typed, with as many decimals as it needs, up to twelve.
fn written(value: &Exact, known: &Reading, unit: Unit, kind: Kind) -> String {
    let number = from_base(value, unit, kind);
    number.fixed(number.decimals_needed().unwrap_or(known.decimals + 2).clamp(known.decimals, 12))
}

/// The ends and widths of the bands that decide at a node, in base units.
fn numbers_at(card: &Card, node: usize) -> Vec<Exact> {
    let mut all = Vec::new();
    match card.nodes.get(node).map(|node| &node.act) {
        Some(Act::Judge(judge)) => {
            judge.condition.tests.iter().for_each(|test| of_test(card, test, &mut all))
        }
        Some(Act::Branch { condition }) => {
            condition.tests.iter().for_each(|test| of_test(card, test, &mut all));
        }
        Some(Act::Choose(choose)) => {
            all.extend([choose.low.0.clone(), choose.high.0.clone(), &choose.high.0 - &choose.low.0]);
        }
        Some(Act::Measure(measure)) => measure.expected.iter().for_each(|range| of_range(range, &mut all)),
        _ => {}
    }
    all.retain(|number| !number.is_zero());
    all.dedup();
    all
}

fn of_test(card: &Card, test: &Test, all: &mut Vec<Exact>) {
    match test {
        Test::Meets { limit, .. } => {
            let Some(limit) = card.limits.get(*limit) else { return };
            limit.check.iter().chain(&limit.adjust).for_each(|choice| of_range(&choice.band, all));
            for row in limit.rows.iter().flat_map(|group| &group.rows) {
                of_range(&row.key, all);
                of_range(&row.band, all);
            }
        }
        Test::Within { low, high, .. } => {
            let ends: Vec<Exact> = [low, high]
                .into_iter()
                .flatten()
                .filter_map(|(end, _)| match end {
                    Formula::Value(value) => Some(value.0.clone()),
                    _ => None,
                })
                .collect();
            if let [low, high] = ends.as_slice() {
                all.push(high - low);
            }
            all.extend(ends);
        }
        Test::Moments { condition, .. } => condition.tests.iter().for_each(|test| of_test(card, test, all)),
        _ => {}
    }
}

fn of_range(range: &Range, all: &mut Vec<Exact>) {
    let ends = [&range.low, &range.high].into_iter().flatten();
    all.extend(ends.map(|end| end.value.0.clone()));
    if let (Some(low), Some(high)) = (&range.low, &range.high) {
        all.push(&high.value.0 - &low.value.0);
    }
}
