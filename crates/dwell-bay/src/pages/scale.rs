//! A band as a drawing, with its ends as numbers and the reading on it: its place is the side that was decided.

use dwell_quantity::{Band, Exact};
use dwell_record::Side;
use dwell_run::shown::{Spot, spot};
use maud::{Markup, html};

/// The width of the drawing and of a zone outside of the band, in its own units.
const WIDE: f64 = 600.0;
const OUTER: f64 = 130.0;
/// How far a mark stays away from the line of a limit.
const AWAY: f64 = 14.0;

/// Where on the drawing a reading stands, in its own units.
pub(crate) fn place(spot: Spot, low: bool, high: bool) -> f64 {
    let (from, to) = ends(low, high);
    let between = |from: f64, to: f64, share: f64| from + (to - from) * share;
    match spot {
        Spot::Inside(share) => {
            let first = if low { from + AWAY } else { AWAY };
            let last = if high { to - AWAY } else { WIDE - AWAY };
            between(first, last, share)
        }
        Spot::Below(share) => between(from - AWAY, AWAY, share),
        Spot::Above(share) => between(to + AWAY, WIDE - AWAY, share),
    }
}

fn ends(low: bool, high: bool) -> (f64, f64) {
    (if low { OUTER } else { 0.0 }, if high { WIDE - OUTER } else { WIDE })
}

/// The drawing of a band in the unit that is shown, with a reading where there is one. `says` is what it is called.
pub(crate) fn scale(band: &Band, reading: Option<(&Exact, Side)>, says: &str) -> Option<Markup> {
    let (low, high) = (band.low.is_some(), band.high.is_some());
    if !low && !high {
        return None;
    }
    let (from, to) = ends(low, high);
    let at = reading.and_then(|(value, side)| spot(band, value, side)).map(|spot| place(spot, low, high));
    let said = match reading {
        Some((_, side)) => format!("{says}, the reading is {}", side.words(None)),
        None => says.to_owned(),
    };
    Some(html! {
        svg.scale viewBox="0 0 600 120" role="img" aria-label=(said) data-low=(low) data-high=(high) {
            line.axis x1="0" y1="62" x2=(WIDE) y2="62" {}
            rect.in x=(from) y="44" width=(to - from) height="36" {}
            @if low {
                line.limit x1=(from) y1="32" x2=(from) y2="92" {}
                text x=(from / 2.0) y="112" text-anchor="middle" { "LOW" }
            }
            @if high {
                line.limit x1=(to) y1="32" x2=(to) y2="92" {}
                text x=((WIDE + to) / 2.0) y="112" text-anchor="middle" { "HIGH" }
            }
            text x=((from + to) / 2.0) y="112" text-anchor="middle" { "in band" }
            @match at {
                Some(x) => path.mark d=(mark(x)) {},
                None => path.mark.unset d=(mark(WIDE / 2.0)) {},
            }
        }
    })
}

/// A pointer from above whose tip is at a place.
fn mark(x: f64) -> String {
    format!("M{x:.1} 78 l-20 -50 h40 z")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_reading_never_stands_on_or_beyond_a_limit_that_it_keeps() {
        let band = Band::closed("56".parse().unwrap(), "68".parse().unwrap());
        let at = |value: &str, side| {
            let value = value.parse().unwrap();
            place(spot(&band, &value, side).unwrap(), true, true)
        };
        assert!(at("56", Side::In) > OUTER && at("68", Side::In) < WIDE - OUTER);
        assert!(at("55.9999", Side::Low) < OUTER && at("68.0001", Side::High) > WIDE - OUTER);
        assert!(at("-9999", Side::Low) > 0.0 && at("9999", Side::High) < WIDE);
        assert!(place(Spot::Inside(0.0), false, true) > 0.0);
    }
}
