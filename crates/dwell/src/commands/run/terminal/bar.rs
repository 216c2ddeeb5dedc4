//! A band as a bar, with the reading on it: its place is told by the side that was decided, never by rounding.

use dwell_quantity::{Band, Exact};
use dwell_record::Side;
use dwell_run::shown::{Spot, spot};

/// The words at the two ends of a bar, and their room.
const LOW: &str = "LOW ";
const HIGH: &str = " HIGH";

/// A bar of a width, with the reading where there is one: `LOW ────├─────●─────┤──── HIGH`. A band with one end has no other
/// zone. The band and the reading are in one unit.
pub(super) fn bar(band: &Band, reading: Option<(&Exact, Side)>, width: usize, ascii: bool) -> String {
    let (low, high) = (band.low.is_some(), band.high.is_some());
    let ends = usize::from(low) * LOW.len() + usize::from(high) * HIGH.len();
    let room = width.saturating_sub(ends).max(5);
    let outer = room / 5;
    let from = if low { outer } else { 0 };
    let to = if high { room.saturating_sub(outer + 1) } else { room.saturating_sub(1) };
    let [outside, inside, left, right, mark] =
        if ascii { ['.', '=', '[', ']', 'O'] } else { ['─', '━', '┣', '┫', '●'] };
    let mut cells: Vec<char> =
        (0..room).map(|at| if (from..=to).contains(&at) { inside } else { outside }).collect();
    let mut put = |at: usize, letter: char| {
        if let Some(cell) = cells.get_mut(at) {
            *cell = letter;
        }
    };
    if low {
        put(from, left);
    }
    if high {
        put(to, right);
    }
    if let Some(place) = reading.and_then(|(value, side)| spot(band, value, side)) {
        put(cell(place, (from, to), room, (low, high)), mark);
    }
    let middle: String = cells.into_iter().collect();
    format!("{}{middle}{}", if low { LOW } else { "" }, if high { HIGH } else { "" })
}

/// The cell of a place; one that is in never stands on or beyond a limit's mark, one that is out never inside.
fn cell(place: Spot, (from, to): (usize, usize), room: usize, (low, high): (bool, bool)) -> usize {
    let part = |cells: usize, part: f64| {
        (0..cells).rev().find(|cell| *cell as f64 <= part * cells as f64).unwrap_or(0)
    };
    match place {
        Spot::Inside(share) => {
            let first = from + usize::from(low);
            let cells = (to + usize::from(!high)).saturating_sub(first).max(1);
            first + part(cells, share)
        }
        Spot::Below(share) => from.saturating_sub(1 + part(from, share)),
        Spot::Above(share) => {
            let first = to + 1;
            (first + part(room.saturating_sub(first), share)).min(room.saturating_sub(1))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::bar;
    use dwell_quantity::{Band, Exact};
    use dwell_record::Side;

    fn exact(text: &str) -> Exact {
        text.parse().unwrap()
    }

    fn drawn(band: &Band, value: &str, side: Side) -> String {
        bar(band, Some((&exact(value), side)), 34, true)
    }

    #[test]
    fn the_reading_stands_on_the_side_that_was_decided() {
        let band = Band::closed(exact("56"), exact("68"));
        assert_eq!(bar(&band, None, 34, true), "LOW .....[=============]..... HIGH");
        assert_eq!(drawn(&band, "62", Side::In), "LOW .....[======O======]..... HIGH");
        assert_eq!(drawn(&band, "56", Side::In), "LOW .....[O============]..... HIGH");
        assert_eq!(drawn(&band, "68", Side::In), "LOW .....[============O]..... HIGH");
        assert_eq!(drawn(&band, "55.999", Side::Low), "LOW ....O[=============]..... HIGH");
        assert_eq!(drawn(&band, "0", Side::Low), "LOW O....[=============]..... HIGH");
        assert_eq!(drawn(&band, "68.001", Side::High), "LOW .....[=============]O.... HIGH");
        assert_eq!(drawn(&band, "9999", Side::High), "LOW .....[=============]....O HIGH");
        assert_eq!(drawn(&band, "62", Side::NoReading), bar(&band, None, 34, true));
    }

    #[test]
    fn a_band_with_one_end_has_one_zone_beside_it() {
        let most = Band::at_most(exact("0.05"));
        assert_eq!(drawn(&most, "0", Side::In), "O======================]..... HIGH");
        assert_eq!(drawn(&most, "0.06", Side::High), "=======================]O.... HIGH");
        let least = Band::at_least(exact("2"));
        assert_eq!(drawn(&least, "1", Side::Low), "LOW ..O...[=======================");
    }
}
