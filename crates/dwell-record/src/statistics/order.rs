//! Percentiles of values in their order, exact.

use dwell_quantity::Exact;

/// Of fewer values no quartiles are given.
const LEAST: usize = 5;

/// Smallest, quartiles and largest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Five {
    /// The smallest.
    pub least: Exact,
    /// A quarter lies below.
    pub lower: Exact,
    /// Half lie below.
    pub median: Exact,
    /// Three quarters lie below.
    pub upper: Exact,
    /// The largest.
    pub most: Exact,
}

impl Five {
    /// Of values, the smallest first; none of fewer than five.
    pub fn of(values: &[Exact]) -> Option<Five> {
        if values.len() < LEAST {
            return None;
        }
        Some(Five {
            least: values.first()?.clone(),
            lower: percentile(values, 1, 4)?,
            median: percentile(values, 1, 2)?,
            upper: percentile(values, 3, 4)?,
            most: values.last()?.clone(),
        })
    }
}

/// The value below which the share `part / of` lies, of values in their order: the one at place (n + 1) p, between two in proportion;
/// NIST/SEMATECH e-Handbook, 7.2.6.2, definition 6 of Hyndman and Fan (1996). None of no values.
pub fn percentile(values: &[Exact], part: i64, of: i64) -> Option<Exact> {
    let count = i64::try_from(values.len()).ok().filter(|count| *count > 0)?;
    let place = (count + 1).checked_mul(part)?;
    let (whole, rest) = (place.checked_div_euclid(of)?, place.checked_rem_euclid(of)?);
    let at = |place: i64| values.get(usize::try_from(place.clamp(1, count) - 1).ok()?);
    let (below, above) = (at(whole)?, at(whole + 1)?);
    if whole < 1 {
        return values.first().cloned();
    }
    let share = Exact::ratio(rest, of)?;
    Some(below + &(&(above - below) * &share))
}
