//! A limit printed in two units: whether the second says the same as the first, and which slip it is where it does not.
//!
//! The first is the one that counts. The second may be narrower, never wider: whoever works by it must not pass what the
//! first rejects.

mod slip;

use crate::amount::from_base;
use crate::band::{Band, Bound};
use crate::kind::Kind;
use crate::number::{Exact, Rounding};
use crate::shown::{band_shown, shown};
use crate::unit::Unit;

pub use slip::{Factor, PairSlip};

/// What share of its width a band may be wider in its second unit and count as half-digit noise: one part in so many.
const NOISE_OF_WIDTH: i64 = 20;
/// The same for a limit with one end, as a share of its value: at most one part in so many, ...
const NOISE_OF_VALUE: i64 = 40;
/// ... and never less than one part in so many, so that 690 kPa may stand beside 100 psi, which is 689.5 kPa.
const ALWAYS_NOISE: i64 = 1_000;
/// A second unit that loses more than one part in so many of the width is worth a digit more. A tenth would blame
/// 63 .. 73 psi for 430 .. 510 kPa, which was rounded on purpose and loses a seventh.
const TOO_NARROW: i64 = 5;
/// The most digits that a better second unit gets beyond those it has.
const MOST_MORE: u32 = 3;

/// A limit as it is printed in one unit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Printed {
    /// Its band in base units; a lone figure is a band of one point.
    pub band: Band,
    /// The unit that it is printed in.
    pub unit: Unit,
    /// The decimals that were typed.
    pub decimals: u32,
    /// Nominal value and tolerance as numbers of the unit, where it is printed so: `88 ± 3`.
    pub parts: Option<(Exact, Exact)>,
}

/// How the second unit of a limit stands to the first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pair {
    /// It says the same, or as little less as its digits allow.
    Agrees,
    /// Rounded inwards, but more than a fifth of the width is lost.
    Narrow {
        /// The share of the width that is lost, in per cent, rounded to whole ones.
        lost: Exact,
        /// The second unit with more digits.
        better: String,
    },
    /// It lets something pass that the first rejects.
    Outward {
        /// By how much at the lower end, in base units.
        low: Option<Exact>,
        /// By how much at the upper end, in base units.
        high: Option<Exact>,
        /// The second unit with these ends rounded inwards.
        inwards: String,
    },
    /// They are not one limit.
    Disagrees {
        /// What was probably done, where it has a name.
        slip: Option<PairSlip>,
        /// What the first is in the second unit, rounded inwards.
        is: String,
    },
}

impl Printed {
    /// One step of the last digit, in base units.
    fn digit(&self) -> Exact {
        let step = Exact::one().checked_div(&power_of_ten(self.decimals)).unwrap_or_default();
        (&step * &self.unit.factor()).abs()
    }

    /// One step of the last digit that is no zero, for a whole number that ends in zeros; in base units.
    fn digit_of_zeros(&self, value: &Exact, kind: Kind) -> Exact {
        let number = from_base(value, self.unit, kind);
        let mut step = Exact::one();
        while !number.is_zero() {
            let next = &step * &Exact::whole(10);
            if !number.checked_div(&next).is_some_and(|share| share.is_whole()) {
                break;
            }
            step = next;
        }
        (&step * &self.unit.factor()).abs()
    }

    /// A lone figure.
    fn lone(&self) -> Option<&Exact> {
        match (&self.band.low, &self.band.high) {
            (Some(low), Some(high)) if low.value == high.value => Some(&low.value),
            _ => None,
        }
    }
}

/// Compares a limit with itself in a second unit. Both are of that kind.
pub fn pair(first: &Printed, second: &Printed, kind: Kind) -> Pair {
    if let (Some(one), Some(other)) = (first.lone(), second.lone()) {
        return lone(first, second, (one, other), kind);
    }
    let disagrees = |slip| Pair::Disagrees {
        slip,
        is: second_unit(&first.band, second.unit, kind, second.decimals + MOST_MORE),
    };
    let ends = match ends(first, second) {
        Ok(ends) => ends,
        Err(shape) => {
            let figures = figures(first, second);
            return disagrees(slip::named(first, second, &figures, kind).or(Some(shape)));
        }
    };
    let room = second.digit() + half(&first.digit());
    let both: Vec<(Exact, Exact)> = ends.iter().map(|end| (end.first.clone(), end.second.clone())).collect();
    if ends.iter().any(|end| (&end.second - &end.first).abs() > room) {
        return disagrees(slip::named(first, second, &both, kind));
    }
    if wrong_tolerance(first, second, &room) {
        return disagrees(slip::named(first, second, &both, kind));
    }
    let noise = noise(first);
    let outward = |low: bool| {
        let end = ends.iter().find(|end| end.low == low)?;
        let by = if low { &end.first - &end.second } else { &end.second - &end.first };
        (by > noise).then_some(by)
    };
    let (low, high) = (outward(true), outward(false));
    if low.is_some() || high.is_some() {
        let inwards = repaired(first, second, &ends, (low.is_some(), high.is_some()), kind);
        return Pair::Outward { low, high, inwards };
    }
    narrow(first, second, kind)
}

/// A single value in two units: the second is the first, rounded to the nearest of its digits. A whole number that ends in
/// zeros may be rounded to these, as long as it is as close as the digits of the first are.
fn lone(first: &Printed, second: &Printed, (one, other): (&Exact, &Exact), kind: Kind) -> Pair {
    let off = (one - other).abs();
    let room = half(&second.digit()).max(half(&second.digit_of_zeros(other, kind)).min(half(&first.digit())));
    if off <= room {
        return Pair::Agrees;
    }
    let figures = [(one.clone(), other.clone())];
    let slip = slip::named(first, second, &figures, kind).filter(|slip| match slip {
        // The number must be right to its last digit with the other unit, and that must be another one.
        PairSlip::Unit(unit) => {
            let step = |of: Unit| (&second.digit() * &of.factor()).checked_div(&second.unit.factor());
            let value = &from_base(other, second.unit, kind) * &unit.factor();
            unit.factor() != second.unit.factor()
                && step(*unit).is_some_and(|step| (&value - one).abs() <= half(&step.abs()))
        }
        _ => true,
    });
    let is = second_value(one, second.unit, kind, second.decimals + MOST_MORE);
    Pair::Disagrees { slip, is }
}

/// A band in another unit, rounded inwards with as few decimals as leave nine tenths of its width, or of a limit with one
/// end as leave it within a hundredth; at most `most`.
pub fn second_unit(band: &Band, unit: Unit, kind: Kind, most: u32) -> String {
    let number = |end: &Option<Bound>| end.as_ref().map(|end| from_base(&end.value, unit, kind));
    let (low, high) = (number(&band.low), number(&band.high));
    let (low, high) = if unit.descending() { (high, low) } else { (low, high) };
    let good = |decimals: u32| match (&low, &high) {
        (Some(low), Some(high)) => {
            let left = high.rounded(decimals, Rounding::Down) - low.rounded(decimals, Rounding::Up);
            &left * &Exact::whole(10) >= &(high - low) * &Exact::whole(9)
        }
        (Some(end), None) => close(end, &end.rounded(decimals, Rounding::Up)),
        (None, Some(end)) => close(end, &end.rounded(decimals, Rounding::Down)),
        (None, None) => true,
    };
    let decimals = (0..most).find(|decimals| good(*decimals)).unwrap_or(most);
    band_shown(band, unit, kind, decimals)
}

/// A single value in another unit, rounded to the nearest with as few decimals as leave it within a hundredth; at most `most`.
pub fn second_value(value: &Exact, unit: Unit, kind: Kind, most: u32) -> String {
    let number = from_base(value, unit, kind);
    let good = |decimals: u32| close(&number, &number.rounded(decimals, Rounding::HalfEven));
    shown(value, unit, kind, (0..most).find(|decimals| good(*decimals)).unwrap_or(most))
}

/// Whether a rounded number is within a hundredth of the exact one.
fn close(exact: &Exact, rounded: &Exact) -> bool {
    (exact - rounded).abs() * Exact::whole(100) <= exact.abs()
}

/// One end of the two bands.
struct End {
    low: bool,
    first: Exact,
    second: Exact,
}

/// The ends that both have; or which limit one of them lacks.
fn ends(first: &Printed, second: &Printed) -> Result<Vec<End>, PairSlip> {
    let value = |end: &Option<Bound>| end.as_ref().map(|end| end.value.clone());
    let (low, high) = (value(&first.band.low), value(&first.band.high));
    if let (Some(figure), None) = (second.lone(), first.lone()) {
        // A lone figure beside a limit with one end is that end.
        return match (low, high) {
            (Some(_), Some(_)) => Err(PairSlip::OneFigure),
            (Some(first), None) => Ok(vec![End { low: true, first, second: figure.clone() }]),
            (None, Some(first)) => Ok(vec![End { low: false, first, second: figure.clone() }]),
            (None, None) => Ok(Vec::new()),
        };
    }
    let mut ends = Vec::new();
    for (low, first, second) in
        [(true, low, value(&second.band.low)), (false, high, value(&second.band.high))]
    {
        match (first, second) {
            (Some(first), Some(second)) => ends.push(End { low, first, second }),
            (None, None) => {}
            _ => return Err(PairSlip::Side),
        }
    }
    Ok(ends)
}

/// Every figure of the one beside every figure of the other.
fn figures(first: &Printed, second: &Printed) -> Vec<(Exact, Exact)> {
    let all = |band: &Band| -> Vec<Exact> {
        [&band.low, &band.high].into_iter().flatten().map(|end| end.value.clone()).collect()
    };
    let others = all(&second.band);
    all(&first.band)
        .iter()
        .flat_map(|one| others.iter().map(move |other| (one.clone(), other.clone())))
        .collect()
}

/// Whether both are printed with a tolerance and the two differ by more than `room`: 88 ± 3 °C is not 190 ± 37 °F.
fn wrong_tolerance(first: &Printed, second: &Printed, room: &Exact) -> bool {
    let (Some((_, one)), Some((_, other))) = (&first.parts, &second.parts) else { return false };
    (one * &first.unit.factor() - other * &second.unit.factor()).abs() > *room
}

/// How much wider the second unit may be without a word.
fn noise(first: &Printed) -> Exact {
    let half = half(&first.digit());
    let share = |whole: &Exact, of: i64| whole.abs().checked_div(&Exact::whole(of)).unwrap_or_default();
    match (first.band.width(), &first.band.low, &first.band.high) {
        (Some(width), ..) => half.min(share(&width, NOISE_OF_WIDTH)),
        (None, Some(end), _) | (None, None, Some(end)) => {
            half.min(share(&end.value, NOISE_OF_VALUE)).max(share(&end.value, ALWAYS_NOISE))
        }
        (None, None, None) => half,
    }
}

/// The second unit where the ends that are wider are rounded inwards and the others stay as they are.
fn repaired(
    first: &Printed,
    second: &Printed,
    ends: &[End],
    (low, high): (bool, bool),
    kind: Kind,
) -> String {
    let end =
        |is_low: bool, wider: bool| {
            let bound = if is_low { first.band.low.as_ref() } else { first.band.high.as_ref() }?;
            let kept = ends.iter().find(|end| end.low == is_low).filter(|_| !wider);
            Some(kept.map_or_else(
                || bound.clone(),
                |end| Bound { value: end.second.clone(), closed: bound.closed },
            ))
        };
    let band = Band { low: end(true, low), high: end(false, high) };
    let shown = band_shown(&band, second.unit, kind, second.decimals);
    // With so few digits both ends may fall together, or little be left between them.
    let left = Printed { band: rounded(&band, second, kind), ..second.clone() };
    if shown.starts_with("exactly") || matches!(narrow(first, &left, kind), Pair::Narrow { .. }) {
        return second_unit(&first.band, second.unit, kind, second.decimals + MOST_MORE);
    }
    shown
}

/// A band whose ends are rounded inwards with the decimals of the second unit, in base units.
fn rounded(band: &Band, second: &Printed, kind: Kind) -> Band {
    let offset = if kind.point() { second.unit.offset() } else { Exact::zero() };
    let end = |end: &Option<Bound>, lower: bool| {
        let end = end.as_ref()?;
        let way = if lower == second.unit.descending() { Rounding::Down } else { Rounding::Up };
        let number = from_base(&end.value, second.unit, kind).rounded(second.decimals, way);
        Some(Bound { value: &number * &second.unit.factor() + &offset, closed: end.closed })
    };
    Band { low: end(&band.low, true), high: end(&band.high, false) }
}

/// A second unit that is inside the first: does it lose too much?
fn narrow(first: &Printed, second: &Printed, kind: Kind) -> Pair {
    let (Some(width), Some(left)) = (first.band.width(), second.band.width()) else { return Pair::Agrees };
    let lost = &width - &left;
    if &lost * &Exact::whole(TOO_NARROW) <= width {
        return Pair::Agrees;
    }
    let lost =
        (&lost * &Exact::whole(100)).checked_div(&width).unwrap_or_default().rounded(0, Rounding::HalfEven);
    let better = second_unit(&first.band, second.unit, kind, second.decimals + MOST_MORE);
    Pair::Narrow { lost, better }
}

fn half(value: &Exact) -> Exact {
    value.checked_div(&Exact::whole(2)).unwrap_or_default()
}

fn power_of_ten(decimals: u32) -> Exact {
    (0..decimals).fold(Exact::one(), |power, _| &power * &Exact::whole(10))
}
