//! Where on a drawn scale a reading stands: its side is the one that was decided, never one that rounding brings about.

use dwell_quantity::{Band, Exact, Kind, Unit, from_base};
use dwell_record::Side;

/// Where a reading lies: below the band, inside it, or above it, each with a part from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Spot {
    /// Below the band: 0 next to its end, 1 as far off as is drawn.
    Below(f64),
    /// In the band: 0 at its low end, 1 at its high end.
    Inside(f64),
    /// Above the band: 0 next to its end.
    Above(f64),
}

/// A band of base units in another unit, its low end first.
pub fn in_unit(band: &Band, unit: Unit, kind: Kind) -> Band {
    let mut band = band.clone();
    for end in [&mut band.low, &mut band.high].into_iter().flatten() {
        end.value = from_base(&end.value, unit, kind);
    }
    if unit.descending() {
        std::mem::swap(&mut band.low, &mut band.high);
    }
    band
}

/// The spot of a value with its side; none where it has no place, or the band no end. Both are in one unit.
pub fn spot(band: &Band, value: &Exact, side: Side) -> Option<Spot> {
    let value = value.to_f64();
    let low = band.low.as_ref().map(|end| end.value.to_f64());
    let high = band.high.as_ref().map(|end| end.value.to_f64());
    // Of a band with one end as much is drawn as its end is large.
    let wide = match (low, high) {
        (Some(low), Some(high)) => high - low,
        (Some(end), None) | (None, Some(end)) => end.abs(),
        (None, None) => return None,
    };
    let wide = if wide > 0.0 { wide } else { 1.0 };
    let (low, high) =
        (low.unwrap_or(high.unwrap_or_default() - wide), high.unwrap_or(low.unwrap_or_default() + wide));
    match side {
        Side::In => Some(Spot::Inside(((value - low) / wide).clamp(0.0, 1.0))),
        Side::Low => Some(Spot::Below(((low - value) / wide).clamp(0.0, 1.0))),
        Side::High => Some(Spot::Above(((value - high) / wide).clamp(0.0, 1.0))),
        Side::NoReading | Side::Other => None,
    }
}
