//! Ways from one kind of quantity to another that are never taken silently: each is a call that names both.
//!
//! All values are in base units: turns, pascals, cubic metres per metre, revolutions or cycles per second.

use crate::band::{Band, Bound};
use crate::number::Exact;

/// Crank degrees of a camshaft angle: in a four-stroke the camshaft turns once for two turns of the crankshaft.
pub fn camshaft_to_crank(camshaft: &Exact) -> Exact {
    camshaft * &Exact::whole(2)
}

/// Camshaft degrees of a crank angle; see [`camshaft_to_crank`].
pub fn crank_to_camshaft(crank: &Exact) -> Exact {
    crank.checked_div(&Exact::whole(2)).unwrap_or_default()
}

/// Absolute pressure from gauge pressure and that of the surrounding air (40 CFR 1065.20(c): absolute is atmospheric
/// plus differential).
pub fn gauge_to_absolute(gauge: &Exact, surrounding: &Exact) -> Exact {
    gauge + surrounding
}

/// Gauge pressure from absolute pressure and that of the surrounding air.
pub fn absolute_to_gauge(absolute: &Exact, surrounding: &Exact) -> Exact {
    absolute - surrounding
}

/// Absolute pressure from a vacuum, which counts downwards, and the pressure of the surrounding air.
pub fn vacuum_to_absolute(vacuum: &Exact, surrounding: &Exact) -> Exact {
    surrounding - vacuum
}

/// Frequency of a signal from the speed of a shaft that gives `pulses` a revolution. A four-stroke engine fires half
/// as many times a revolution as it has cylinders.
pub fn rotation_to_frequency(rotation: &Exact, pulses: &Exact) -> Exact {
    rotation * pulses
}

/// Fuel consumption from fuel economy: one over it. `None` for zero.
pub fn economy_to_consumption(economy: &Exact) -> Option<Exact> {
    Exact::one().checked_div(economy)
}

/// Fuel economy from fuel consumption: one over it. `None` for zero.
pub fn consumption_to_economy(consumption: &Exact) -> Option<Exact> {
    Exact::one().checked_div(consumption)
}

/// A band of fuel economy as a band of consumption: the ends change places. `None` where an end is not above zero.
pub fn economy_band_to_consumption(economy: &Band) -> Option<Band> {
    let turned = |bound: &Option<Bound>| match bound {
        None => Some(None),
        Some(end) if end.value > Exact::zero() => {
            Some(Some(Bound { value: economy_to_consumption(&end.value)?, closed: end.closed }))
        }
        Some(_) => None,
    };
    let unbounded = Bound::open(Exact::zero());
    Some(Band { low: Some(turned(&economy.high)?.unwrap_or(unbounded)), high: turned(&economy.low)? })
}
