//! What a kind of quantity can be by nature: a share from nothing to all, a pressure down to a perfect vacuum.

use super::Kind;
use crate::band::{Band, Bound};
use crate::number::Exact;

/// What nature allows.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Nature {
    /// From nothing to all of it.
    Share,
    /// Nothing or more.
    Amount,
    /// Down to a perfect vacuum below the highest air pressure.
    Gauge,
    /// Up to a perfect vacuum below the highest air pressure.
    Vacuum,
    /// Anything.
    Free,
}

/// Pascals. The highest air pressure ever read at the ground, brought to sea level, is a little below (from memory).
const HIGHEST_AIR: i64 = 110_000;

impl Kind {
    /// The band, in base units, that no value of this kind can leave: 0 to 100 % for a share, zero and up for an
    /// absolute pressure or temperature. A difference of two of them can leave it where it has no kind of its own, see
    /// [`Kind::difference`].
    pub fn possible(self) -> Band {
        let zero = || Some(Bound::closed(Exact::zero()));
        match nature(self) {
            Nature::Share => Band { low: zero(), high: Some(Bound::closed(Exact::one())) },
            Nature::Amount => Band { low: zero(), high: None },
            Nature::Gauge => Band::at_least(-Exact::whole(HIGHEST_AIR)),
            Nature::Vacuum => Band::at_most(Exact::whole(HIGHEST_AIR)),
            Nature::Free => Band::all(),
        }
    }
}

fn nature(kind: Kind) -> Nature {
    const SHARES: [Kind; 10] = [
        Kind::CO_CONTENT,
        Kind::CO2_CONTENT,
        Kind::O2_CONTENT,
        Kind::HC_CONTENT,
        Kind::NOX_CONTENT,
        Kind::VOLUME_FRACTION,
        Kind::MASS_FRACTION,
        Kind::RELATIVE_HUMIDITY,
        Kind::DUTY_RATIO,
        Kind::OPACITY,
    ];
    const AMOUNTS: [Kind; 28] = [
        Kind::AREA,
        Kind::VOLUME,
        Kind::DWELL_ANGLE,
        Kind::DURATION,
        Kind::TEMPERATURE,
        Kind::MASS,
        Kind::ABSOLUTE_PRESSURE,
        Kind::FREQUENCY,
        Kind::DENSITY,
        Kind::SPECIFIC_GRAVITY,
        Kind::VISCOSITY,
        Kind::KINEMATIC_VISCOSITY,
        Kind::AC_VOLTAGE,
        Kind::AC_CURRENT,
        Kind::RESISTANCE,
        Kind::INSULATION_RESISTANCE,
        Kind::RESISTANCE_PER_VOLTAGE,
        Kind::CONDUCTANCE,
        Kind::CAPACITANCE,
        Kind::INDUCTANCE,
        Kind::APPARENT_POWER,
        Kind::ABSORPTION_COEFFICIENT,
        Kind::LAMBDA,
        Kind::FUEL_CONSUMPTION,
        Kind::FUEL_ECONOMY,
        Kind::LUMINOUS_INTENSITY,
        Kind::LUMINOUS_FLUX,
        Kind::ILLUMINANCE,
    ];
    if kind == Kind::GAUGE_PRESSURE {
        Nature::Gauge
    } else if kind == Kind::VACUUM {
        Nature::Vacuum
    } else if SHARES.contains(&kind) {
        Nature::Share
    } else if AMOUNTS.contains(&kind) {
        Nature::Amount
    } else {
        Nature::Free
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(name: &str) -> String {
        let kind = Kind::named(name).unwrap();
        let band = kind.possible();
        let unit = kind.usual_unit();
        if band == Band::all() { "anything".to_owned() } else { crate::band_shown(&band, unit, kind, 2) }
    }

    #[test]
    fn shares_go_from_nothing_to_all() {
        assert_eq!(shown("co-content"), "0.00 .. 100.00 %vol");
        assert_eq!(shown("hc-content"), "0.00 .. 1000000.00 ppm");
        assert_eq!(shown("duty-ratio"), "0.00 .. 100.00 %");
    }

    #[test]
    fn absolute_scales_end_at_zero() {
        // 0 K is -273.15 °C (SI Brochure, 9th edition, 2.3.1).
        assert_eq!(shown("temperature"), "at least -273.15 °C");
        assert_eq!(shown("absolute-pressure"), "at least 0.00 kPa");
    }

    #[test]
    fn what_has_a_sign_is_free() {
        for name in ["angle", "total-length", "dc-voltage", "slope", "pressure-difference", "length"] {
            assert_eq!(shown(name), "anything");
        }
    }

    #[test]
    fn no_suction_is_deeper_than_the_air_is_heavy() {
        assert_eq!(shown("gauge-pressure"), "at least -110.00 kPa");
        assert_eq!(shown("vacuum"), "at most 110.00 kPa");
    }

    #[test]
    fn nothing_that_can_be_negative_in_ordinary_work_ends_at_zero() {
        for kind in Kind::all().filter(|kind| kind.signed()) {
            assert!(nature(kind) == Nature::Free, "{kind}");
        }
    }
}
