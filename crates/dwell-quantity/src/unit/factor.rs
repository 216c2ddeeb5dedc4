//! Exact factors that are worked out from their definitions when the program is compiled.

use crate::number::Exact;

/// A fraction of two whole numbers in lowest terms, the lower one above zero.
#[derive(Clone, Copy)]
pub(crate) struct Factor {
    top: i128,
    bottom: i128,
}

/// A fraction in lowest terms.
pub(super) const fn of(top: i128, bottom: i128) -> Factor {
    let divisor = common_divisor(top.abs(), bottom);
    Factor { top: top / divisor, bottom: bottom / divisor }
}

const fn common_divisor(mut one: i128, mut other: i128) -> i128 {
    while other != 0 {
        (one, other) = (other, one % other);
    }
    if one == 0 { 1 } else { one }
}

impl Factor {
    pub(super) const fn times(self, other: Factor) -> Factor {
        of(self.top * other.top, self.bottom * other.bottom)
    }

    /// This over `other`, which must be above zero.
    pub(super) const fn over(self, other: Factor) -> Factor {
        of(self.top * other.bottom, self.bottom * other.top)
    }

    pub(super) const fn is_negative(self) -> bool {
        self.top < 0
    }

    pub(super) fn exact(self) -> Exact {
        Exact::wide_ratio(self.top, self.bottom).unwrap_or_default()
    }
}

pub(super) const ZERO: Factor = of(0, 1);
pub(super) const ONE: Factor = of(1, 1);
pub(super) const KILO: Factor = of(1_000, 1);
pub(super) const MEGA: Factor = of(1_000_000, 1);
pub(super) const GIGA: Factor = of(1_000_000_000, 1);
pub(super) const CENTI: Factor = of(1, 100);
pub(super) const MILLI: Factor = of(1, 1_000);
pub(super) const MICRO: Factor = of(1, 1_000_000);
pub(super) const NANO: Factor = of(1, 1_000_000_000);
pub(super) const PICO: Factor = of(1, 1_000_000_000_000);

/// The inch in metres (international yard, 1959).
pub(super) const INCH: Factor = of(254, 10_000);
pub(super) const FOOT: Factor = INCH.times(of(12, 1));
pub(super) const MILE: Factor = FOOT.times(of(5_280, 1));
/// The avoirdupois pound in kilograms.
pub(super) const POUND: Factor = of(45_359_237, 100_000_000);
pub(super) const OUNCE: Factor = POUND.over(of(16, 1));
/// The standard acceleration of gravity in metres per second squared.
pub(super) const GRAVITY: Factor = of(980_665, 100_000);
/// The pound-force and the kilogram-force in newtons.
pub(super) const POUND_FORCE: Factor = POUND.times(GRAVITY);
pub(super) const KILOGRAM_FORCE: Factor = GRAVITY;
/// The litre and the gallons in cubic metres.
pub(super) const LITRE: Factor = MILLI;
pub(super) const US_GALLON: Factor = INCH.times(INCH).times(INCH).times(of(231, 1));
pub(super) const IMPERIAL_GALLON: Factor = of(454_609, 100_000_000);
/// Minute and hour in seconds.
pub(super) const MINUTE: Factor = of(60, 1);
pub(super) const HOUR: Factor = of(3_600, 1);
