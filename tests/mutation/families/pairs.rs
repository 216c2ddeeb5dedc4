//! Breaks of limits that are printed in two units. The library has few such limits, so a second unit is added first.
//!
//! Factors: NIST SP 811 (2008), appendix B.8: 1 psi = 6.894757 kPa, 1 in = 25.4 mm, 1 lbf·ft = 1.355818 N·m.

use dwell_syntax::tree::BandForm;

use super::Mutator;
use crate::mutation::broken::Broken;
use crate::mutation::ground::{Ground, Limit, value};

pub(super) const ALL: &[(&str, Mutator)] = &[
    ("pair-disagrees", pair_disagrees),
    ("pair-rounds-outward", pair_rounds_outward),
    ("pair-too-narrow", pair_too_narrow),
];

/// A limit with two ends in a unit that has a second one: its ends in both, and a step of its last digit.
struct Printed<'a> {
    limit: Limit<'a>,
    ends: (f64, f64),
    second: (f64, f64),
    factor: f64,
    step: f64,
    unit: &'static str,
}

fn printed(ground: &Ground) -> Vec<Printed<'_>> {
    let mut all = Vec::new();
    for limit in ground.limits() {
        if limit.band.second.is_some() || limit.band.target.is_some() {
            continue;
        }
        let (one, other, ends) = match &limit.band.form {
            BandForm::Range(low, high) => (low, high, value(low).zip(value(high))),
            BandForm::PlusMinus(middle, half) => {
                let ends =
                    value(middle).zip(value(half)).map(|(middle, half)| (middle - half, middle + half));
                (middle, half, ends)
            }
            _ => continue,
        };
        let unit = other.unit.as_ref().or(one.unit.as_ref()).map_or("", |unit| unit.text.as_str());
        let (unit, factor) = match unit {
            "kPa" => ("psi", 6.894_757),
            "mm" => ("in", 25.4),
            "N·m" => ("lbf·ft", 1.355_818),
            _ => continue,
        };
        let decimals = |text: &str| text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
        let digits = decimals(&one.number.text).max(decimals(&other.number.text));
        let Some(ends) = ends else { continue };
        all.push(Printed {
            limit,
            ends,
            second: (ends.0 / factor, ends.1 / factor),
            factor,
            step: 10_f64.powi(-i32::try_from(digits).unwrap()),
            unit,
        });
    }
    all
}

impl Printed<'_> {
    fn width(&self) -> f64 {
        self.ends.1 - self.ends.0
    }

    /// The limit with these ends as its second unit.
    fn with(&self, low: f64, high: f64, decimals: usize) -> Broken {
        let text = format!(" ({low:.decimals$} .. {high:.decimals$} {})", self.unit);
        let what = format!("{} with{text}", self.limit.source.of(self.limit.band.span));
        self.limit.source.broken(what).put(self.limit.band.span.end, text)
    }
}

/// The decimal point is in the wrong place; or the numbers of the first unit are printed for the second.
fn pair_disagrees(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in printed(ground) {
        let (low, high) = limit.second;
        all.push(limit.with(low * 10.0, high * 10.0, 3));
        all.push(limit.with(limit.ends.0, limit.ends.1, 3));
    }
    all
}

/// The ends rounded to so many decimals, down and up, or up and down.
fn rounded((low, high): (f64, f64), decimals: i32, outward: bool) -> (f64, f64) {
    let scale = 10_f64.powi(decimals);
    let (low, high) = (low * scale, high * scale);
    let (low, high) = if outward { (low.floor(), high.ceil()) } else { (low.ceil(), high.floor()) };
    (low / scale, high / scale)
}

/// Rounded to the outside by more than what printing loses: half a step of the first unit and a twentieth of the band.
fn pair_rounds_outward(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in printed(ground) {
        for decimals in 0..4 {
            let (low, high) = rounded(limit.second, decimals, true);
            let lost = (limit.ends.0 - low * limit.factor).max(high * limit.factor - limit.ends.1);
            if lost > 1.1 * (limit.step / 2.0).max(limit.width() / 20.0) {
                all.push(limit.with(low, high, usize::try_from(decimals).unwrap()));
            }
        }
    }
    all
}

/// Rounded to the inside, and more than a fifth of the band is lost.
fn pair_too_narrow(ground: &Ground) -> Vec<Broken> {
    let mut all = Vec::new();
    for limit in printed(ground) {
        for decimals in 0..4 {
            let (low, high) = rounded(limit.second, decimals, false);
            let lost = 1.0 - (high - low) * limit.factor / limit.width();
            if lost > 0.22 && low < high {
                all.push(limit.with(low, high, usize::try_from(decimals).unwrap()));
            }
        }
    }
    all
}
