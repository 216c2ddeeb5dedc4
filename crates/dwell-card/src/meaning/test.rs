//! How tests, conditions and decisions come out.

use super::ends::{Ends, ends};
use super::samples::{Samples, at_moments, fluctuating, of_samples, sampling_limit, steady};
use super::{States, Truth, Value, formula_value, guard_holds, guards_hold};
use crate::card::Card;
use crate::graph::{Side, Test};
use crate::limit::{Choice, Formula, Limit, RowGroup};
use dwell_quantity::{Band, Bound, Exact, Place, guarded};

/// All that a test can look at.
pub struct Scene<'a> {
    /// The card.
    pub card: &'a Card,
    /// For each axis the place of its value.
    pub chosen: &'a [usize],
    /// The possible states of each slot.
    pub slots: &'a [States],
    /// A reading's latest value, or with `true` the one as found.
    pub read: &'a dyn Fn(usize, bool) -> Value,
    /// The samples that counted in the last measurement of a reading.
    pub samples: &'a dyn Fn(usize) -> Samples,
    /// The possible answers to a question, as states of it; none where it was not asked.
    pub answer: &'a dyn Fn(usize) -> States,
    /// The last judging: its node and how its tests came out.
    pub judged: Option<(usize, &'a [Side])>,
}

impl Scene<'_> {
    /// What a formula comes to here.
    pub fn value(&self, formula: &Formula) -> Value {
        formula_value(formula, self.read, self.samples)
    }
}

/// The sides on which a test can come out; at the vehicle exactly one.
pub fn sides(test: &Test, scene: &Scene<'_>) -> Vec<Side> {
    match test {
        Test::Meets { value, limit, adjusting, misses, at } => {
            let Some(limit) = scene.card.limits.get(*limit) else { return vec![Side::NoReading] };
            let value_now = scene.value(value);
            let mut all = Vec::new();
            match at {
                Some(at) => match row_band(limit, &scene.value(at), scene) {
                    Lookup::Band(band) => add(&mut all, placed(&value_now, &tight(&band, value, scene))),
                    Lookup::Nowhere => add(&mut all, vec![Side::NoReading]),
                    Lookup::Unknown => add(&mut all, vec![Side::In, Side::Low, Side::High, Side::NoReading]),
                },
                None => {
                    for choice in choices(limit, *adjusting, scene.chosen, scene.slots) {
                        match choice {
                            Some(choice) => {
                                let band = tight(&choice.band.band(), value, scene);
                                add(&mut all, placed(&value_now, &band));
                            }
                            None => add(&mut all, vec![Side::NoReading]),
                        }
                    }
                }
            }
            if *misses { all.into_iter().map(opposite).collect() } else { all }
        }
        Test::Within { value, low, high, .. } => {
            let value = scene.value(value);
            within(&value, low.as_ref(), high.as_ref(), scene)
        }
        Test::Steady { reading, not, within } => {
            let limit = sampling_limit(scene.card, *reading, within.as_ref());
            of_samples(*reading, *not, scene, &|values| steady(values, &limit))
        }
        Test::Fluctuating { reading, not, within } => {
            let limit = sampling_limit(scene.card, *reading, within.as_ref());
            of_samples(*reading, *not, scene, &|values| fluctuating(values, &limit))
        }
        Test::Moments { readings, every, condition } => at_moments(readings, *every, condition, scene),
        Test::Answer { question, values, not } => {
            let now = (scene.answer)(*question);
            let asked = States::these(values);
            let truth = if now.is_empty() {
                return vec![Side::NoReading];
            } else if now.within(asked) {
                Truth::Yes
            } else if now.and(asked).is_empty() {
                Truth::No
            } else {
                Truth::Maybe
            };
            from_truth(truth, *not)
        }
        Test::Guard { guard, not } => from_truth(guard_holds(guard, scene.chosen, scene.slots), *not),
        Test::Side { judge, tests, side } => {
            let found = scene.judged.filter(|(node, _)| node == judge).is_some_and(|(_, all)| {
                all.iter().enumerate().any(|(place, came)| tests.contains(&place) && came == side)
            });
            vec![if found { Side::In } else { Side::Other }]
        }
    }
}

/// The bands of a limit that may hold here; `None` for "none holds".
pub fn choices<'a>(
    limit: &'a Limit,
    adjusting: bool,
    chosen: &[usize],
    slots: &[States],
) -> Vec<Option<&'a Choice>> {
    let list = if adjusting && !limit.adjust.is_empty() { &limit.adjust } else { &limit.check };
    let mut possible = Vec::new();
    for choice in list {
        match guards_hold(&choice.when, chosen, slots) {
            Truth::Yes => {
                possible.push(Some(choice));
                return possible;
            }
            Truth::Maybe => possible.push(Some(choice)),
            Truth::No => {}
        }
    }
    possible.push(None);
    possible
}

fn add(all: &mut Vec<Side>, more: Vec<Side>) {
    for side in more {
        if !all.contains(&side) {
            all.push(side);
        }
    }
}

fn opposite(side: Side) -> Side {
    match side {
        Side::In => Side::Other,
        Side::NoReading => Side::NoReading,
        _ => Side::In,
    }
}

fn from_truth(truth: Truth, not: bool) -> Vec<Side> {
    match (truth, not) {
        (Truth::Yes, false) | (Truth::No, true) => vec![Side::In],
        (Truth::No, false) | (Truth::Yes, true) => vec![Side::Other],
        (Truth::Maybe, _) => vec![Side::In, Side::Other],
    }
}

/// The sides that a value can have in a band.
fn placed(value: &Value, limit: &Band) -> Vec<Side> {
    match value {
        Value::Missing => vec![Side::NoReading],
        Value::Read(reading) => vec![match limit.place(reading) {
            Place::In => Side::In,
            Place::Low(_) => Side::Low,
            Place::High(_) => Side::High,
            Place::Undecided => Side::NoReading,
        }],
        Value::Near(low, high) => {
            // What cannot be told to be in is out: no decision is looser than it would be with the exact number.
            vec![match limit.place(&Band::closed(low.clone(), high.clone())) {
                Place::In => Side::In,
                Place::Low(_) => Side::Low,
                Place::High(_) => Side::High,
                Place::Undecided => match &limit.high {
                    Some(end) if *high >= end.value => Side::High,
                    _ => Side::Low,
                },
            }]
        }
        Value::Somewhere(room) => room.sides(limit),
    }
}

fn within(
    value: &Value,
    low: Option<&(Formula, bool)>,
    high: Option<&(Formula, bool)>,
    scene: &Scene<'_>,
) -> Vec<Side> {
    match ends(low, high, scene) {
        // Computed ends can leave no room between them: then nothing is in, and nothing can be set right.
        Ends::Band(band) if band.is_empty() => vec![Side::NoReading],
        Ends::Band(band) => placed(value, &band),
        Ends::Missing => vec![Side::NoReading],
        Ends::Unknown if *value == Value::Missing => vec![Side::NoReading],
        Ends::Unknown => {
            let mut all = vec![Side::In];
            all.extend(low.map(|_| Side::Low));
            all.extend(high.map(|_| Side::High));
            all.push(Side::NoReading);
            all
        }
    }
}

/// The band that decides: as it stands, or drawn in by the tool's uncertainty.
pub(super) fn tight(band: &Band, value: &Formula, scene: &Scene<'_>) -> Band {
    deciding(band, value, scene.card)
}

/// The band of a limit that decides about a value: as it stands, or drawn in by the uncertainty of the value's tool.
pub fn deciding(band: &Band, value: &Formula, card: &Card) -> Band {
    if !card.guarded {
        return band.clone();
    }
    match uncertainty(band, value, card) {
        Some(width) => guarded(band, &width),
        None => band.clone(),
    }
}

/// The expanded uncertainty (k = 2) of the tool that takes a reading, at the ends of a band, in base units.
pub(super) fn uncertainty(band: &Band, value: &Formula, card: &Card) -> Option<Exact> {
    let Formula::Latest(reading) = value else { return None };
    let reading = card.readings.get(*reading)?;
    let tool = card.tools.get(reading.tool?)?;
    let ability = tool.measures.iter().find(|ability| ability.kind == reading.kind)?;
    let largest = [&band.low, &band.high].into_iter().flatten().map(|bound| bound.value.abs()).max();
    let fixed = ability.accuracy.as_ref().map(|part| part.0.clone()).unwrap_or_default();
    let share = match (&ability.accuracy_of_reading, largest) {
        (Some(share), Some(largest)) => &share.0 * &largest,
        _ => Exact::zero(),
    };
    Some(&fixed + &share)
}

pub(super) enum Lookup {
    Band(Band),
    Nowhere,
    Unknown,
}

pub(super) fn row_band(limit: &Limit, at: &Value, scene: &Scene<'_>) -> Lookup {
    if let Value::Near(low, high) = at {
        let one = |at: &Exact| row_band(limit, &Value::point(at.clone()), scene);
        return match (one(low), one(high)) {
            (Lookup::Band(one), Lookup::Band(other)) => match one.intersect(&other) {
                none if none.is_empty() => Lookup::Nowhere,
                both => Lookup::Band(both),
            },
            (Lookup::Unknown, _) | (_, Lookup::Unknown) => Lookup::Unknown,
            _ => Lookup::Nowhere,
        };
    }
    let Some(at) = at.exact() else {
        return if matches!(at, Value::Somewhere(_)) { Lookup::Unknown } else { Lookup::Nowhere };
    };
    let maybe = |group: &&RowGroup| guards_hold(&group.when, scene.chosen, scene.slots) != Truth::No;
    let Some(group) = limit.rows.iter().find(maybe) else { return Lookup::Nowhere };
    if guards_hold(&group.when, scene.chosen, scene.slots) == Truth::Maybe {
        return Lookup::Unknown;
    }
    if let Some(row) = group.rows.iter().find(|row| row.key.band().contains(at)) {
        return Lookup::Band(row.band.band());
    }
    if !limit.linear {
        return Lookup::Nowhere;
    }
    for pair in group.rows.windows(2) {
        let [below, above] = pair else { continue };
        if let Some(band) =
            between(&below.key.band(), &below.band.band(), &above.key.band(), &above.band.band(), at)
        {
            return Lookup::Band(band);
        }
    }
    Lookup::Nowhere
}

/// The band on the straight line between two points of a table.
fn between(from: &Band, low: &Band, to: &Band, high: &Band, at: &Exact) -> Option<Band> {
    let start = &from.high.as_ref()?.value;
    let end = &to.low.as_ref()?.value;
    if at < start || at > end {
        return None;
    }
    let share = (at - start).checked_div(&(end - start))?;
    let on_line = |a: &Option<Bound>, b: &Option<Bound>| match (a, b) {
        (Some(a), Some(b)) => Some(Some(Bound {
            value: &a.value + &(&(&b.value - &a.value) * &share),
            closed: a.closed && b.closed,
        })),
        (None, None) => Some(None),
        _ => None,
    };
    Some(Band { low: on_line(&low.low, &high.low)?, high: on_line(&low.high, &high.high)? })
}
