//! Numbers as people see them: readings to the nearest, limits rounded inwards, never across a limit.

use crate::amount::{from_base, from_base_difference, with_unit};
use crate::band::{Band, Bound};
use crate::kind::Kind;
use crate::number::{Exact, Rounding};
use crate::unit::Unit;

/// How many decimals more than asked for a number may get before it is shown as a fraction.
const MOST_EXTRA: u32 = 12;

/// A base value in a unit with so many decimals, rounded to the nearest (half to even): `62.3 Hz`.
pub fn shown(value: &Exact, unit: Unit, kind: Kind, decimals: u32) -> String {
    with_unit(&from_base(value, unit, kind).fixed(decimals), unit)
}

/// A band in a unit: `820 .. 880 rpm`, `at least 2 mm`, `above 0 V`. Limits are rounded inwards, so that what is shown
/// is never looser than what is meant; where nothing would be left between them, with more decimals.
pub fn band_shown(band: &Band, unit: Unit, kind: Kind, decimals: u32) -> String {
    let mut exact = Band { low: band.low.as_ref().map(|b| in_unit(b, unit, kind)), high: None };
    exact.high = band.high.as_ref().map(|b| in_unit(b, unit, kind));
    if unit.descending() {
        exact = Band { low: exact.high, high: exact.low };
    }
    let tries = (decimals..=decimals.saturating_add(MOST_EXTRA))
        .map(|decimals| (inwards(&exact, decimals), decimals));
    match tries.into_iter().find(|(rounded, _)| !rounded.is_empty()) {
        Some((rounded, decimals)) => in_words(&rounded, unit, |value| value.fixed(decimals)),
        None => in_words(&exact, unit, Exact::to_string),
    }
}

/// The same with as many decimals, up to three more than asked for, as show its ends fully: a computed or drawn-in end is
/// rarely round.
pub fn band_fully_shown(band: &Band, unit: Unit, kind: Kind, decimals: u32) -> String {
    let ends = [&band.low, &band.high].into_iter().flatten();
    let needed =
        ends.map(|end| from_base(&end.value, unit, kind).decimals_needed().unwrap_or(u32::MAX)).max();
    band_shown(band, unit, kind, needed.unwrap_or(decimals).clamp(decimals, decimals.saturating_add(3)))
}

/// How far a reading is off: `1.4 Hz`. The amount is a difference in base units; its sign is not shown. An amount that
/// is not zero never shows as zero: it gets as many decimals as that takes.
pub fn amount_off(amount: &Exact, unit: Unit, kind: Kind, decimals: u32) -> String {
    let unit = if unit.measures(kind) { unit } else { kind.usual_unit() };
    let number = from_base_difference(amount, unit).abs();
    let tries = decimals..=decimals.saturating_add(MOST_EXTRA);
    let enough =
        tries.into_iter().find(|d| number.is_zero() || !number.rounded(*d, Rounding::HalfEven).is_zero());
    with_unit(&enough.map_or_else(|| number.to_string(), |d| number.fixed(d)), unit)
}

/// A reading beside its band: to the nearest, with more decimals where rounding would carry it across a limit, so that
/// 8.04 V never shows as 8.0 V against a limit of 8.0 V.
pub fn reading_shown(value: &Exact, band: &Band, unit: Unit, kind: Kind, decimals: u32) -> String {
    let number = from_base(value, unit, kind);
    let ends: Vec<Exact> =
        [&band.low, &band.high].into_iter().flatten().map(|end| from_base(&end.value, unit, kind)).collect();
    let same_side = |rounded: &Exact| ends.iter().all(|end| number.cmp(end) == rounded.cmp(end));
    let tries = decimals..=decimals.saturating_add(MOST_EXTRA);
    let enough = tries.into_iter().find(|d| same_side(&number.rounded(*d, Rounding::HalfEven)));
    with_unit(&enough.map_or_else(|| number.to_string(), |d| number.fixed(d)), unit)
}

fn in_unit(bound: &Bound, unit: Unit, kind: Kind) -> Bound {
    Bound { value: from_base(&bound.value, unit, kind), closed: bound.closed }
}

/// Both ends rounded inwards. An end that moved belongs to the rounded band, since it lies inside the true one.
fn inwards(band: &Band, decimals: u32) -> Band {
    let end = |bound: &Bound, rounding: Rounding| {
        let value = bound.value.rounded(decimals, rounding);
        let closed = bound.closed || value != bound.value;
        Bound { value, closed }
    };
    Band {
        low: band.low.as_ref().map(|low| end(low, Rounding::Up)),
        high: band.high.as_ref().map(|high| end(high, Rounding::Down)),
    }
}

/// A band of numbers in the words of the language.
fn in_words(band: &Band, unit: Unit, text: impl Fn(&Exact) -> String) -> String {
    let low = band.low.as_ref().map(|low| (if low.closed { "at least" } else { "above" }, text(&low.value)));
    let high =
        band.high.as_ref().map(|high| (if high.closed { "at most" } else { "below" }, text(&high.value)));
    match (low, high) {
        (None, None) => "any value".to_owned(),
        (Some((word, number)), None) | (None, Some((word, number))) => {
            format!("{word} {}", with_unit(&number, unit))
        }
        (Some(("at least", low)), Some(("at most", high))) if low == high => {
            format!("exactly {}", with_unit(&low, unit))
        }
        (Some(("at least", low)), Some(("at most", high))) => {
            format!("{low} .. {}", with_unit(&high, unit))
        }
        (Some((first, low)), Some((second, high))) => {
            format!("{first} {} and {second} {}", with_unit(&low, unit), with_unit(&high, unit))
        }
    }
}
