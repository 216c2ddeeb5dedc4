//! The values of a witness: numbers that a person would name, which make the runner decide as the way does.

use super::{Stop, shape};
use crate::flow::live;
use crate::lower::Lowered;
use dwell_card::graph::{Act, Measure, Test};
use dwell_card::limit::{Fold, Formula, Reading};
use dwell_card::meaning::{Room, least};
use dwell_quantity::{Band, Exact, Kind, Lookup, Unit, from_base, lookup};

/// A unit by its symbol; a count has none, and is not found among the spellings.
fn unit_named(symbol: &str) -> Option<Unit> {
    match lookup(symbol) {
        Lookup::Unit(unit) => Some(unit),
        _ => Unit::all().find(|unit| unit.symbol() == symbol),
    }
}

/// Values for each sample of a reading, number and unit; nothing where there is no reading.
pub(super) fn samples(
    reading: usize,
    measure: &Measure,
    rest: &[Stop<'_>],
    lowered: &Lowered,
) -> Option<Vec<(String, String)>> {
    let known = lowered.card.readings.get(reading)?;
    let kind = Kind::named(&known.kind)?;
    let unit = unit_named(&known.unit)?;
    let count = least(measure) as usize;
    let room = wanted(reading, measure, rest, lowered);
    let Some(band) = room.number.clone() else {
        return if room.missing {
            None
        } else {
            interval(&room, reading, known, (unit, kind), count, lowered)
        };
    };
    let value = chosen_value(&band, reading, known, unit, kind, lowered);
    let text = |value: &Exact| (written(value, known, unit, kind, &band), known.unit.clone());
    let zero = Exact::zero();
    let step = tool_step(known, lowered).unwrap_or_else(Exact::one);
    if let Some(shaped) = shape::shaped(reading, measure, rest, lowered, &value, &step) {
        return Some(shaped.iter().map(text).collect());
    }
    Some(match measure.take {
        Fold::Spread if count > 1 => {
            let mut all = vec![text(&zero); count - 1];
            all.push(text(&value));
            all
        }
        Fold::Sum if count > 1 => {
            let share =
                i64::try_from(count).ok().and_then(|n| value.checked_div(&Exact::whole(n))).unwrap_or(zero);
            vec![text(&share); count]
        }
        _ => vec![text(&value); count],
    })
}

/// What a measurement has to come to, so that all is decided as on the way until the reading is taken anew.
fn wanted(reading: usize, measure: &Measure, rest: &[Stop<'_>], lowered: &Lowered) -> Room {
    let known = lowered.card.readings.get(reading);
    let mut room = known.map_or_else(Room::anything, |known| Room::measured(measure, known));
    for stop in rest {
        let Some(node) = lowered.card.nodes.get(stop.node) else { continue };
        let now = stop.decided.and_then(|state| state.readings.get(reading));
        if let Some(both) = now.and_then(|now| room.both(&now.room())) {
            room = both;
        }
        if matches!(&node.act, Act::Measure(again) if again.readings.contains(&reading)) {
            break;
        }
    }
    room
}

/// An interval, as it would be typed, for each of several samples.
fn interval(
    room: &Room,
    reading: usize,
    known: &Reading,
    (unit, kind): (Unit, Kind),
    count: usize,
    lowered: &Lowered,
) -> Option<Vec<(String, String)>> {
    let (band, [beyond, from]) = match (&room.above, &room.below) {
        (Some(above), _) => (above, ["above", "at least"]),
        (None, below) => (below.as_ref()?, ["below", "at most"]),
    };
    let turned = unit.descending();
    let value = chosen_value(band, reading, known, unit, kind, lowered);
    // Of a single value there is the one that has the value itself in it.
    let word = if band.low == band.high && band.low.is_some() { from } else { beyond };
    let word = match word {
        "above" if turned => "below",
        "below" if turned => "above",
        "at least" if turned => "at most",
        "at most" if turned => "at least",
        word => word,
    };
    let text = format!("{word} {}", written(&value, known, unit, kind, band));
    Some(vec![(text, known.unit.clone()); count])
}

/// A value in the band that a person would name: the middle, or a little beyond a lone end.
fn chosen_value(
    band: &Band,
    reading: usize,
    known: &Reading,
    unit: Unit,
    kind: Kind,
    lowered: &Lowered,
) -> Exact {
    let step = tool_step(known, lowered).or_else(|| unit_step(unit, kind)).unwrap_or_else(Exact::one);
    let wide = &step * &Exact::whole(10);
    match (&band.low, &band.high) {
        (Some(low), Some(high)) => {
            (&low.value + &high.value).checked_div(&Exact::whole(2)).unwrap_or_else(|| low.value.clone())
        }
        (Some(low), None) => &low.value + &wide,
        (None, Some(high)) => &high.value - &wide,
        (None, None) => aimed_at(reading, lowered).unwrap_or_else(Exact::zero),
    }
}

/// The smallest step that the tool of a reading shows.
fn tool_step(known: &Reading, lowered: &Lowered) -> Option<Exact> {
    let tool = lowered.card.tools.get(known.tool?)?;
    let ability = tool.measures.iter().find(|ability| ability.kind == known.kind)?;
    ability.resolution.as_ref().map(|step| step.0.clone())
}

/// Samples as they are typed in one line.
pub(super) fn listed(samples: &[(String, String)]) -> Option<(String, String)> {
    let numbers: Vec<&str> = samples.iter().map(|(number, _)| number.as_str()).collect();
    Some((numbers.join("; "), samples.first()?.1.clone()))
}

fn unit_step(unit: Unit, kind: Kind) -> Option<Exact> {
    let step = unit.factor();
    (!step.is_zero() && unit.measures(kind)).then_some(step)
}

/// The middle of the first band that the reading is judged against anywhere, or of the table that is looked up at it.
fn aimed_at(reading: usize, lowered: &Lowered) -> Option<Exact> {
    lowered.card.nodes.iter().flat_map(live::tests_of).find_map(|test| match test {
        Test::Meets { value: Formula::Latest(of), limit, .. } if *of == reading => {
            lowered.card.limits.get(*limit)?.check.first()?.band.band().middle()
        }
        Test::Meets { at: Some(Formula::Latest(of)), limit, .. } if *of == reading => {
            let rows = &lowered.card.limits.get(*limit)?.rows.first()?.rows;
            let key = rows.get(rows.len() / 2)?.key.band();
            key.middle().or_else(|| Some(key.low.or(key.high)?.value))
        }
        _ => None,
    })
}

/// The number in the reading's unit, as round as the band allows.
fn written(value: &Exact, known: &Reading, unit: Unit, kind: Kind, band: &Band) -> String {
    let number = from_base(value, unit, kind);
    for decimals in known.decimals..=known.decimals + 6 {
        let text = number.fixed(decimals);
        let back = dwell_quantity::Decimal::parse(&text)
            .ok()
            .and_then(|number| dwell_quantity::Amount { number, unit }.in_base(kind).ok());
        if back.is_some_and(|back| band.contains(&back)) {
            return text;
        }
    }
    number.to_string()
}
