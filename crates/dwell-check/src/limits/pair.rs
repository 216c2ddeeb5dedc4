//! A limit that is printed in two units: do they say the same?

use crate::finding::Place;
use crate::trouble::Trouble;
use dwell_quantity::{Exact, Kind, Pair, Printed, amount_off};

/// One of the two, with its text.
pub(crate) struct Side<'a> {
    pub(crate) printed: Printed,
    pub(crate) written: &'a str,
}

/// Tells where the second unit of a limit says something else than the first. `whole` is where the limit stands, `place`
/// where its second unit does.
pub(crate) fn pair(
    kind: Kind,
    whole: Place,
    place: Place,
    first: &Side<'_>,
    second: &Side<'_>,
    troubles: &mut Vec<Trouble>,
) {
    let (written, other) = (first.written.to_owned(), second.written.to_owned());
    troubles.push(match dwell_quantity::pair(&first.printed, &second.printed, kind) {
        Pair::Agrees => return,
        Pair::Disagrees { slip, is } => {
            Trouble::PairDisagrees { place, whole, first: written, second: other, slip, is }
        }
        Pair::Outward { low, high, inwards } => {
            // In the unit of the first, which is the one that is judged by, with enough digits to see it.
            let off = |by: &Exact| {
                let decimals = first.printed.decimals + 2;
                amount_off(by, first.printed.unit.difference(), kind.difference(), decimals)
            };
            let mut wider: Vec<String> = Vec::new();
            wider.extend(low.as_ref().map(|by| format!("{} at the lower end", off(by))));
            wider.extend(high.as_ref().map(|by| format!("{} at the upper end", off(by))));
            let wider = wider.join(" and ");
            Trouble::PairRoundsOutward { place, first: written, second: other, wider, inwards }
        }
        Pair::Narrow { lost, better } => {
            Trouble::PairTooNarrow { place, first: written, second: other, lost: lost.fixed(0), better }
        }
    });
}
