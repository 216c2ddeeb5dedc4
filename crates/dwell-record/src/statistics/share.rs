//! A share with its interval: of few values it says little, and the interval says how little.

/// So many of so many.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Share {
    /// How many have it,
    pub part: u32,
    /// of how many.
    pub of: u32,
}

/// The two-sided 95 % point of the normal distribution (NIST/SEMATECH e-Handbook, 1.3.6.7.1).
const Z: f64 = 1.959_963_984_540_054;

/// Of fewer than so many no share is given, only the count.
const LEAST: u32 = 5;

impl Share {
    /// The share, from 0 to 1; none where there is too little of it.
    pub fn value(self) -> Option<f64> {
        (self.of >= LEAST).then(|| f64::from(self.part) / f64::from(self.of))
    }

    /// The ends of its interval of 95 %; none where there is too little of it.
    pub fn interval(self) -> Option<(f64, f64)> {
        (self.of >= LEAST).then(|| wilson(self.part, self.of, Z)).flatten()
    }

    /// `14 of 20 (70 %, interval 48 % to 85 %)`, `3 of 3: too few to say`.
    pub fn words(self) -> String {
        let Share { part, of } = self;
        match (self.value(), self.interval()) {
            (Some(share), Some((low, high))) => {
                // The ends are rounded outwards, so that the interval is never told narrower than it is.
                let percent = |value: f64| format!("{:.0} %", value * 100.0);
                format!(
                    "{part} of {of} ({}, interval {} to {})",
                    percent(share),
                    percent((low * 100.0).floor() / 100.0),
                    percent((high * 100.0).ceil() / 100.0)
                )
            }
            _ if of == 0 => "none".to_owned(),
            _ => format!("{part} of {of}: too few to say"),
        }
    }
}

/// The interval of Wilson (1927) for a share, without a correction for continuity: NIST/SEMATECH e-Handbook, 7.2.4.1. None of nothing.
pub fn wilson(part: u32, of: u32, z: f64) -> Option<(f64, f64)> {
    if of == 0 || part > of {
        return None;
    }
    let (n, p) = (f64::from(of), f64::from(part) / f64::from(of));
    let (square, whole) = (z * z, 1.0 + z * z / n);
    let middle = (p + square / (2.0 * n)) / whole;
    let half = z * (p * (1.0 - p) / n + square / (4.0 * n * n)).sqrt() / whole;
    // At the ends of the scale it ends there exactly, whatever the sums of binary numbers leave.
    let low = if part == 0 { 0.0 } else { (middle - half).max(0.0) };
    let high = if part == of { 1.0 } else { (middle + half).min(1.0) };
    Some((low, high))
}
