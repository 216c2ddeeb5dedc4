//! What a formula can come to: one value, an interval, or nothing.

use super::room::Room;
use super::samples::{Samples, taken};
use crate::limit::{Fold, Formula};
use dwell_quantity::{Band, Bound, Exact, Rounding, root, sine};
use std::borrow::Cow;
use std::cmp::Ordering;

/// What is known of a value, in the base unit of its kind.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Value {
    /// There is none: not measured, not readable, outside a table.
    Missing,
    /// What was read: one point, or an interval such as "above 1000 MΩ".
    Read(Band),
    /// One number that is not rational, as near as it is known: it lies between these two.
    Near(Exact, Exact),
    /// One of these, it is not known which.
    Somewhere(Room),
}

impl Value {
    /// One exact value.
    pub fn point(value: Exact) -> Value {
        Value::Read(Band::closed(value.clone(), value))
    }

    /// One number that lies between these two, or is the one where they are the same.
    fn between(low: Exact, high: Exact) -> Value {
        if low == high { Value::point(low) } else { Value::Near(low, high) }
    }

    /// The ends between which one number lies; both the same where it is exact. None where it is not one number.
    fn single(&self) -> Option<(&Exact, &Exact)> {
        match self {
            Value::Near(low, high) => Some((low, high)),
            _ => self.exact().map(|exact| (exact, exact)),
        }
    }

    /// The number, to be shown: where it is not rational, one that lies just below it.
    pub fn about(&self) -> Option<&Exact> {
        self.single().map(|(low, _)| low)
    }

    /// Nothing at all is known.
    pub fn unknown() -> Value {
        Value::Somewhere(Room::anything())
    }

    /// The exact value, where it is one point.
    pub fn exact(&self) -> Option<&Exact> {
        match self {
            Value::Read(Band { low: Some(low), high: Some(high) }) if low.value == high.value => {
                Some(&low.value)
            }
            _ => None,
        }
    }

    /// One of what a room has in it.
    pub fn of(room: Room) -> Value {
        let only_missing = !room.may_be_interval() && room.number.is_none();
        if only_missing { Value::Missing } else { Value::Somewhere(room) }
    }

    /// All that it may be.
    pub fn room(&self) -> Room {
        match self {
            Value::Missing => Room { number: None, missing: true, ..Room::number(Band::all()) },
            Value::Near(low, high) => Room::number(Band::closed(low.clone(), high.clone())),
            Value::Read(band) => Room { wide: self.exact().is_none(), ..Room::number(band.clone()) },
            Value::Somewhere(room) => room.clone(),
        }
    }

    /// All that it reaches over; none where there is none.
    pub fn reach(&self) -> Option<Cow<'_, Band>> {
        match self {
            Value::Missing => None,
            Value::Near(low, high) => Some(Cow::Owned(Band::closed(low.clone(), high.clone()))),
            Value::Read(band) => Some(Cow::Borrowed(band)),
            Value::Somewhere(room) => room.reach().map(Cow::Owned),
        }
    }

    /// Whether it is, or may be, anything but one number.
    pub fn may_be_interval(&self) -> bool {
        match self {
            Value::Missing | Value::Near(..) => false,
            Value::Read(_) => self.exact().is_none(),
            Value::Somewhere(room) => room.may_be_interval(),
        }
    }

    /// Whether there may be none.
    pub fn may_be_missing(&self) -> bool {
        match self {
            Value::Missing => true,
            Value::Read(_) | Value::Near(..) => false,
            Value::Somewhere(room) => room.missing,
        }
    }
}

/// Gives a reading's latest value, or with `true` the one as found.
pub type Read<'a> = &'a dyn Fn(usize, bool) -> Value;

/// Gives the samples that counted in the last measurement of a reading.
pub type ReadSamples<'a> = &'a dyn Fn(usize) -> Samples;

/// What a formula comes to.
pub fn formula_value(formula: &Formula, read: Read<'_>, samples: ReadSamples<'_>) -> Value {
    match formula {
        Formula::Value(number) => Value::point(number.0.clone()),
        Formula::Latest(reading) => read(*reading, false),
        Formula::First(reading) => read(*reading, true),
        Formula::Plus(left, right) => {
            both(left, right, (read, samples), |a, b| Some(plus(a, b)), |a, b| a.room().plus(&b.room()))
        }
        Formula::Minus(left, right) => both(
            left,
            right,
            (read, samples),
            |a, b| Some(plus(a, &negated(b))),
            |a, b| a.room().plus(&b.room().negated()),
        ),
        Formula::Times(left, right) => both(
            left,
            right,
            (read, samples),
            |a, b| Some(times(a, b)),
            |a, b| match (a.exact(), b.exact()) {
                (Some(by), _) => Some(b.room().scaled(by)),
                (None, Some(by)) => Some(a.room().scaled(by)),
                (None, None) => None,
            },
        ),
        Formula::Over(left, right) => both(left, right, (read, samples), over, |a, b| {
            Some(a.room().scaled(&Exact::one().checked_div(b.exact()?)?))
        }),
        Formula::Smaller(left, right) => {
            both(left, right, (read, samples), |a, b| Some(smaller(a, b)), |_, _| None)
        }
        Formula::Larger(left, right) => {
            let larger = |a: &Band, b: &Band| Some(negated(&smaller(&negated(a), &negated(b))));
            both(left, right, (read, samples), larger, |_, _| None)
        }
        Formula::Sine(inner) => one(inner, (read, samples), |band| Some(sine_of(band)), |_| false),
        Formula::Root(inner) => one(inner, (read, samples), root_of, |band| {
            band.low.as_ref().is_none_or(|low| low.value.is_negative())
        }),
        Formula::Fold(fold, readings) => {
            let values: Vec<Value> = readings.iter().map(|reading| read(*reading, false)).collect();
            folded(*fold, &values)
        }
        Formula::Samples(fold, reading) => match (samples(*reading), read(*reading, false)) {
            (_, Value::Missing) => Value::Missing,
            (Samples::Counted(values), _) => taken(*fold, &values),
            (Samples::Unknown, _) => Value::unknown(),
        },
    }
}

/// What a function of one value comes to: `work` of what it reaches over, which may come to nothing where `may_fail`.
fn one(
    inner: &Formula,
    (read, samples): (Read<'_>, ReadSamples<'_>),
    work: impl Fn(&Band) -> Option<Band>,
    may_fail: impl Fn(&Band) -> bool,
) -> Value {
    let value = formula_value(inner, read, samples);
    let Some(reach) = value.reach() else { return Value::Missing };
    match (work(&reach), &value) {
        // So near to where there is none that it cannot be told whether there is one.
        (_, Value::Near(..)) if may_fail(&reach) => Value::Missing,
        (Some(band), Value::Somewhere(room)) => Value::of(Room {
            wide: room.may_be_interval(),
            missing: room.missing || may_fail(&reach),
            ..Room::number(band)
        }),
        (Some(band), value) => computed(band, value.single().is_some()),
        (None, Value::Somewhere(_)) => Value::unknown(),
        (None, _) => Value::Missing,
    }
}

/// Two values made one: `join` of what each reaches over, `rooms` where it is not known what they are.
fn both(
    left: &Formula,
    right: &Formula,
    (read, samples): (Read<'_>, ReadSamples<'_>),
    join: impl Fn(&Band, &Band) -> Option<Band>,
    rooms: impl Fn(&Value, &Value) -> Option<Room>,
) -> Value {
    let (left, right) = (formula_value(left, read, samples), formula_value(right, read, samples));
    let joined = match (left.reach(), right.reach()) {
        (Some(a), Some(b)) => join(&a, &b),
        _ => return Value::Missing,
    };
    let open = [&left, &right].iter().any(|value| matches!(value, Value::Somewhere(_)));
    match joined {
        None if open => Value::unknown(),
        None => Value::Missing,
        // Told apart where that can be; otherwise all that the two reach over.
        Some(band) if open => Value::of(rooms(&left, &right).unwrap_or_else(|| Room {
            wide: left.may_be_interval() || right.may_be_interval(),
            missing: left.may_be_missing() || right.may_be_missing(),
            ..Room::number(band)
        })),
        Some(band) => computed(band, left.single().is_some() && right.single().is_some()),
    }
}

/// What is computed from values that are known: one number from single ones, otherwise an interval.
fn computed(band: Band, single: bool) -> Value {
    match band {
        Band { low: Some(low), high: Some(high) } if single => Value::between(low.value, high.value),
        band => Value::Read(band),
    }
}

/// Several values made one.
pub(super) fn folded(fold: Fold, values: &[Value]) -> Value {
    let single: Option<Vec<(&Exact, &Exact)>> = values.iter().map(Value::single).collect();
    match single.and_then(|values| fold_single(fold, &values)) {
        Some((low, high)) => Value::between(low, high),
        None if values.iter().any(|value| matches!(value, Value::Missing)) => Value::Missing,
        None if values.iter().all(|value| !matches!(value, Value::Somewhere(_))) => Value::Missing,
        None => Value::unknown(),
    }
}

/// Several numbers made one, each of which lies between two: the two between which that lies.
fn fold_single(fold: Fold, values: &[(&Exact, &Exact)]) -> Option<(Exact, Exact)> {
    let lows: Vec<&Exact> = values.iter().map(|(low, _)| *low).collect();
    let highs: Vec<&Exact> = values.iter().map(|(_, high)| *high).collect();
    if lows == highs {
        return fold_exact(fold, &lows).map(|exact| (exact.clone(), exact));
    }
    match fold {
        Fold::Spread => {
            let least = *lows.iter().max()? - *highs.iter().min()?;
            let most = *highs.iter().max()? - *lows.iter().min()?;
            Some((least.max(Exact::zero()), most))
        }
        Fold::Furthest => {
            let far = |(low, high): &(&Exact, &Exact)| (low.abs().min(high.abs()), low.abs().max(high.abs()));
            let least = values.iter().map(|value| far(value).0).max()?;
            let may: Vec<_> = values.iter().filter(|value| far(value).1 >= least).collect();
            let low = may.iter().map(|(low, _)| *low).min()?;
            let high = may.iter().map(|(_, high)| *high).max()?;
            Some((low.clone(), high.clone()))
        }
        // The others rise with each of the values.
        _ => fold_exact(fold, &lows).zip(fold_exact(fold, &highs)),
    }
}

/// Several exact values made one; nothing for none.
pub(crate) fn fold_exact(fold: Fold, values: &[&Exact]) -> Option<Exact> {
    let lowest = || values.iter().min().copied();
    let highest = || values.iter().max().copied();
    let sum = || values.iter().fold(Exact::zero(), |sum, value| &sum + *value);
    match fold {
        Fold::Lowest => lowest().cloned(),
        Fold::Highest => highest().cloned(),
        Fold::Spread => Some(highest()? - lowest()?),
        Fold::Sum => Some(sum()),
        Fold::Mean => sum().checked_div(&Exact::whole(i64::try_from(values.len()).ok()?)),
        Fold::Furthest => values.iter().max_by_key(|value| value.abs()).map(|value| (*value).clone()),
        Fold::Last => values.last().map(|value| (*value).clone()),
    }
}

pub(super) fn plus(a: &Band, b: &Band) -> Band {
    let ends = |a: &Option<Bound>, b: &Option<Bound>| match (a, b) {
        (Some(a), Some(b)) => Some(Bound { value: &a.value + &b.value, closed: a.closed && b.closed }),
        _ => None,
    };
    Band { low: ends(&a.low, &b.low), high: ends(&a.high, &b.high) }
}

pub(super) fn negated(a: &Band) -> Band {
    let end = |end: &Option<Bound>| end.as_ref().map(|end| Bound { value: -&end.value, closed: end.closed });
    Band { low: end(&a.high), high: end(&a.low) }
}

/// To how many decimals a sine is worked out that is not rational.
const DECIMALS: u32 = 30;

/// The sines of the angles of a band, in turns. Within a quarter of a turn from zero they rise with the angle; of a wider band
/// they may be any. What is not rational lies between the two ends that come out; those of more than one angle are one step
/// farther out, so that they hold the sine of every angle in the band.
fn sine_of(band: &Band) -> Band {
    let quarter = Exact::ratio(1, 4).unwrap_or_default();
    let rises = |end: &Option<Bound>| end.as_ref().is_some_and(|end| end.value.abs() <= quarter);
    if let Some(angle) = point(band) {
        let (low, high) = rounded_sine(angle);
        return Band::closed(low, high);
    }
    if !rises(&band.low) || !rises(&band.high) {
        return Band::closed(Exact::whole(-1), Exact::one());
    }
    let step = Exact::one().checked_div(&power_of_ten(DECIMALS)).unwrap_or_default();
    let end = |end: &Bound, is_low: bool| {
        let (low, high) = rounded_sine(&end.value);
        match (low == high, is_low) {
            (true, _) => Bound { value: low, closed: end.closed },
            (false, true) => Bound::closed((low - step.clone()).max(Exact::whole(-1))),
            (false, false) => Bound::closed((high + step.clone()).min(Exact::one())),
        }
    };
    Band {
        low: band.low.as_ref().map(|low| end(low, true)),
        high: band.high.as_ref().map(|high| end(high, false)),
    }
}

fn power_of_ten(decimals: u32) -> Exact {
    (0..decimals).fold(Exact::one(), |power, _| &power * &Exact::whole(10))
}

/// The two numbers with so many decimals between which a sine lies; the same one twice where it is rational.
fn rounded_sine(angle: &Exact) -> (Exact, Exact) {
    let (low, high) = sine(angle);
    if low == high {
        return (low, high);
    }
    (low.rounded(DECIMALS, Rounding::Down), high.rounded(DECIMALS, Rounding::Up))
}

/// The roots of the values of a band; none where they are all below zero, from zero where some are. What is not rational lies
/// between the two ends that come out.
fn root_of(band: &Band) -> Option<Band> {
    let zero = || Bound { value: Exact::zero(), closed: true };
    let end = |end: &Bound, is_low: bool| {
        let (low, high) = root(&end.value)?;
        let closed = end.closed || low != high;
        Some(Bound { value: if is_low { low } else { high }, closed })
    };
    let high = match &band.high {
        Some(high) => Some(end(high, false)?),
        None => None,
    };
    let low = match &band.low {
        Some(low) if point(band).is_some() => end(low, true)?,
        Some(low) => end(low, true).unwrap_or_else(zero),
        None => zero(),
    };
    Some(Band { low: Some(low), high })
}

/// The smaller of two values: its lower end is the lower of both, its upper end the lower of those that there are. Where the two
/// are the same, one that is in the band is enough for the lower end, and one that is not for the upper.
fn smaller(a: &Band, b: &Band) -> Band {
    let lower = |a: &Bound, b: &Bound, closed: bool| match a.value.cmp(&b.value) {
        Ordering::Less => a.clone(),
        Ordering::Greater => b.clone(),
        Ordering::Equal => Bound { value: a.value.clone(), closed },
    };
    let low = a.low.as_ref().zip(b.low.as_ref()).map(|(a, b)| lower(a, b, a.closed || b.closed));
    let high = match (&a.high, &b.high) {
        (Some(a), Some(b)) => Some(lower(a, b, a.closed && b.closed)),
        (one, other) => one.clone().or_else(|| other.clone()),
    };
    Band { low, high }
}

pub(super) fn scaled(a: &Band, by: &Exact) -> Band {
    let end =
        |end: &Option<Bound>| end.as_ref().map(|end| Bound { value: &end.value * by, closed: end.closed });
    if by.is_zero() {
        Band::closed(Exact::zero(), Exact::zero())
    } else if by.is_negative() {
        Band { low: end(&a.high), high: end(&a.low) }
    } else {
        Band { low: end(&a.low), high: end(&a.high) }
    }
}

fn point(a: &Band) -> Option<&Exact> {
    match (&a.low, &a.high) {
        (Some(low), Some(high)) if low.value == high.value => Some(&low.value),
        _ => None,
    }
}

fn times(a: &Band, b: &Band) -> Band {
    if let Some(by) = point(b) {
        return scaled(a, by);
    }
    if let Some(by) = point(a) {
        return scaled(b, by);
    }
    let corners: Option<Vec<Exact>> =
        [(&a.low, &b.low), (&a.low, &b.high), (&a.high, &b.low), (&a.high, &b.high)]
            .iter()
            .map(|(x, y)| Some(&x.as_ref()?.value * &y.as_ref()?.value))
            .collect();
    match corners.as_ref().and_then(|all| Some((all.iter().min()?, all.iter().max()?))) {
        Some((low, high)) => Band::closed(low.clone(), high.clone()),
        None => Band::all(),
    }
}

fn over(a: &Band, b: &Band) -> Option<Band> {
    let one = Exact::one();
    if let Some(by) = point(b) {
        return Some(scaled(a, &one.checked_div(by)?));
    }
    if b.contains(&Exact::zero()) {
        return None;
    }
    match (&b.low, &b.high) {
        (Some(low), Some(high)) => {
            Some(times(a, &Band::closed(one.checked_div(&high.value)?, one.checked_div(&low.value)?)))
        }
        _ => Some(Band::all()),
    }
}
