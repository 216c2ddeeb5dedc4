//! Which kind a product or a quotient of two kinds has, as far as formulas of the workshop need it.

use super::Kind;

/// `one × other = product`, in base units and without any factor.
struct Product(Kind, Kind, Kind);

static PRODUCTS: &[Product] = &[
    Product(Kind::LENGTH, Kind::LENGTH, Kind::AREA),
    Product(Kind::AREA, Kind::LENGTH, Kind::VOLUME),
    Product(Kind::SPEED, Kind::DURATION, Kind::LENGTH),
    Product(Kind::ACCELERATION, Kind::DURATION, Kind::SPEED),
    Product(Kind::VOLUME_FLOW, Kind::DURATION, Kind::VOLUME),
    Product(Kind::MASS_FLOW, Kind::DURATION, Kind::MASS),
    Product(Kind::DENSITY, Kind::VOLUME, Kind::MASS),
    Product(Kind::DENSITY, Kind::VOLUME_FLOW, Kind::MASS_FLOW),
    Product(Kind::DENSITY, Kind::KINEMATIC_VISCOSITY, Kind::VISCOSITY),
    Product(Kind::AREA, Kind::SPEED, Kind::VOLUME_FLOW),
    Product(Kind::MASS, Kind::ACCELERATION, Kind::FORCE),
    Product(Kind::FORCE, Kind::LENGTH, Kind::TORQUE),
    Product(Kind::FORCE, Kind::SPEED, Kind::POWER),
    Product(Kind::SPRING_RATE, Kind::LENGTH, Kind::FORCE),
    Product(Kind::STRESS, Kind::AREA, Kind::FORCE),
    Product(Kind::PRESSURE_DIFFERENCE, Kind::AREA, Kind::FORCE),
    Product(Kind::GAUGE_PRESSURE, Kind::AREA, Kind::FORCE),
    Product(Kind::PRESSURE_DIFFERENCE, Kind::VOLUME, Kind::ENERGY),
    Product(Kind::PRESSURE_DIFFERENCE, Kind::VOLUME_FLOW, Kind::POWER),
    Product(Kind::POWER, Kind::DURATION, Kind::ENERGY),
    Product(Kind::ROTATIONAL_SPEED, Kind::DURATION, Kind::TURN_ANGLE),
    Product(Kind::FREQUENCY, Kind::DURATION, Kind::NUMBER),
    Product(Kind::RESISTANCE, Kind::ELECTRIC_CURRENT, Kind::ELECTRIC_POTENTIAL_DIFFERENCE),
    Product(Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::ELECTRIC_CURRENT, Kind::POWER),
    Product(Kind::ELECTRIC_POTENTIAL, Kind::ELECTRIC_CURRENT, Kind::POWER),
    Product(Kind::DC_VOLTAGE, Kind::DC_CURRENT, Kind::POWER),
    Product(Kind::AC_VOLTAGE, Kind::AC_CURRENT, Kind::APPARENT_POWER),
    Product(Kind::ELECTRIC_CURRENT, Kind::DURATION, Kind::ELECTRIC_CHARGE),
    Product(Kind::CAPACITANCE, Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::ELECTRIC_CHARGE),
    Product(Kind::ELECTRIC_CHARGE, Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::ENERGY),
    Product(Kind::CONDUCTANCE, Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::ELECTRIC_CURRENT),
    Product(Kind::CONDUCTANCE, Kind::RESISTANCE, Kind::RATIO),
    Product(Kind::FUEL_CONSUMPTION, Kind::LENGTH, Kind::VOLUME),
    Product(Kind::FUEL_ECONOMY, Kind::VOLUME, Kind::LENGTH),
    Product(Kind::RESISTANCE_PER_VOLTAGE, Kind::ELECTRIC_POTENTIAL_DIFFERENCE, Kind::INSULATION_RESISTANCE),
    Product(Kind::RESISTANCE_PER_VOLTAGE, Kind::ELECTRIC_POTENTIAL, Kind::INSULATION_RESISTANCE),
    Product(Kind::ILLUMINANCE, Kind::AREA, Kind::LUMINOUS_FLUX),
];

/// Kinds that are pure factors: what they multiply keeps its kind.
const FACTORS: [Kind; 3] = [Kind::NUMBER, Kind::RATIO, Kind::DUTY_RATIO];

/// The kind of a sum of the two, or of their difference where `minus`; `None` where they do not go together. Plain numbers
/// and ratios do: `full / loaded - 1`.
pub(super) fn sum(one: Kind, other: Kind, minus: bool) -> Option<Kind> {
    if one == other {
        return Some(if minus { one.difference() } else { one });
    }
    if FACTORS.contains(&one) && FACTORS.contains(&other) {
        return Some(Kind::RATIO);
    }
    // What stands without a unit is a number with a name: a specific gravity and a plain number.
    match (one.bare(), other.bare()) {
        (true, true) if FACTORS.contains(&other) => return Some(one),
        (true, true) if FACTORS.contains(&one) => return Some(other),
        _ => {}
    }
    (one == other.difference() || other == one.difference()).then_some(one)
}

/// The kind of `one × other`.
pub(super) fn times(one: Kind, other: Kind) -> Option<Kind> {
    if one.point() || other.point() {
        return None;
    }
    let factor = |kind: Kind| FACTORS.contains(&kind);
    match (factor(one), factor(other)) {
        (true, true) => Some(if one == other && one != Kind::DUTY_RATIO { one } else { Kind::RATIO }),
        (true, false) => Some(other),
        (false, true) => Some(one),
        (false, false) => widened(one, other, find_product),
    }
}

/// The kind of `one / other`.
pub(super) fn over(one: Kind, other: Kind) -> Option<Kind> {
    if one.point() || other.point() {
        return None;
    }
    if one == other || (FACTORS.contains(&one) && FACTORS.contains(&other)) {
        return Some(Kind::RATIO);
    }
    if FACTORS.contains(&other) {
        return Some(one);
    }
    widened(one, other, find_quotient)
}

/// Asks `find` for the two kinds, then for what they are narrower sorts of: a direct voltage over a resistance is
/// found as an electric potential over a resistance.
fn widened(one: Kind, other: Kind, find: impl Fn(Kind, Kind) -> Option<Kind>) -> Option<Kind> {
    let wider = |kind: Kind| [Some(kind), kind.broader(), as_difference(kind)];
    for first in wider(one).into_iter().flatten() {
        for second in wider(other).into_iter().flatten() {
            if let Some(found) = find(first, second) {
                return Some(found);
            }
        }
    }
    None
}

/// A voltage of any sort drives a current as a difference of potentials.
fn as_difference(kind: Kind) -> Option<Kind> {
    kind.is_a(Kind::ELECTRIC_POTENTIAL).then_some(Kind::ELECTRIC_POTENTIAL_DIFFERENCE)
}

fn find_product(one: Kind, other: Kind) -> Option<Kind> {
    PRODUCTS
        .iter()
        .find(|row| (row.0 == one && row.1 == other) || (row.0 == other && row.1 == one))
        .map(|row| row.2)
}

fn find_quotient(one: Kind, other: Kind) -> Option<Kind> {
    PRODUCTS.iter().filter(|row| row.2 == one).find_map(|row| {
        if row.1 == other {
            Some(row.0)
        } else if row.0 == other {
            Some(row.1)
        } else {
            None
        }
    })
}
