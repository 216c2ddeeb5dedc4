//! In or out: simple acceptance, guarded acceptance, the four verdicts, and the probability of conformance.

use crate::band::Band;
use crate::number::Exact;

/// How in or out is decided.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Rule {
    /// In where the reading is in the band (ILAC-G8:09/2019, 4.2.1).
    Simple,
    /// In where the reading is in the band drawn in by the uncertainty (ILAC-G8:09/2019, 4.2.2; ISO 14253-1).
    Guarded {
        /// The expanded uncertainty (coverage factor 2) in base units; its sign does not matter.
        uncertainty: Exact,
    },
}

/// The four outcomes of ILAC-G8:09/2019, 4.2.3.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// In the band drawn in by the guard.
    Pass,
    /// In the band, but within the guard of its end.
    ConditionalPass,
    /// Out of the band, but within the guard of its end.
    ConditionalFail,
    /// Out of the band by more than the guard.
    Fail,
}

impl Verdict {
    /// The words for it, in lower case.
    pub fn words(self) -> &'static str {
        match self {
            Verdict::Pass => "pass",
            Verdict::ConditionalPass => "conditional pass",
            Verdict::ConditionalFail => "conditional fail",
            Verdict::Fail => "fail",
        }
    }
}

/// The band drawn in by `w` at each of its ends. Empty where nothing can pass for certain.
pub fn guarded(band: &Band, w: &Exact) -> Band {
    band.widened(&-w.abs())
}

/// Whether a reading is in.
pub fn decide(band: &Band, reading: &Exact, rule: &Rule) -> bool {
    match rule {
        Rule::Simple => band.contains(reading),
        Rule::Guarded { uncertainty } => guarded(band, uncertainty).contains(reading),
    }
}

/// The outcome for a reading, with a guard of `w` on each side of each end.
pub fn verdict(band: &Band, reading: &Exact, w: &Exact) -> Verdict {
    if guarded(band, w).contains(reading) {
        Verdict::Pass
    } else if band.contains(reading) {
        Verdict::ConditionalPass
    } else if !band.is_empty() && band.widened(&w.abs()).contains(reading) {
        Verdict::ConditionalFail
    } else {
        Verdict::Fail
    }
}

/// The probability that the true value lies in the band, for a reading with the standard uncertainty `u` (JCGM 106,
/// normal model): from 0 to 1. Without uncertainty it is 1 in the band and 0 outside.
pub fn conformance(band: &Band, reading: &Exact, u: &Exact) -> f64 {
    let Some(ends) = Ends::of(band, reading, u) else {
        return if band.contains(reading) { 1.0 } else { 0.0 };
    };
    if ends.above < 0.0 {
        (tail(-ends.above) - tail(ends.below)).max(0.0)
    } else if ends.below < 0.0 {
        (tail(-ends.below) - tail(ends.above)).max(0.0)
    } else {
        (1.0 - tail(ends.above) - tail(ends.below)).max(0.0)
    }
}

/// The probability that the true value lies outside the band; one minus [`conformance`], without losing the digits of a
/// small risk.
pub fn nonconformance(band: &Band, reading: &Exact, u: &Exact) -> f64 {
    let Some(ends) = Ends::of(band, reading, u) else {
        return if band.contains(reading) { 0.0 } else { 1.0 };
    };
    (tail(ends.above) + tail(ends.below)).min(1.0)
}

/// How many standard uncertainties the ends lie from the reading, outwards.
struct Ends {
    above: f64,
    below: f64,
}

impl Ends {
    /// `None` where there is no uncertainty, or nothing in the band.
    fn of(band: &Band, reading: &Exact, u: &Exact) -> Option<Ends> {
        if u.is_zero() || band.is_empty() {
            return None;
        }
        let u = u.abs();
        let distance = |from: &Exact, to: &Exact| (to - from).checked_div(&u).map(|steps| steps.to_f64());
        let above =
            band.high.as_ref().and_then(|high| distance(reading, &high.value)).unwrap_or(f64::INFINITY);
        let below = band.low.as_ref().and_then(|low| distance(&low.value, reading)).unwrap_or(f64::INFINITY);
        Some(Ends { above, below })
    }
}

/// The probability that a standard normal value is above `z`.
fn tail(z: f64) -> f64 {
    libm::erfc(z / std::f64::consts::SQRT_2) / 2.0
}
