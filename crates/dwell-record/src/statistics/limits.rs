//! Where values lie in their band: how far from its middle, exactly on an end, just inside and just outside of one.

use dwell_quantity::Exact;

/// The ends of a band in the unit of the values; an end that is not there is open.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Limits {
    /// The low end.
    pub low: Option<Exact>,
    /// The high end.
    pub high: Option<Exact>,
}

/// How many values lie at the ends of a band.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Near {
    /// Exactly on an end.
    pub on: u32,
    /// Inside, within a tenth of the band's width of an end, those on it too.
    pub inside: u32,
    /// Outside, within the same distance.
    pub outside: u32,
}

/// Of fewer values at the ends nothing is said.
const LEAST: u32 = 10;

impl Limits {
    /// Reads a band as a record has it: `56 .. 68 Hz`, `at most 0.5 mm`. Without ends where it is in another unit, or has another form.
    pub fn read(band: Option<&str>, unit: &str) -> Limits {
        let Some(band) = band else { return Limits::default() };
        let bare = if unit.is_empty() { Some(band) } else { band.strip_suffix(unit).map(str::trim_end) };
        let number = |text: &str| text.trim().replace('−', "-").parse::<Exact>().ok();
        let Some(bare) = bare else { return Limits::default() };
        if let Some((low, high)) = bare.split_once("..") {
            return match (number(low), number(high)) {
                (Some(low), Some(high)) if low < high => Limits { low: Some(low), high: Some(high) },
                _ => Limits::default(),
            };
        }
        let after = |words: [&str; 2]| words.iter().find_map(|word| number(bare.strip_prefix(word)?));
        Limits { low: after(["at least ", "above "]), high: after(["at most ", "below "]) }
    }

    /// The middle of the band; none where it is open.
    pub fn middle(&self) -> Option<Exact> {
        let (low, high) = (self.low.as_ref()?, self.high.as_ref()?);
        (low + high).checked_div(&Exact::whole(2))
    }

    /// How many of these values lie at its ends; none where it is open at one: there is no width to go by.
    pub fn near(&self, values: &[Exact]) -> Option<Near> {
        let (low, high) = (self.low.as_ref()?, self.high.as_ref()?);
        let step = (high - low).checked_div(&Exact::whole(10))?;
        let mut near = Near::default();
        for value in values {
            if value == low || value == high {
                near.on += 1;
            }
            let from_low = value - low;
            let from_high = high - value;
            let inside = !from_low.is_negative() && !from_high.is_negative();
            let close = |distance: &Exact| distance.abs() <= step;
            match inside {
                true if close(&from_low) || close(&from_high) => near.inside += 1,
                false if close(&from_low) || close(&from_high) => near.outside += 1,
                _ => {}
            }
        }
        Some(near)
    }
}

impl Near {
    /// `2 exactly on a limit; just inside 9, just outside 1`.
    pub fn words(self) -> String {
        let Near { on, inside, outside } = self;
        let few = if inside + outside < LEAST { ": too few to say" } else { "" };
        format!("{on} exactly on a limit; just inside {inside}, just outside {outside}{few}")
    }

    /// Whether far more lie just inside than just outside: as many as would come with a probability below 1 % if both were as likely
    /// (the sign test, one-sided, exact). None where there are too few.
    pub fn heaped(self) -> Option<bool> {
        let all = self.inside + self.outside;
        (all >= LEAST).then(|| tail(self.inside, all) < 0.01)
    }
}

/// The probability of at least so many of so many, each as likely as not.
fn tail(at_least: u32, of: u32) -> f64 {
    let mut term = 0.5_f64.powi(i32::try_from(of).unwrap_or(i32::MAX));
    let mut sum = 0.0;
    for count in 0..=of {
        if count >= at_least {
            sum += term;
        }
        term = term * f64::from(of - count) / f64::from(count + 1);
    }
    sum
}
