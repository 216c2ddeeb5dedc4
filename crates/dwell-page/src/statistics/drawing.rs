//! Where the values lie: a dot for each, as found above, as left below, over the band.

use dwell_quantity::Exact;
use dwell_record::statistics::{Group, Key, Limits};
use maud::{Markup, html};
use std::cmp::Ordering;
use std::collections::BTreeMap;

/// The width of the drawing, in its own units.
const WIDE: f64 = 640.0;
/// The space beside the outermost thing that is drawn.
const EDGE: f64 = 60.0;
/// The columns that dots stand in.
const COLUMNS: f64 = 64.0;
/// The height of each of the two rows.
const HIGH: f64 = 48.0;
/// How far from a limit the middle of a dot stays.
const BESIDE: f64 = 4.0;
/// The most dots on top of each other; above that they stand closer.
const MOST: f64 = 12.0;

/// The drawing; nothing where there is nothing to draw.
pub(super) fn drawing(key: &Key, group: &Group) -> Option<Markup> {
    let number = |value: &Exact| value.to_f64();
    let ends: Vec<f64> = [&group.limits.low, &group.limits.high].into_iter().flatten().map(number).collect();
    let values = || group.found.values.iter().chain(&group.left.values).map(number);
    values().next()?;
    let least = values().chain(ends.iter().copied()).reduce(f64::min)?;
    let most = values().chain(ends.iter().copied()).reduce(f64::max)?;
    let wide = if most > least { most - least } else { 1.0 };
    let at = move |value: f64| EDGE + (value - least) / wide * (WIDE - 2.0 * EDGE);
    let low = group.limits.low.as_ref().map(|end| at(number(end)));
    let high = group.limits.high.as_ref().map(|end| at(number(end)));
    let some = low.is_some() || high.is_some();
    let (from, to) = (low.unwrap_or(0.0), high.unwrap_or(WIDE));
    let says = format!(
        "{} values as found, {} as left, over the band",
        group.found.values.len(),
        group.left.values.len()
    );
    Some(html! {
        svg.dots viewBox="0 0 640 146" role="img" aria-label=(says) {
            title { (says) }
            @if some { rect.band x=(from) y="6" width=((to - from).max(0.0)) height="116" {} }
            @for end in low.iter().chain(&high) { line.end x1=(end) x2=(end) y1="6" y2="122" {} }
            text x="2" y="56" { "found" }
            text x="2" y="114" { "left" }
            line.axis x1="0" x2="640" y1="62" y2="62" {}
            line.axis x1="0" x2="640" y1="120" y2="120" {}
            (dots(&group.found.values, 62.0, &group.limits, &at))
            (dots(&group.left.values, 120.0, &group.limits, &at))
            @for (end, value) in [(low, &group.limits.low), (high, &group.limits.high)] {
                @if let (Some(x), Some(value)) = (end, value) { text.number x=(x) y="138" { (value) " " (key.unit) } }
            }
            @if !some {
                text.number x=(at(least)) y="138" { (super::short(&smallest(group)?)) }
            }
        }
    })
}

fn smallest(group: &Group) -> Option<Exact> {
    group.found.values.first().into_iter().chain(group.left.values.first()).min().cloned()
}

/// A dot for each value, those of one column on top of each other; none is moved over a limit.
fn dots(values: &[Exact], foot: f64, limits: &Limits, at: &impl Fn(f64) -> f64) -> Markup {
    let step = WIDE / COLUMNS;
    let mut columns: BTreeMap<(Ordering, i64), u32> = BTreeMap::new();
    for value in values {
        // A drawing: that a column is chosen by a binary float decides nothing.
        #[expect(clippy::cast_possible_truncation, reason = "a column of a drawing, from 0 to 64")]
        let column = (at(value.to_f64()) / step).round() as i64;
        *columns.entry((side(value, limits), column)).or_default() += 1;
    }
    let ends = [&limits.low, &limits.high].map(|end| end.as_ref().map(|end| at(end.to_f64())));
    let place = |side: Ordering, column: i64| {
        let x = f64::from(i32::try_from(column).unwrap_or(0)) * step;
        match (side, ends) {
            (Ordering::Less, [Some(low), _]) => x.min(low - BESIDE),
            (Ordering::Greater, [_, Some(high)]) => x.max(high + BESIDE),
            (_, [low, high]) => {
                let x = low.map_or(x, |low| x.max(low + BESIDE));
                high.map_or(x, |high| x.min(high - BESIDE))
            }
        }
    };
    let tallest = columns.values().copied().max().unwrap_or(1);
    let rise = (HIGH / f64::from(tallest).max(1.0)).min(HIGH / MOST);
    html! {
        @for ((side, column), count) in columns {
            @let x = format!("{:.1}", place(side, column));
            @for row in 0..count {
                circle cx=(x) cy=(format!("{:.1}", foot - 3.5 - f64::from(row) * rise)) r="3" {}
            }
        }
    }
}

/// On which side of its limits a value lies, exactly.
fn side(value: &Exact, limits: &Limits) -> Ordering {
    match (&limits.low, &limits.high) {
        (Some(low), _) if value < low => Ordering::Less,
        (_, Some(high)) if value > high => Ordering::Greater,
        _ => Ordering::Equal,
    }
}
