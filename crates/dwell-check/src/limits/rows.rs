//! The rows of a table as they follow each other: keys out of order, doubled or left out, a value that breaks the run.

use crate::finding::Place;
use crate::model::{ResolvedBand, Spec};
use crate::trouble::Trouble;
use dwell_quantity::{Bound, Exact};

/// The fewest rows in which one that breaks the run can be told from a run that turns.
const ENOUGH: usize = 4;

/// One row: its key as a number, its band.
type Row<'a> = (&'a Exact, &'a ResolvedBand, &'a ResolvedBand);

/// Tells of the first bad row of each group of rows that stand at points.
pub(super) fn shape(spec: &Spec, troubles: &mut Vec<Trouble>) {
    for (_, rows) in spec.rows.iter().flat_map(|rows| &rows.groups) {
        let points: Vec<Row<'_>> =
            rows.iter().filter_map(|(key, band)| Some((point(key)?, key, band))).collect();
        let found = doubled(&points).or_else(|| unordered(&points)).or_else(|| left_out(&points, spec));
        let found = found.or_else(|| lost_sign(&points, spec)).or_else(|| breaks_the_run(&points));
        let found = found.or_else(|| far_off(&points));
        if let Some((place, first, what)) = found {
            troubles.push(Trouble::TableShape { place, first, table: spec.name.clone(), what });
        }
    }
}

/// The number that a key is; `None` for a class.
fn point(key: &ResolvedBand) -> Option<&Exact> {
    let (low, high) = (key.band.low.as_ref()?, key.band.high.as_ref()?);
    (low.value == high.value).then_some(&low.value)
}

/// Where it is, the row that it goes against, and what is wrong.
type Found = (Place, Option<Place>, String);

fn doubled(rows: &[Row<'_>]) -> Option<Found> {
    rows.iter().enumerate().find_map(|(at, (value, key, _))| {
        let first = rows.iter().take(at).find(|(other, ..)| other == value)?;
        Some((key.place, Some(first.1.place), format!("has two rows at {}", key.written)))
    })
}

/// The first key that is below the one before it: between the rows a value is looked for from low to high.
fn unordered(rows: &[Row<'_>]) -> Option<Found> {
    rows.windows(2).find_map(|pair| match pair {
        [(one, before, _), (two, here, _)] if one > two => {
            let what = format!("does not rise from {} to {}", before.written, here.written);
            Some((here.place, Some(before.place), what))
        }
        _ => None,
    })
}

/// All steps between the keys are alike but one, which is just twice as wide.
fn left_out(rows: &[Row<'_>], spec: &Spec) -> Option<Found> {
    let steps: Vec<Exact> = rows
        .windows(2)
        .filter_map(|pair| match pair {
            [(one, ..), (two, ..)] => Some((*two - *one).abs()),
            _ => None,
        })
        .collect();
    let step = steps.iter().min()?;
    let wide: Vec<usize> = (0..steps.len()).filter(|at| steps.get(*at) != Some(step)).collect();
    let [at] = wide.as_slice() else { return None };
    let twice = step * &Exact::whole(2);
    if rows.len() < ENOUGH + 1 || steps.get(*at) != Some(&twice) {
        return None;
    }
    let (before, after) = (rows.get(*at)?, rows.get(*at + 1)?);
    let missing = (before.0 + after.0).checked_div(&Exact::whole(2))?;
    let kind = spec.rows.as_ref().map(|rows| rows.by_kind)?;
    let missing = dwell_quantity::shown(&missing, before.1.unit, kind, before.1.decimals);
    Some((after.1.place, Some(before.1.place), format!("leaves out the row at {missing}")))
}

/// The first or last value has another sign than all others, and would go on their run with theirs.
fn lost_sign(rows: &[Row<'_>], spec: &Spec) -> Option<Found> {
    if rows.len() < ENOUGH {
        return None;
    }
    for low in [true, false] {
        let values = values(rows, low)?;
        for at in [0, values.len() - 1] {
            let Some(value) = values.get(at).copied() else { continue };
            let others =
                || values.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, value)| *value);
            let opposite =
                others().all(|other| other.is_negative() != value.is_negative() && !other.is_zero());
            let turned = -value.clone();
            let mended: Vec<&Exact> = values
                .iter()
                .enumerate()
                .map(|(other, value)| if other == at { &turned } else { *value })
                .collect();
            let (_, key, band) = rows.get(at)?;
            if opposite && !value.is_zero() && !runs(&values) && runs(&mended) {
                let shown = dwell_quantity::shown(value, band.unit, spec.kind, band.decimals);
                return Some((
                    band.place,
                    None,
                    format!("has {shown} at {}, with another sign than its other rows", key.written),
                ));
            }
        }
    }
    None
}

/// All other values run one way, and this one lies beside both its neighbours by more than they are apart.
fn breaks_the_run(rows: &[Row<'_>]) -> Option<Found> {
    if rows.len() < ENOUGH {
        return None;
    }
    for low in [true, false] {
        let Some(values) = values(rows, low) else { continue };
        if runs(&values) {
            continue;
        }
        for at in 1..values.len() - 1 {
            let others: Vec<&Exact> = values
                .iter()
                .enumerate()
                .filter(|(other, _)| *other != at)
                .map(|(_, value)| *value)
                .collect();
            let (before, here, after) = (values.get(at - 1)?, values.get(at)?, values.get(at + 1)?);
            let (bottom, top) = if before < after { (before, after) } else { (after, before) };
            let apart = *top - *bottom;
            let off = if *here < *bottom { *bottom - *here } else { *here - *top };
            if runs(&others) && off > apart {
                let (_, key, band) = rows.get(at)?;
                let what = format!("breaks its run with {} at {}", band.written, key.written);
                return Some((band.place, None, what));
            }
        }
    }
    None
}

/// How many times a first or last value is as large as its neighbour where a digit too many, or a lost decimal point, is the
/// likely reason; and how many times the step to it is as wide as any other. A scale that rises tenfold from row to row has
/// steps of ten times (a judgement of ours, no source).
const TOO_LARGE: i64 = 8;
const TOO_WIDE: i64 = 20;

/// The first or last value is many times as large as its neighbour, and the step to it many times as wide as any other.
fn far_off(rows: &[Row<'_>]) -> Option<Found> {
    if rows.len() < ENOUGH {
        return None;
    }
    for low in [true, false] {
        let Some(values) = values(rows, low) else { continue };
        for (at, beside) in [(0, 1), (values.len() - 1, values.len() - 2)] {
            let (here, neighbour) = (values.get(at)?, values.get(beside)?);
            let steps = values.windows(2).enumerate().filter_map(|(step, pair)| match pair {
                [one, two] => Some((step, (*two - *one).abs())),
                _ => None,
            });
            let (own, others): (Vec<_>, Vec<_>) = steps.partition(|(step, _)| *step == at.min(beside));
            let (own, widest) = (&own.first()?.1, others.iter().map(|(_, step)| step).max()?);
            if here.abs() >= &neighbour.abs() * &Exact::whole(TOO_LARGE)
                && !neighbour.is_zero()
                && *own >= widest * &Exact::whole(TOO_WIDE)
                && !widest.is_zero()
            {
                let (_, key, band) = rows.get(at)?;
                let what =
                    format!("is many times as large as beside it with {} at {}", band.written, key.written);
                return Some((band.place, None, what));
            }
        }
    }
    None
}

/// The lower or the upper ends of all bands; `None` where one has none.
fn values<'a>(rows: &[Row<'a>], low: bool) -> Option<Vec<&'a Exact>> {
    let end = |band: &'a ResolvedBand| -> Option<&'a Bound> {
        if low { band.band.low.as_ref() } else { band.band.high.as_ref() }
    };
    rows.iter().map(|(_, _, band)| end(band).map(|end| &end.value)).collect()
}

/// Whether the values go strictly one way.
fn runs(values: &[&Exact]) -> bool {
    let each = |goes: fn(&Exact, &Exact) -> bool| {
        values.windows(2).all(|pair| matches!(pair, [one, two] if goes(one, two)))
    };
    each(|one, two| one < two) || each(|one, two| one > two)
}
