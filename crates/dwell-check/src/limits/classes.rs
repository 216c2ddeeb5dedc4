//! Tables by classes: holes between two classes, classes that overlap, and readings that the rows do not reach.

use crate::finding::Place;
use crate::lower::Lowered;
use crate::model::{Model, ResolvedBand, Rows, Spec};
use crate::trouble::Trouble;
use dwell_card::graph::{Act, Condition, Side, Test};
use dwell_card::limit::Formula;
use dwell_quantity::{Band, Bound, Exact, band_shown};

/// Tells of holes between neighbouring classes of each group of rows, and of classes that overlap in more than an end.
pub(super) fn seams(spec: &Spec, troubles: &mut Vec<Trouble>) {
    let Some(rows) = &spec.rows else { return };
    for (_, group) in &rows.groups {
        let mut keys: Vec<&ResolvedBand> = group.iter().map(|(key, _)| key).collect();
        if keys.iter().all(|key| is_point(&key.band)) {
            continue;
        }
        keys.sort_by(|one, other| lowest(&one.band).cmp(&lowest(&other.band)));
        for pair in keys.windows(2) {
            let [before, after] = pair else { continue };
            // Beside a point `between rows` says what holds.
            if is_point(&before.band) || is_point(&after.band) {
                continue;
            }
            let what = match seam(&before.band, &after.band, rows) {
                Seam::Fits => continue,
                Seam::Hole => format!("has no row between {} and {}", before.written, after.written),
                Seam::Overlap => {
                    format!("has two rows where {} and {} overlap", before.written, after.written)
                }
            };
            let (place, other) = (after.place, Some(before.place));
            troubles.push(Trouble::TableGap { place, other, table: spec.name.clone(), what });
        }
    }
}

enum Seam {
    Fits,
    Hole,
    Overlap,
}

/// How a class and the next one meet. A value that is the end of both belongs to the first of them.
fn seam(before: &Band, after: &Band, rows: &Rows) -> Seam {
    let (Some(high), Some(low)) = (&before.high, &after.low) else { return Seam::Overlap };
    if high.value > low.value {
        return Seam::Overlap;
    }
    if high.value == low.value {
        return if high.closed || low.closed { Seam::Fits } else { Seam::Hole };
    }
    let next = &high.value + &Exact::one();
    let counted_on = rows.by_kind.counted() && high.closed && low.closed && next == low.value;
    if counted_on { Seam::Fits } else { Seam::Hole }
}

fn is_point(band: &Band) -> bool {
    band.width().is_some_and(|width| width.is_zero())
}

/// For sorting: a class without a lower end comes first.
fn lowest(band: &Band) -> Option<&Exact> {
    band.low.as_ref().map(|low| &low.value)
}

/// Tells of tables that are looked up at a reading which may lie outside their rows by what is expected of it.
pub(super) fn reached(model: &Model, lowered: &Lowered, troubles: &mut Vec<Trouble>) {
    for (at, (node, place)) in lowered.card.nodes.iter().zip(&lowered.places).enumerate() {
        let condition: &Condition = match &node.act {
            // Where the text says what happens without a reading, it has thought of what the rows do not reach.
            Act::Judge(_) if has_arm(lowered, at) => continue,
            Act::Judge(judge) => &judge.condition,
            Act::Branch { condition } => condition,
            _ => continue,
        };
        for test in &condition.tests {
            let Test::Meets { limit, at: Some(Formula::Latest(reading)), .. } = test else { continue };
            let spec = lowered.limit_specs.get(limit).and_then(|spec| model.specs.get(*spec));
            let Some((spec, rows)) = spec.and_then(|spec| Some((spec, spec.rows.as_ref()?))) else {
                continue;
            };
            let Some((expected, read)) = expected(lowered, *reading) else { continue };
            for (_, group) in &rows.groups {
                let Some(beyond) = beyond(&expected, group, rows) else { continue };
                let unit = group.first().map_or_else(|| rows.by_kind.usual_unit(), |(key, _)| key.unit);
                let decimals = group.iter().map(|(key, _)| key.decimals).max().unwrap_or(0);
                let shown = band_shown(&beyond, unit, rows.by_kind, decimals);
                let what = format!("has no row for {shown}, which `{}` may be", name(lowered, *reading));
                troubles.push(Trouble::TableGap {
                    place: *place,
                    other: Some(read),
                    table: spec.name.clone(),
                    what,
                });
                break;
            }
        }
    }
}

/// Whether an `otherwise no reading` follows a judging.
fn has_arm(lowered: &Lowered, judging: usize) -> bool {
    lowered.card.nodes.iter().any(|node| match &node.act {
        Act::Branch { condition } => condition
            .tests
            .iter()
            .any(|test| matches!(test, Test::Side { judge, side: Side::NoReading, .. } if *judge == judging)),
        _ => false,
    })
}

fn name(lowered: &Lowered, reading: usize) -> &str {
    lowered.card.readings.get(reading).map_or("", |known| known.name.as_str())
}

/// What a value that is read must lie in to be believed, and where it is read.
fn expected(lowered: &Lowered, reading: usize) -> Option<(Band, Place)> {
    let mut nodes = lowered.card.nodes.iter().zip(&lowered.places);
    nodes.find_map(|(node, place)| match &node.act {
        Act::Measure(measure) if measure.readings.contains(&reading) => {
            Some((measure.expected.as_ref()?.band(), *place))
        }
        _ => None,
    })
}

/// The first part of a band that no row reaches; nothing where the rows are points between which nothing counts.
fn beyond(expected: &Band, group: &[(ResolvedBand, ResolvedBand)], rows: &Rows) -> Option<Band> {
    let keys = || group.iter().map(|(key, _)| &key.band);
    if !rows.linear && keys().all(is_point) {
        return None;
    }
    let lows: Option<Vec<&Bound>> = keys().map(|key| key.low.as_ref()).collect();
    let highs: Option<Vec<&Bound>> = keys().map(|key| key.high.as_ref()).collect();
    let low =
        lows.and_then(|lows| lows.into_iter().min_by(|one, other| one.value.cmp(&other.value)).cloned());
    let high =
        highs.and_then(|highs| highs.into_iter().max_by(|one, other| one.value.cmp(&other.value)).cloned());
    let outside = Band { low, high }.complement();
    outside.into_iter().map(|part| part.intersect(expected)).find(|part| !part.is_empty())
}
