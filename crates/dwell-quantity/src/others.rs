//! A band in the other units that people use for its kind: on paper, on a screen and in the editor alike.

use crate::band::Band;
use crate::kind::Kind;
use crate::pair::second_unit;
use crate::unit::{System, Unit, partner};

/// The most decimals of a unit that is in no pair of the trade.
const MOST: u32 = 4;

/// A band in the other units that people use for its kind, rounded inwards: never a looser limit than the one that is meant.
pub fn in_other_units(band: &Band, unit: Unit, kind: Kind) -> Vec<String> {
    let others = other_units(band, unit, kind).into_iter();
    others
        .map(|(other, most)| second_unit(band, other, kind, most))
        // A band that its digits cannot show is better not shown.
        .filter(|shown| (band.low == band.high || !shown.starts_with("exactly")) && !shown.contains(" and "))
        .collect()
}

/// The other units that people use, each with the most decimals that it is printed with.
pub fn other_units(band: &Band, unit: Unit, kind: Kind) -> Vec<(Unit, u32)> {
    let systems = [System::Metric, System::Us].into_iter();
    let mut others: Vec<(Unit, u32)> =
        systems.filter_map(|system| partner(unit, kind, band, system)).collect();
    others.push((kind.usual_unit(), MOST));
    let mut seen = vec![unit.symbol()];
    others.retain(|(other, _)| {
        let is_new = !seen.contains(&other.symbol()) && other.measures(kind);
        seen.push(other.symbol());
        is_new
    });
    others
}
