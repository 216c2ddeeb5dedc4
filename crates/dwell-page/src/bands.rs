//! The bands of a card for a vehicle, in words: as they are judged, as they were written, and in the other units of the trade.

use crate::vehicle::Vehicle;
use crate::words;
use dwell_card::Card;
use dwell_card::graph::Test;
use dwell_card::limit::{Choice, Formula, Limit, Reading};
use dwell_card::meaning::Truth;
use dwell_card::number::Range;
use dwell_card::vehicle::Guard;
use dwell_quantity::{Band, Bound, Kind, Unit, band_fully_shown, band_shown, in_other_units, shown};

/// A band in words. Limits are rounded inwards: what is shown is never looser than what is decided.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Words {
    /// Its ends: `56 .. 68 Hz`.
    pub(crate) ends: String,
    /// As it was written, where that reads otherwise: `62 ± 6 Hz`.
    pub(crate) written: Option<String>,
    /// In other units.
    pub(crate) others: Vec<String>,
    /// The band, in base units.
    pub(crate) band: Band,
}

/// The bands for one case of what is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Case {
    /// The case, `engine family k9`; empty for all.
    pub(crate) when: String,
    /// What is checked against.
    pub(crate) check: Option<Words>,
    /// What is set to.
    pub(crate) set: Option<Words>,
    /// What is aimed at.
    pub(crate) target: Option<String>,
    /// How the shown numbers are written: unit, kind.
    pub(crate) measure: Option<(Unit, Kind)>,
    /// The value that is aimed at, in base units.
    pub(crate) aim: Option<dwell_quantity::Exact>,
}

/// What a test holds a value against.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Against {
    /// The name of the limit; none for a band on the spot.
    pub(crate) name: Option<String>,
    /// The cases.
    pub(crate) cases: Vec<Case>,
    /// The rows of a table, each with its band in other units.
    pub(crate) rows: Vec<(String, String)>,
    /// How the table is looked up.
    pub(crate) looked_up: Option<String>,
    /// Whether it is said that nothing can be adjusted.
    pub(crate) not_adjustable: bool,
    /// How the thing must be for it.
    pub(crate) condition: Option<String>,
    /// Where the values come from.
    pub(crate) source: Option<String>,
    /// Whether what lies outside is asked for.
    pub(crate) misses: bool,
}

/// What a test holds a value against; nothing where it asks after no band.
pub(crate) fn against(card: &Card, vehicle: &Vehicle, test: &Test, adjusting: bool) -> Option<Against> {
    match test {
        Test::Meets { value, limit, adjusting: by_test, misses, at } => {
            let limit = card.limits.get(*limit)?;
            let mut found = of_limit(card, vehicle, limit, adjusting || *by_test, reading_of(card, value));
            found.misses = *misses;
            found.looked_up = at.as_ref().map(|at| looked_up(card, limit, at));
            Some(found)
        }
        Test::Within { value, low, high, written } => {
            let reading = reading_of(card, value)?;
            let end = |end: &Option<(Formula, bool)>| match end {
                None => Some(None),
                Some((Formula::Value(value), closed)) => {
                    Some(Some(Bound { value: value.0.clone(), closed: *closed }))
                }
                Some(_) => None,
            };
            let measure = measure_of(reading);
            let band = end(low).zip(end(high)).map(|(low, high)| Band { low, high });
            let words = match (band, measure) {
                (Some(band), Some((unit, kind))) => {
                    in_words(&band, (unit, kind, reading.decimals), written, None)
                }
                // Its ends are worked out while the work is done.
                _ => Words { ends: written.clone(), written: None, others: Vec::new(), band: Band::all() },
            };
            let mut case = Case { measure, ..Case::default() };
            if adjusting {
                case.set = Some(words)
            } else {
                case.check = Some(words)
            }
            Some(Against { cases: vec![case], ..Against::default() })
        }
        _ => None,
    }
}

/// The bands of a limit; with those to set to where these are meant.
pub(crate) fn of_limit(
    card: &Card,
    vehicle: &Vehicle,
    limit: &Limit,
    adjusting: bool,
    reading: Option<&Reading>,
) -> Against {
    let measure = words::unit_named(&limit.unit).zip(Kind::named(&limit.kind));
    let shown_as = measure.map(|(unit, kind)| (unit, kind, limit.decimals));
    let words = |range: &Range, written: &str| {
        shown_as.map(|as_what| in_words(&range.band(), as_what, written, reading))
    };
    let mut cases: Vec<Case> = Vec::new();
    for choice in may_be(vehicle, &limit.check) {
        let when = when(card, vehicle, &choice.when);
        cases.push(Case { when, check: words(&choice.band, &choice.written), measure, ..Case::default() });
    }
    if adjusting {
        for choice in may_be(vehicle, &limit.adjust) {
            let when = when(card, vehicle, &choice.when);
            let set = words(&choice.band, &choice.written);
            let target = choice.target.as_ref().zip(shown_as);
            let aim = choice.target.as_ref().map(|target| target.0.clone());
            let target =
                target.map(|(target, (unit, kind, decimals))| shown(&target.0, unit, kind, decimals));
            match cases.iter_mut().find(|case| case.when == when && case.set.is_none()) {
                Some(case) => (case.set, case.target, case.aim) = (set, target, aim),
                None => cases.push(Case { when, set, target, measure, aim, ..Case::default() }),
            }
        }
    }
    let groups = limit.rows.iter().filter(|group| vehicle.holds(&group.when) != Truth::No);
    let rows = groups.flat_map(|group| {
        let when = when(card, vehicle, &group.when);
        group.rows.iter().map(move |row| {
            let lead = if when.is_empty() { String::new() } else { format!("{when}: ") };
            let band =
                shown_as.map(|(unit, kind, _)| in_other_units(&row.band.band(), unit, kind).join("; "));
            (format!("{lead}{}", row.written), band.unwrap_or_default())
        })
    });
    Against {
        name: Some(limit.name.clone()),
        cases,
        rows: rows.collect(),
        looked_up: None,
        not_adjustable: limit.not_adjustable,
        condition: limit.condition.clone(),
        source: limit.source.clone(),
        misses: false,
    }
}

/// A band that is set to by hand, such as a torque: the choices that may be meant.
pub(crate) fn to_set(card: &Card, vehicle: &Vehicle, limit: &Limit) -> Vec<(String, Words)> {
    let list = if limit.adjust.is_empty() { &limit.check } else { &limit.adjust };
    let measure = words::unit_named(&limit.unit).zip(Kind::named(&limit.kind));
    let all = may_be(vehicle, list).into_iter().filter_map(|choice| {
        let (unit, kind) = measure?;
        let band = choice.band.band();
        Some((
            when(card, vehicle, &choice.when),
            in_words(&band, (unit, kind, limit.decimals), &choice.written, None),
        ))
    });
    all.collect()
}

/// The choices that may hold for a vehicle: the first that surely holds ends the list, as it does when it is decided.
pub(crate) fn may_be<'a>(vehicle: &Vehicle, list: &'a [Choice]) -> Vec<&'a Choice> {
    let mut possible = Vec::new();
    for choice in list {
        match vehicle.holds(&choice.when) {
            Truth::Yes => {
                possible.push(choice);
                break;
            }
            Truth::Maybe => possible.push(choice),
            Truth::No => {}
        }
    }
    possible
}

fn when(card: &Card, vehicle: &Vehicle, guards: &[Guard]) -> String {
    words::guards(guards, card, |guard| vehicle.holds(std::slice::from_ref(guard)) == Truth::Maybe)
}

/// A band in words; where a reading is taken in another unit, in that one too.
fn in_words(
    band: &Band,
    (unit, kind, decimals): (Unit, Kind, u32),
    written: &str,
    reading: Option<&Reading>,
) -> Words {
    let ends = band_fully_shown(band, unit, kind, decimals);
    let as_read = reading.filter(|reading| reading.kind == kind.name()).and_then(measure_of);
    let as_read = as_read.filter(|(read, _)| read.symbol() != unit.symbol());
    let mut others: Vec<String> = Vec::new();
    if let (Some((read, kind)), Some(reading)) = (as_read, reading) {
        others.push(band_shown(band, read, kind, reading.decimals));
    }
    let read = as_read.map(|(read, _)| read.symbol());
    let more = in_other_units(band, unit, kind).into_iter();
    others.extend(more.filter(|other| read.is_none_or(|symbol| !other.ends_with(&format!(" {symbol}")))));
    let written = (written != ends && !written.is_empty()).then(|| written.to_owned());
    Words { ends, written, others, band: band.clone() }
}

fn looked_up(card: &Card, limit: &Limit, at: &Formula) -> String {
    let by = match at {
        Formula::Latest(reading) => card.readings.get(*reading).map(Reading::words),
        _ => None,
    };
    let between =
        if limit.linear { "between two rows in proportion" } else { "between two rows there is no value" };
    match by {
        Some(by) => format!("Look it up at the {by}: {between}."),
        None => format!("Look it up: {between}."),
    }
}

/// The reading that a value is of.
fn reading_of<'a>(card: &'a Card, value: &Formula) -> Option<&'a Reading> {
    match value {
        Formula::Latest(reading) | Formula::First(reading) | Formula::Samples(_, reading) => {
            card.readings.get(*reading)
        }
        Formula::Fold(_, readings) => card.readings.get(*readings.first()?),
        _ => None,
    }
}

/// The unit and kind of a reading.
pub(crate) fn measure_of(reading: &Reading) -> Option<(Unit, Kind)> {
    words::unit_named(&reading.unit).zip(Kind::named(&reading.kind))
}
