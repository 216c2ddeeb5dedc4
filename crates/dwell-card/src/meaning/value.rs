//! What a formula can come to: one value, an interval, or nothing.

use super::samples::{Samples, taken};
use crate::limit::{Fold, Formula};
use dwell_quantity::{Band, Bound, Exact};
use std::cmp::Ordering;

/// What is known of a value, in the base unit of its kind.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Value {
    /// There is none: not measured, not readable, outside a table.
    Missing,
    /// What was read: one point, or an interval such as "above 1000 MΩ".
    Read(Band),
    /// Some one value in here, it is not known which; or, where `or_missing`, none.
    Somewhere {
        /// Where it lies.
        band: Band,
        /// Whether there may be none.
        or_missing: bool,
    },
}

impl Value {
    /// One exact value.
    pub fn point(value: Exact) -> Value {
        Value::Read(Band::closed(value.clone(), value))
    }

    /// Nothing at all is known.
    pub fn unknown() -> Value {
        Value::Somewhere { band: Band::all(), or_missing: true }
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

    fn band(&self) -> Option<&Band> {
        match self {
            Value::Missing => None,
            Value::Read(band) | Value::Somewhere { band, .. } => Some(band),
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
        Formula::Plus(left, right) => both(left, right, (read, samples), |a, b| Some(plus(a, b))),
        Formula::Minus(left, right) => both(left, right, (read, samples), |a, b| Some(plus(a, &negated(b)))),
        Formula::Times(left, right) => both(left, right, (read, samples), |a, b| Some(times(a, b))),
        Formula::Over(left, right) => both(left, right, (read, samples), over),
        Formula::Smaller(left, right) => both(left, right, (read, samples), |a, b| Some(smaller(a, b))),
        Formula::Larger(left, right) => {
            both(left, right, (read, samples), |a, b| Some(negated(&smaller(&negated(a), &negated(b)))))
        }
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

fn both(
    left: &Formula,
    right: &Formula,
    (read, samples): (Read<'_>, ReadSamples<'_>),
    join: impl Fn(&Band, &Band) -> Option<Band>,
) -> Value {
    let (left, right) = (formula_value(left, read, samples), formula_value(right, read, samples));
    let joined = match (left.band(), right.band()) {
        (Some(a), Some(b)) => join(a, b),
        _ => return Value::Missing,
    };
    let open = |value: &Value| matches!(value, Value::Somewhere { .. });
    let loose = |value: &Value| matches!(value, Value::Somewhere { or_missing: true, .. });
    match joined {
        None if open(&left) || open(&right) => Value::unknown(),
        None => Value::Missing,
        Some(band) if open(&left) || open(&right) => {
            Value::Somewhere { band, or_missing: loose(&left) || loose(&right) }
        }
        Some(band) => Value::Read(band),
    }
}

/// Several values made one.
pub(super) fn folded(fold: Fold, values: &[Value]) -> Value {
    let exact: Option<Vec<&Exact>> = values.iter().map(Value::exact).collect();
    match exact.and_then(|values| fold_exact(fold, &values)) {
        Some(value) => Value::point(value),
        None if values.iter().any(|value| matches!(value, Value::Missing)) => Value::Missing,
        None if values.iter().all(|value| matches!(value, Value::Read(_))) => Value::Missing,
        None => Value::unknown(),
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

fn plus(a: &Band, b: &Band) -> Band {
    let ends = |a: &Option<Bound>, b: &Option<Bound>| match (a, b) {
        (Some(a), Some(b)) => Some(Bound { value: &a.value + &b.value, closed: a.closed && b.closed }),
        _ => None,
    };
    Band { low: ends(&a.low, &b.low), high: ends(&a.high, &b.high) }
}

fn negated(a: &Band) -> Band {
    let end = |end: &Option<Bound>| end.as_ref().map(|end| Bound { value: -&end.value, closed: end.closed });
    Band { low: end(&a.high), high: end(&a.low) }
}

/// The smaller of two values: its lower end is the lower of both, its upper end the lower of those that there are.
fn smaller(a: &Band, b: &Band) -> Band {
    let lower = |a: &Bound, b: &Bound| match a.value.cmp(&b.value) {
        Ordering::Less => a.clone(),
        Ordering::Greater => b.clone(),
        Ordering::Equal => Bound { value: a.value.clone(), closed: a.closed || b.closed },
    };
    let low = a.low.as_ref().zip(b.low.as_ref()).map(|(a, b)| lower(a, b));
    let high = match (&a.high, &b.high) {
        (Some(a), Some(b)) => Some(lower(a, b)),
        (one, other) => one.clone().or_else(|| other.clone()),
    };
    Band { low, high }
}

fn scaled(a: &Band, by: &Exact) -> Band {
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
