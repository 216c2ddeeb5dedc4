//! The size from a series that is nearest to a value.

use super::Value;
use crate::graph::Choose;
use dwell_quantity::{Exact, Rounding};

/// What is chosen from a series.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Chosen {
    /// The size, in base units.
    pub size: Exact,
    /// The next larger size, where it is just as near: then the smaller one is taken.
    pub as_near: Option<Exact>,
}

/// The size nearest to a value; of two that are as near the smaller. Nothing where there is no one value, where the series has
/// no sizes, or where the value lies more than half a step beyond its ends.
pub fn chosen(choose: &Choose, wanted: &Value) -> Option<Chosen> {
    if let Value::Near(low, high) = wanted {
        // So near to the middle between two sizes the smaller one is taken, as there.
        chosen(choose, &Value::point(high.clone()))?;
        return chosen(choose, &Value::point(low.clone()));
    }
    let wanted = wanted.exact()?;
    let (low, step) = (&choose.low.0, &choose.step.0);
    if step.is_negative() || step.is_zero() || choose.high.0 < *low {
        return None;
    }
    // How many steps up from the smallest size; the last size may lie below the end of the range.
    let last = (&choose.high.0 - low).checked_div(step)?.rounded(0, Rounding::Down);
    let half = Exact::ratio(1, 2)?;
    let steps = (wanted - low).checked_div(step)?;
    if steps < -&half || steps > &last + &half {
        return None;
    }
    let below = steps.rounded(0, Rounding::Down);
    let beyond = &steps - &below;
    let up = if beyond > half { &below + &Exact::one() } else { below.clone() };
    let place = if up.is_negative() { Exact::zero() } else { up.min(last.clone()) };
    let next = &place + &Exact::one();
    let as_near = (beyond == half && place == below && next <= last).then(|| low + &(&next * step));
    Some(Chosen { size: low + &(&place * step), as_near })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::limit::Formula;
    use crate::number::Num;

    fn exact(text: &str) -> Exact {
        text.parse().unwrap()
    }

    /// Shims of 2.20 to 3.20 mm in steps of 0.02 mm.
    fn shims() -> Choose {
        let number = |text: &str| Num(exact(text));
        Choose {
            reading: 0,
            series: "shims".into(),
            low: number("2.20"),
            high: number("3.20"),
            step: number("0.02"),
            nearest: Formula::Value(number("0")),
        }
    }

    fn taken(wanted: &str) -> Option<(String, Option<String>)> {
        let chosen = chosen(&shims(), &Value::point(exact(wanted)))?;
        Some((chosen.size.fixed(2), chosen.as_near.map(|size| size.fixed(2))))
    }

    #[test]
    fn the_nearest_size_is_taken_and_of_two_the_smaller() {
        let one = |size: &str| Some((size.to_owned(), None));
        assert_eq!(taken("2.64"), one("2.64"));
        assert_eq!(taken("2.6499"), one("2.64"));
        assert_eq!(taken("2.65"), Some(("2.64".into(), Some("2.66".into()))));
        assert_eq!(taken("2.6501"), one("2.66"));
    }

    #[test]
    fn half_a_step_beyond_the_ends_still_fits() {
        assert_eq!(taken("2.19"), Some(("2.20".into(), None)));
        assert_eq!(taken("2.1899"), None);
        assert_eq!(taken("3.21"), Some(("3.20".into(), None)));
        assert_eq!(taken("3.2101"), None);
    }

    #[test]
    fn without_one_value_nothing_is_chosen() {
        assert_eq!(chosen(&shims(), &Value::Missing), None);
        assert_eq!(chosen(&shims(), &Value::unknown()), None);
        let mut still = shims();
        still.step = Num(Exact::zero());
        assert_eq!(chosen(&still, &Value::point(exact("2.2"))), None);
    }

    #[test]
    fn a_series_whose_steps_do_not_reach_its_end_stops_before() {
        let mut odd = shims();
        odd.high = Num(exact("2.25"));
        let size =
            |wanted: &str| chosen(&odd, &Value::point(exact(wanted))).map(|chosen| chosen.size.fixed(2));
        assert_eq!(size("2.25"), Some("2.24".into()));
        assert_eq!(size("2.2501"), None);
    }
}
