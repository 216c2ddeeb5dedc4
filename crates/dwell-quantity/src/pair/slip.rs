//! The slips of which a wrong second unit comes, each known by what is left when it is undone.

use super::{Printed, half};
use crate::amount::from_base;
use crate::kind::Kind;
use crate::number::{Exact, Rounding};
use crate::unit::{Unit, units_for};

/// What was probably done where two units of one limit disagree.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PairSlip {
    /// The numbers are right for this unit: inches printed as millimetres.
    Unit(Unit),
    /// The second is so many times the first, or with `smaller` that part of it.
    Times {
        /// Ten, a hundred, a thousand: the decimal point; 12, 9.8, 25.4, 2 as in [`Factor`].
        by: Factor,
        /// Whether the second is the smaller one.
        smaller: bool,
    },
    /// A rise or a tolerance was converted as if it were a temperature.
    PointForDifference,
    /// A temperature was converted as if it were a rise.
    DifferenceForPoint,
    /// The second counts from a perfect vacuum and the first from the air around, or the other way.
    OtherZero,
    /// The second is a pull at a radius, in newtons, printed as a torque; the radius in millimetres, rounded to tens.
    Pull(u32),
    /// One of the two has a limit that the other has not.
    Side,
    /// One figure stands beside two limits.
    OneFigure,
}

/// A factor that slips of the pen and of units leave behind.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum Factor {
    Two,
    /// Newtons in a kilogram-force: 9.80665.
    Gravity,
    Ten,
    /// Inches in a foot.
    Twelve,
    /// Millimetres in an inch.
    Inch,
    Hundred,
    Thousand,
}

impl Factor {
    const ALL: [Factor; 7] = [
        Factor::Two,
        Factor::Gravity,
        Factor::Ten,
        Factor::Twelve,
        Factor::Inch,
        Factor::Hundred,
        Factor::Thousand,
    ];

    /// Whether the slip can be made with that kind of quantity: nobody takes inches for feet with a pressure.
    fn likely(self, kind: Kind) -> bool {
        let lengths = [Kind::LENGTH, Kind::TOTAL_LENGTH, Kind::TORQUE];
        match self {
            Factor::Two => kind.difference() == Kind::ANGLE_DIFFERENCE || kind == Kind::ROTATIONAL_SPEED,
            Factor::Gravity => {
                let weighed =
                    [Kind::FORCE, Kind::TORQUE, Kind::GAUGE_PRESSURE, Kind::SPRING_RATE, Kind::STRESS];
                weighed.contains(&kind)
            }
            Factor::Twelve | Factor::Inch => lengths.contains(&kind),
            Factor::Ten | Factor::Hundred | Factor::Thousand => true,
        }
    }

    /// Its size, in hundredths of a thousandth.
    fn size(self) -> i64 {
        match self {
            Factor::Two => 200_000,
            Factor::Gravity => 980_665,
            Factor::Ten => 1_000_000,
            Factor::Twelve => 1_200_000,
            Factor::Inch => 2_540_000,
            Factor::Hundred => 10_000_000,
            Factor::Thousand => 100_000_000,
        }
    }
}

/// The most that a ratio may be off its factor, in per cent: figures are rounded, and one may stand for two.
const FACTOR_OFF: i64 = 13;
/// The pressure of the air at sea level, Pa (ISO 2533, standard atmosphere).
const AIR: i64 = 101_325;

/// The slip that explains the figures, each of the first beside that of the second, in base units.
pub(super) fn named(
    first: &Printed,
    second: &Printed,
    figures: &[(Exact, Exact)],
    kind: Kind,
) -> Option<PairSlip> {
    if let Some(slip) = temperature(first, second, figures, kind) {
        return Some(slip);
    }
    if other_zero(first, second, figures, kind) {
        return Some(PairSlip::OtherZero);
    }
    if let Some(unit) = fits(first, second, figures, kind) {
        return Some(PairSlip::Unit(unit));
    }
    times(figures, kind).or_else(|| pull(second, figures, kind))
}

/// The least and the greatest radius at which a torque is pulled for, in millimetres: a shaft, a steering wheel.
const RADII: (i64, i64) = (15, 300);
/// The most that the radii of two figures may be apart, in per cent of the larger: figures are rounded.
const RADII_APART: i64 = 20;

/// Whether the numbers beside newton metres fit a pull in newtons at one and the same radius.
fn pull(second: &Printed, figures: &[(Exact, Exact)], kind: Kind) -> Option<PairSlip> {
    if kind != Kind::TORQUE || second.unit.symbol() != "N·m" || figures.len() < 2 {
        return None;
    }
    let radius = |(torque, number): &(Exact, Exact)| (torque * &Exact::whole(1000)).checked_div(number);
    let radii: Vec<Exact> = figures.iter().map(radius).collect::<Option<_>>()?;
    let (least, most) = (radii.iter().min()?, radii.iter().max()?);
    let within = *least >= Exact::whole(RADII.0) && *most <= Exact::whole(RADII.1);
    let apart = (most - least) * Exact::whole(100) <= most * &Exact::whole(RADII_APART);
    let middle = half(&(least + most)).checked_div(&Exact::whole(10))?.rounded(0, Rounding::HalfEven);
    let tens: u32 = (within && apart).then(|| middle.to_string().parse().ok()).flatten()?;
    Some(PairSlip::Pull(tens * 10))
}

/// A difference taken for a point of the scale, or a point for a difference.
fn temperature(
    first: &Printed,
    second: &Printed,
    figures: &[(Exact, Exact)],
    kind: Kind,
) -> Option<PairSlip> {
    let (from, to) = (first.unit, second.unit);
    if from.offset() == to.offset() {
        return None;
    }
    let digit = Exact::one().checked_div(&super::power_of_ten(second.decimals))?;
    let near = |one: &Exact, other: &Exact| (one - other).abs() <= digit;
    let as_point =
        |number: &Exact| (number * &from.factor() + from.offset() - to.offset()).checked_div(&to.factor());
    let as_difference = |number: &Exact| (number * &from.factor()).checked_div(&to.factor());
    if let (Some((_, one)), Some((_, other))) = (&first.parts, &second.parts)
        && as_point(one).is_some_and(|wrong| near(&wrong, other))
    {
        return Some(PairSlip::PointForDifference);
    }
    let numbers = figures.iter().map(|(one, other)| (from_base(one, from, kind), from_base(other, to, kind)));
    let numbers: Vec<(Exact, Exact)> = numbers.collect();
    let all = |convert: &dyn Fn(&Exact) -> Option<Exact>| {
        !numbers.is_empty()
            && numbers.iter().all(|(one, other)| convert(one).is_some_and(|wrong| near(&wrong, other)))
    };
    if kind.point() {
        all(&as_difference).then_some(PairSlip::DifferenceForPoint)
    } else {
        all(&as_point).then_some(PairSlip::PointForDifference)
    }
}

/// Whether the figures are one atmosphere apart.
fn other_zero(first: &Printed, second: &Printed, figures: &[(Exact, Exact)], kind: Kind) -> bool {
    let counted = [Kind::GAUGE_PRESSURE, Kind::ABSOLUTE_PRESSURE, Kind::VACUUM];
    // The air of the day is not that of the standard.
    let air = Exact::whole(AIR);
    let room =
        second.digit() + half(&first.digit()) + half(&(&air * &Exact::ratio(1, 25).unwrap_or_default()));
    counted.contains(&kind)
        && !figures.is_empty()
        && figures.iter().all(|(one, other)| ((one - other).abs() - &air).abs() <= room)
}

/// The unit of the kind for which the numbers of the second are right.
fn fits(first: &Printed, second: &Printed, figures: &[(Exact, Exact)], kind: Kind) -> Option<Unit> {
    // Nothing is nothing in every unit.
    if figures.iter().all(|(_, other)| other.is_zero()) {
        return None;
    }
    let right = |unit: &Unit| {
        let offset = if kind.point() { unit.offset() } else { Exact::zero() };
        let step = second.digit().checked_div(&second.unit.factor()).unwrap_or_default() * unit.factor();
        let room = half(&step).abs() + half(&first.digit());
        figures.iter().all(|(one, other)| {
            let number = from_base(other, second.unit, kind);
            (&number * &unit.factor() + &offset - one).abs() <= room
        })
    };
    // The unit of the first comes before one that is a little nearer: the number was copied.
    let all = std::iter::once(first.unit).chain(units_for(kind));
    all.filter(|unit| *unit != second.unit).find(right)
}

/// The factor that all figures are apart by.
fn times(figures: &[(Exact, Exact)], kind: Kind) -> Option<PairSlip> {
    let ratios: Option<Vec<Exact>> = figures
        .iter()
        .filter(|(one, other)| !one.is_zero() || !other.is_zero())
        .map(|(one, other)| other.checked_div(one))
        .collect();
    let ratios = ratios.filter(|ratios| !ratios.is_empty())?;
    let smaller = ratios.iter().all(|ratio| *ratio < Exact::one());
    let turned = |ratio: &Exact| if smaller { Exact::one().checked_div(ratio) } else { Some(ratio.clone()) };
    let ratios: Vec<Exact> = ratios.iter().map(turned).collect::<Option<_>>()?;
    let off = |by: Factor| {
        let size = Exact::ratio(by.size(), 100_000)?;
        let off = |ratio: &Exact| Some((ratio.checked_div(&size)? - Exact::one()).abs());
        ratios.iter().map(off).collect::<Option<Vec<Exact>>>()?.into_iter().max()
    };
    let most = Exact::ratio(FACTOR_OFF, 100)?;
    let likely = Factor::ALL.into_iter().filter(|by| by.likely(kind));
    let near = likely.filter_map(|by| Some((off(by)?, by))).filter(|(off, _)| *off <= most);
    let (_, by) = near.min_by(|(one, _), (other, _)| one.cmp(other))?;
    Some(PairSlip::Times { by, smaller })
}
