//! Bands drawn as a scale: the band to check against, the one to set to within it, the value to aim at.

use crate::bands::{Case, Words};
use dwell_quantity::{Band, Exact, Kind, Unit, from_base};
use maud::{Markup, html};

/// The width of the drawing, in its own units.
const WIDE: f64 = 520.0;
/// The share of the width that is left free on each side.
const FREE: f64 = 0.16;

/// The scale of a case; nothing where there is no end to draw.
pub(crate) fn scale(case: &Case) -> Option<Markup> {
    let (unit, kind) = case.measure?;
    let bands: Vec<&Words> = [&case.check, &case.set].into_iter().flatten().collect();
    let number = |value: &Exact| from_base(value, unit, kind).to_f64();
    let ends = bands.iter().flat_map(|words| [&words.band.low, &words.band.high]).flatten();
    let ends: Vec<f64> = ends.map(|end| number(&end.value)).chain(case.aim.as_ref().map(&number)).collect();
    let least = ends.iter().copied().reduce(f64::min)?;
    let most = ends.iter().copied().reduce(f64::max)?;
    let at = |value: f64| {
        let share = if most > least { (value - least) / (most - least) } else { 0.5 };
        WIDE * (FREE + share * (1.0 - 2.0 * FREE))
    };
    let check = case.check.as_ref().map(|words| drawn(&words.band, "check", 14.0, 22.0, unit, kind, &at));
    let set = case.set.as_ref().map(|words| drawn(&words.band, "set", 18.0, 14.0, unit, kind, &at));
    let outer = case.check.as_ref().or(case.set.as_ref()).map(|words| &words.band)?;
    let says = bands.iter().zip(names(case)).map(|(words, name)| format!("{name} {}", words.ends));
    let says: Vec<String> = says.chain(case.target.iter().map(|aim| format!("aim at {aim}"))).collect();
    let low = outer.low.as_ref().map(|_| WIDE * FREE / 2.0);
    let high = outer.high.as_ref().map(|_| WIDE * (1.0 - FREE / 2.0));
    let descending = unit.descending();
    let words = if descending { ["HIGH", "LOW"] } else { ["LOW", "HIGH"] };
    Some(html! {
        svg.scale viewBox=(if bands.len() > 1 { "0 0 520 62" } else { "0 0 520 50" }) role="img" aria-label=(says.join(", ")) {
            title { (says.join(", ")) }
            line.axis x1="0" y1="25" x2="520" y2="25" {}
            @for drawing in check.iter().chain(&set) { (drawing) }
            @if let Some(aim) = &case.aim {
                @let x = at(number(aim));
                path.aim d=(format!("M{x:.1} 17 l8 8 l-8 8 l-8 -8 z")) {}
            }
            @for (place, word) in [low, high].into_iter().zip(words) {
                @if let Some(x) = place { text.out x=(px(x)) y="12" text-anchor="middle" { (word) } }
            }
            @for (row, words) in bands.iter().enumerate() {
                (numbers(&words.band, row, bands.len(), unit, kind, &at))
            }
        }
    })
}

fn names(case: &Case) -> impl Iterator<Item = &'static str> {
    let check = case.check.as_ref().map(|_| "in band");
    check.into_iter().chain(case.set.as_ref().map(|_| "set to"))
}

fn drawn(
    band: &Band,
    class: &str,
    top: f64,
    height: f64,
    unit: Unit,
    kind: Kind,
    at: &dyn Fn(f64) -> f64,
) -> Markup {
    let number = |value: &Exact| at(from_base(value, unit, kind).to_f64());
    let one = band.low.as_ref().map(|end| number(&end.value));
    let other = band.high.as_ref().map(|end| number(&end.value));
    let (from, to) = if unit.descending() { (other, one) } else { (one, other) };
    let (from, to) = (from.unwrap_or(0.0), to.unwrap_or(WIDE));
    // A band of one value is a line that can be seen.
    let wide = (to - from).max(3.0);
    html! { rect class=(class) x=(px(from)) y=(px(top)) width=(px(wide)) height=(px(height)) {} }
}

/// The numbers at the ends; those of the band within stand a line lower.
fn numbers(band: &Band, row: usize, rows: usize, unit: Unit, kind: Kind, at: &dyn Fn(f64) -> f64) -> Markup {
    let inner = rows > 1 && row > 0;
    let y = if inner { 60.0 } else { 47.0 };
    let ends = [(&band.low, unit.descending()), (&band.high, !unit.descending())];
    let same = band.low.as_ref().zip(band.high.as_ref()).is_some_and(|(low, high)| low.value == high.value);
    html! {
        @for (end, right) in ends.iter().filter_map(|(end, right)| end.as_ref().map(|end| (end, right))).take(if same { 1 } else { 2 }) {
            @let exact = from_base(&end.value, unit, kind);
            @let x = at(exact.to_f64());
            @let anchor = if same { "middle" } else if *right { "start" } else { "end" };
            line.tick x1=(px(x)) y1="12" x2=(px(x)) y2=(px(y - 8.0)) {}
            text.end x=(px(if *right { x + 4.0 } else { x - 4.0 })) y=(px(y)) text-anchor=(anchor) {
                // An end that is not round stands in words beside the drawing, rounded inwards.
                @if exact.decimals_needed().is_some_and(|decimals| decimals <= 4) { (exact) }
            }
        }
    }
}

/// A length with one decimal.
pub(crate) fn px(value: f64) -> String {
    format!("{value:.1}")
}
