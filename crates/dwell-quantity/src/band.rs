//! Bands of values, and where a reading lies against one. Everything is in base units of one kind.

use crate::amount::{Amount, KindMismatch};
use crate::kind::Kind;
use crate::number::Exact;

/// One end of a band.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Bound {
    /// The value at the end.
    pub value: Exact,
    /// Whether the value itself belongs to the band.
    pub closed: bool,
}

/// A band of values; an end that is missing is unbounded.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Band {
    /// The lower end.
    pub low: Option<Bound>,
    /// The upper end.
    pub high: Option<Bound>,
}

/// Where a reading lies against a band.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Place {
    /// All of it is in the band.
    In,
    /// All of it is below, by at least this much; zero where it lies on an end that is not part of the band.
    Low(Exact),
    /// All of it is above, by at least this much; zero where it lies on an end that is not part of the band.
    High(Exact),
    /// Part of it is in and part of it is out, so the reading decides nothing.
    Undecided,
}

impl Bound {
    /// An end that belongs to the band.
    pub fn closed(value: Exact) -> Bound {
        Bound { value, closed: true }
    }

    /// An end that does not belong to the band.
    pub fn open(value: Exact) -> Bound {
        Bound { value, closed: false }
    }
}

impl Band {
    /// Every value.
    pub fn all() -> Band {
        Band { low: None, high: None }
    }

    /// From `low` to `high`, both ends included. Reversed ends stay as they are; see [`Band::reversed`].
    pub fn closed(low: Exact, high: Exact) -> Band {
        Band { low: Some(Bound::closed(low)), high: Some(Bound::closed(high)) }
    }

    /// The two ends of a span in whichever order: the smaller becomes the lower one. For spans written in a unit whose
    /// scale runs the other way, such as `5 .. 10 °ATDC`.
    pub fn between(one: Exact, other: Exact) -> Band {
        if one <= other { Band::closed(one, other) } else { Band::closed(other, one) }
    }

    /// A nominal value with its two signed tolerances: `25 +0.021 -0 mm`. In a unit whose scale runs the other way the
    /// tolerances run with it.
    ///
    /// # Errors
    /// [`KindMismatch`] where a unit does not measure the kind or its difference.
    pub fn around(nominal: &Amount, minus: &Amount, plus: &Amount, kind: Kind) -> Result<Band, KindMismatch> {
        let middle = nominal.in_base(kind)?;
        let towards = |tolerance: &Amount| {
            let size = tolerance.in_base_difference(kind)?;
            let turned = nominal.unit.descending() != tolerance.unit.descending();
            Ok(&middle + &(if turned { -size } else { size }))
        };
        let (low, high) = (towards(minus)?, towards(plus)?);
        Ok(if nominal.unit.descending() { Band::closed(high, low) } else { Band::closed(low, high) })
    }

    /// `value` and everything above.
    pub fn at_least(value: Exact) -> Band {
        Band { low: Some(Bound::closed(value)), high: None }
    }

    /// `value` and everything below.
    pub fn at_most(value: Exact) -> Band {
        Band { low: None, high: Some(Bound::closed(value)) }
    }

    /// Everything above `value`.
    pub fn above(value: Exact) -> Band {
        Band { low: Some(Bound::open(value)), high: None }
    }

    /// Everything below `value`.
    pub fn below(value: Exact) -> Band {
        Band { low: None, high: Some(Bound::open(value)) }
    }

    /// `value` alone; also a reading that is one number.
    pub fn exactly(value: Exact) -> Band {
        Band::closed(value.clone(), value)
    }

    /// Whether no value lies in it.
    pub fn is_empty(&self) -> bool {
        match (&self.low, &self.high) {
            (Some(low), Some(high)) => {
                low.value > high.value || (low.value == high.value && !(low.closed && high.closed))
            }
            _ => false,
        }
    }

    /// Whether the lower end is above the upper one.
    pub fn reversed(&self) -> bool {
        matches!((&self.low, &self.high), (Some(low), Some(high)) if low.value > high.value)
    }

    /// Whether the value lies in it; a value on a closed end does.
    pub fn contains(&self, value: &Exact) -> bool {
        let above =
            self.low.as_ref().is_none_or(|low| *value > low.value || (low.closed && *value == low.value));
        let below = self
            .high
            .as_ref()
            .is_none_or(|high| *value < high.value || (high.closed && *value == high.value));
        above && below
    }

    /// Whether every value of this lies in `outer`.
    pub fn inside(&self, outer: &Band) -> bool {
        self.is_empty() || self.intersect(outer) == *self
    }

    /// The values that both have.
    pub fn intersect(&self, other: &Band) -> Band {
        Band { low: tighter(&self.low, &other.low, true), high: tighter(&self.high, &other.high, false) }
    }

    /// Everything that is not in it: none, one or two bands, from low to high.
    pub fn complement(&self) -> Vec<Band> {
        if self.is_empty() {
            return vec![Band::all()];
        }
        let opposite = |bound: &Bound| Some(Bound { value: bound.value.clone(), closed: !bound.closed });
        let below = self.low.as_ref().map(|low| Band { low: None, high: opposite(low) });
        let above = self.high.as_ref().map(|high| Band { low: opposite(high), high: None });
        below.into_iter().chain(above).collect()
    }

    /// From end to end; `None` where an end is missing. Below zero for a reversed band.
    pub fn width(&self) -> Option<Exact> {
        Some(&self.high.as_ref()?.value - &self.low.as_ref()?.value)
    }

    /// The value half-way between the ends; `None` where an end is missing.
    pub fn middle(&self) -> Option<Exact> {
        let sum = &self.high.as_ref()?.value + &self.low.as_ref()?.value;
        sum.checked_div(&Exact::whole(2))
    }

    /// Every value moved by `by`.
    pub fn shifted(&self, by: &Exact) -> Band {
        let moved = |bound: &Bound| Bound { value: &bound.value + by, closed: bound.closed };
        Band { low: self.low.as_ref().map(moved), high: self.high.as_ref().map(moved) }
    }

    /// Every end moved outwards by `by`; inwards where `by` is below zero.
    pub fn widened(&self, by: &Exact) -> Band {
        let low = self.low.as_ref().map(|low| Bound { value: &low.value - by, closed: low.closed });
        let high = self.high.as_ref().map(|high| Bound { value: &high.value + by, closed: high.closed });
        Band { low, high }
    }

    /// Where a reading lies. A reading is a band itself: "above 1000 MΩ" is every value above, so it meets "at least
    /// 100 MΩ" and is undecided against "at least 2000 MΩ".
    pub fn place(&self, reading: &Band) -> Place {
        if reading.is_empty() {
            return Place::Undecided;
        }
        if reading.inside(self) {
            return Place::In;
        }
        if let (Some(low), Some(top)) = (&self.low, &reading.high)
            && apart(top, low)
        {
            return Place::Low(&low.value - &top.value);
        }
        if let (Some(high), Some(bottom)) = (&self.high, &reading.low)
            && apart(high, bottom)
        {
            return Place::High(&bottom.value - &high.value);
        }
        Place::Undecided
    }
}

/// Whether the upper end `top` and the lower end `bottom` of two bands leave no value in common.
fn apart(top: &Bound, bottom: &Bound) -> bool {
    top.value < bottom.value || (top.value == bottom.value && !(top.closed && bottom.closed))
}

/// The tighter of two lower ends (`lower`) or of two upper ends.
fn tighter(one: &Option<Bound>, other: &Option<Bound>, lower: bool) -> Option<Bound> {
    let (Some(a), Some(b)) = (one, other) else { return one.clone().or_else(|| other.clone()) };
    if a.value == b.value {
        return Some(Bound { value: a.value.clone(), closed: a.closed && b.closed });
    }
    Some(if (a.value > b.value) == lower { a.clone() } else { b.clone() })
}
