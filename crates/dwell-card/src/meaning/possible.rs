//! What a reading can be, and what that leaves of an interval: "below 0.05 mm" of what is never below 0 is 0 to 0.05 mm.

use super::Value;
use crate::limit::Reading;
use dwell_quantity::{Band, Kind};

/// All that a reading can be: what its quantity never leaves, and what its kind can be by nature.
pub fn possible(reading: &Reading) -> Band {
    let declared = reading.possible.as_ref().map_or_else(Band::all, |range| range.band());
    let natural = Kind::named(&reading.kind).map_or_else(Band::all, Kind::possible);
    declared.intersect(&natural)
}

/// What of an interval that was read is possible; none where that is nothing. A number stays what it is.
pub fn cut(read: Band, reading: &Reading) -> Option<Band> {
    if read.low.is_some() && read.low == read.high {
        return Some(read);
    }
    Some(read.intersect(&possible(reading))).filter(|left| !left.is_empty())
}

/// An interval as somebody reads it off: without an end that is only there because nothing beyond it is possible.
pub fn as_read(value: &Value, reading: &Reading) -> Value {
    let Value::Read(band) = value else { return value.clone() };
    let ends = possible(reading);
    let low = band.low.clone().filter(|low| ends.low.as_ref() != Some(low));
    let high = band.high.clone().filter(|high| ends.high.as_ref() != Some(high));
    if reading.formula.is_some() || (low.is_none() && high.is_none()) || value.exact().is_some() {
        return value.clone();
    }
    Value::Read(Band { low, high })
}
