//! Room: all that a value may be of which more is not known, and what is left of it once a limit has come out on a side.

mod computed;

use super::possible::possible;
use super::samples::{is_sampled, needed};
use super::value::Value;
use crate::graph::{Measure, Side};
use crate::limit::{Fold, Reading};
use dwell_quantity::{Band, Bound, Exact};

/// What a value may be, in the base unit of its kind.
///
/// Where X may lie in "above X" is told by a band of its own: its ends count for "at least X", and an open lower end takes
/// "above X" in as well; for "below X" and "at most X" it is the other way round. So the parts that a limit makes of a room
/// have the ends of the limit, and no reading is in two of them.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Room {
    /// Where it lies, if it is one number; none where it can be none.
    pub number: Option<Band>,
    /// What its quantity can be: an interval ends there.
    pub span: Band,
    /// Where X lies, if it was read as "above X" or "at least X".
    pub above: Option<Band>,
    /// Where X lies, if it was read as "below X" or "at most X".
    pub below: Option<Band>,
    /// Whether it may be any interval in `number`: computed from a reading that is one.
    pub wide: bool,
    /// Whether there may be none at all.
    pub missing: bool,
}

/// The sides of a limit.
const SIDES: [Side; 4] = [Side::In, Side::Low, Side::High, Side::NoReading];

impl Room {
    /// Anything, or nothing.
    pub fn anything() -> Room {
        let all = Some(Band::all());
        let span = Band::all();
        Room { number: all.clone(), span, above: all.clone(), below: all, wide: true, missing: true }
    }

    /// One number in here.
    pub fn number(band: Band) -> Room {
        let number = Some(band).filter(|band| !band.is_empty());
        Room { number, span: Band::all(), above: None, below: None, wide: false, missing: false }
    }

    /// What a measurement can come to; a number as far as `declared`, what the quantity never leaves, an interval also no farther
    /// than its kind can be by nature. An interval is believed where some of it
    /// is possible and all of it is expected; several values are made one only where each is a number.
    pub fn measured(measure: &Measure, reading: &Reading) -> Room {
        let declared = reading.possible.as_ref().map_or_else(Band::all, |range| range.band());
        let expected = measure.expected.as_ref().map_or_else(Band::all, |range| range.band());
        let number = match measure.take {
            Fold::Spread => {
                Band { low: Some(Bound::closed(Exact::zero())), high: expected.width().map(Bound::closed) }
            }
            Fold::Sum => summed(&declared.intersect(&expected)),
            _ => declared.intersect(&expected),
        };
        let single = if is_sampled(measure) { needed(measure) <= 1 } else { measure.times <= 1 };
        let interval = match measure.take {
            Fold::Spread | Fold::Sum => false,
            Fold::Last => true,
            _ => single,
        };
        let span = possible(reading);
        let ends = span.intersect(&expected);
        let part = |free: bool| (interval && free && !ends.is_empty()).then(|| ends.clone());
        Room {
            above: part(all_below(&span.high, &expected.high)),
            below: part(all_above(&span.low, &expected.low)),
            span,
            missing: true,
            ..Room::number(number)
        }
    }

    /// Whether it may be anything but one number.
    pub fn may_be_interval(&self) -> bool {
        self.wide || self.above.is_some() || self.below.is_some()
    }

    /// All that it reaches over; none where it is missing for sure.
    pub fn reach(&self) -> Option<Band> {
        let (low, high) = (&self.span.low, &self.span.high);
        let above = self.above.as_ref().map(|above| Band { low: above.low.clone(), high: high.clone() });
        let below = self.below.as_ref().map(|below| Band { low: low.clone(), high: below.high.clone() });
        let all = [self.number.clone(), above, below];
        all.into_iter().flatten().reduce(|one, other| widest(&one, &other))
    }

    /// Whether this is among what it may be.
    pub fn has(&self, value: &Value) -> bool {
        match value {
            Value::Missing => self.missing,
            Value::Read(band) => {
                let number = self.number.as_ref();
                if let Some(exact) = value.exact() {
                    return number.is_some_and(|room| room.contains(exact));
                }
                let from = |x: &Bound, room: &Option<Band>, above| {
                    room.as_ref().is_some_and(|room| takes(room, x, above))
                };
                let above = band.low.as_ref().is_some_and(|x| from(x, &self.above, true));
                let below = band.high.as_ref().is_some_and(|x| from(x, &self.below, false));
                (self.wide && number.is_some_and(|room| band.inside(room)))
                    || (above && band.high == self.span.high)
                    || (below && band.low == self.span.low)
            }
            Value::Near(low, high) => {
                let between = Band::closed(low.clone(), high.clone());
                self.number.as_ref().is_some_and(|room| between.inside(room))
            }
            Value::Somewhere(room) => self.both(room).as_ref() == Some(room),
        }
    }

    /// The sides of a limit on which it may be.
    pub fn sides(&self, limit: &Band) -> Vec<Side> {
        SIDES.into_iter().filter(|side| self.on(limit, *side).is_some()).collect()
    }

    /// What is left of it where it came out on this side of a limit; none where it cannot. An interval that lies across an end
    /// of the limit decides nothing, like one that is missing; other limits may still decide it.
    pub fn on(&self, limit: &Band, side: Side) -> Option<Room> {
        let (low, high) = (limit.low.as_ref(), limit.high.as_ref());
        let from = |low: Option<&Bound>| Band { low: low.cloned(), high: None };
        let to = |high: Option<&Bound>| Band { low: None, high: high.cloned() };
        let never = || Room {
            number: None,
            span: self.span.clone(),
            above: None,
            below: None,
            wide: self.wide,
            missing: false,
        };
        let part = |of: &Option<Band>, with: &Band| {
            of.as_ref().map(|of| of.intersect(with)).filter(|part| !part.is_empty())
        };
        // An end that nothing possible lies beyond is none for an interval that goes on that far. Where all that is possible
        // lies beyond one, every interval does.
        let (most, least) = (&self.span.high, &self.span.low);
        let most_in = all_below(most, &limit.high);
        let least_in = all_above(least, &limit.low);
        let all_low = low.is_some_and(|low| all_below(most, &under(low).high));
        let all_high = high.is_some_and(|high| all_above(least, &over(high).low));
        let told = !all_low && !all_high;
        let left = match side {
            Side::In => Room {
                number: part(&self.number, limit),
                above: part(&self.above, &from(low)).filter(|_| most_in && told),
                below: part(&self.below, &to(high)).filter(|_| least_in && told),
                ..never()
            },
            Side::Low => {
                let under = under(low?);
                Room {
                    number: part(&self.number, &under),
                    above: self.above.clone().filter(|_| all_low),
                    below: if all_low { self.below.clone() } else { part(&self.below, &under) },
                    ..never()
                }
            }
            Side::High => {
                let over = over(high?);
                Room {
                    number: part(&self.number, &over),
                    above: if all_high { self.above.clone() } else { part(&self.above, &over) },
                    below: self.below.clone().filter(|_| all_high),
                    ..never()
                }
            }
            Side::NoReading => {
                // Which ends lie across the limit: those that are neither in nor beyond it.
                let above = match (low, high) {
                    (_, Some(high)) if !most_in => part(&self.above, &to(Some(high))),
                    (Some(low), _) => part(&self.above, &under(low)),
                    _ => None,
                };
                let below = match (low, high) {
                    (Some(low), _) if !least_in => part(&self.below, &from(Some(low))),
                    (_, Some(high)) => part(&self.below, &over(high)),
                    _ => None,
                };
                let others = [Side::In, Side::Low, Side::High];
                let across = || others.into_iter().filter(|side| self.on(limit, *side).is_some()).count() > 1;
                let number = self.number.clone().filter(|_| self.wide && across());
                Room {
                    wide: number.is_some(),
                    number,
                    above: above.filter(|_| told),
                    below: below.filter(|_| told),
                    missing: self.missing,
                    ..never()
                }
            }
            Side::Other => self.clone(),
        };
        (!left.is_empty()).then_some(left)
    }

    /// What is left where no band could decide it, whichever it was: no number.
    pub fn undecided(&self) -> Option<Room> {
        let number = self.number.clone().filter(|_| self.wide);
        let left = Room { number, ..self.clone() };
        (!left.is_empty()).then_some(left)
    }

    /// What both have room for; none where that is nothing.
    pub fn both(&self, other: &Room) -> Option<Room> {
        let part = |one: &Option<Band>, other: &Option<Band>| {
            one.as_ref()
                .zip(other.as_ref())
                .map(|(one, other)| one.intersect(other))
                .filter(|part| !part.is_empty())
        };
        let left = Room {
            number: part(&self.number, &other.number),
            span: self.span.intersect(&other.span),
            above: part(&self.above, &other.above),
            below: part(&self.below, &other.below),
            wide: self.wide && other.wide,
            missing: self.missing && other.missing,
        };
        (!left.is_empty()).then_some(left)
    }

    /// The smallest room that holds both.
    pub fn joined(&self, other: &Room) -> Room {
        let hull = |one: &Option<Band>, other: &Option<Band>| match (one, other) {
            (Some(one), Some(other)) => Some(widest(one, other)),
            (one, other) => one.clone().or_else(|| other.clone()),
        };
        let intervals = |room: &Room| room.above.is_some() || room.below.is_some();
        let span = match (intervals(self), intervals(other)) {
            (true, false) => self.span.clone(),
            (false, _) => other.span.clone(),
            (true, true) if self.span == other.span => self.span.clone(),
            // Two quantities made one: then it may be any interval of what both reach over.
            (true, true) => {
                let all = [self.reach(), other.reach()].into_iter().flatten();
                return Room {
                    wide: true,
                    missing: self.missing || other.missing,
                    ..Room::number(all.reduce(|one, other| widest(&one, &other)).unwrap_or_else(Band::all))
                };
            }
        };
        Room {
            span,
            number: hull(&self.number, &other.number),
            above: hull(&self.above, &other.above),
            below: hull(&self.below, &other.below),
            wide: self.wide || other.wide,
            missing: self.missing || other.missing,
        }
    }

    fn is_empty(&self) -> bool {
        self.number.is_none() && self.above.is_none() && self.below.is_none() && !self.missing
    }
}

/// Whether X lies in its room: that of "above X", or of "below X".
fn takes(room: &Band, x: &Bound, above: bool) -> bool {
    let at = |end: &Bound, outer: bool| {
        x.value == end.value && if outer { end.closed || !x.closed } else { end.closed && x.closed }
    };
    let from = room.low.as_ref().is_none_or(|low| x.value > low.value || at(low, above));
    let to = room.high.as_ref().is_none_or(|high| x.value < high.value || at(high, !above));
    from && to
}

/// Where a sum of values lies each of which lies in `band`, however many they are.
fn summed(band: &Band) -> Band {
    let zero = Exact::zero();
    Band {
        low: band.low.clone().filter(|low| low.value >= zero),
        high: band.high.clone().filter(|high| high.value <= zero),
    }
}

/// Whether all up to an end lies within an upper limit.
fn all_below(end: &Option<Bound>, limit: &Option<Bound>) -> bool {
    match (end, limit) {
        (_, None) => true,
        (None, _) => false,
        (Some(end), Some(limit)) => {
            end.value < limit.value || end.value == limit.value && (limit.closed || !end.closed)
        }
    }
}

/// Whether all from an end on lies within a lower limit.
fn all_above(end: &Option<Bound>, limit: &Option<Bound>) -> bool {
    match (end, limit) {
        (_, None) => true,
        (None, _) => false,
        (Some(end), Some(limit)) => {
            end.value > limit.value || end.value == limit.value && (limit.closed || !end.closed)
        }
    }
}

fn under(low: &Bound) -> Band {
    Band { low: None, high: Some(Bound { value: low.value.clone(), closed: !low.closed }) }
}

fn over(high: &Bound) -> Band {
    Band { low: Some(Bound { value: high.value.clone(), closed: !high.closed }), high: None }
}

/// The smallest band that holds both.
fn widest(one: &Band, other: &Band) -> Band {
    let low = match (&one.low, &other.low) {
        (Some(x), Some(y)) if x.value < y.value || (x.value == y.value && x.closed) => Some(x.clone()),
        (Some(_), Some(y)) => Some(y.clone()),
        _ => None,
    };
    let high = match (&one.high, &other.high) {
        (Some(x), Some(y)) if x.value > y.value || (x.value == y.value && x.closed) => Some(x.clone()),
        (Some(_), Some(y)) => Some(y.clone()),
        _ => None,
    };
    Band { low, high }
}

#[cfg(test)]
mod tests;
