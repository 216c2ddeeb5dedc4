//! What an adjuster that moves in steps can bring in: from which values as found a band can be reached at all.

use crate::band::{Band, Bound};
use crate::number::{Exact, Rounding};

/// The most steps each way that are looked at one by one; a band that is narrower than a step has a gap between any two.
pub const MOST_STEPS: u32 = 10_000;

/// An adjuster that moves a reading in equal steps: a shim, half a turn of a tie rod.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Adjuster {
    /// By how much one step changes the reading, in base units of the reading: its gain times its step. The sign says
    /// nothing, for a step can be made in both directions.
    pub step: Exact,
    /// How many steps there are in each direction at most; `None` where nothing limits them.
    pub most: Option<u32>,
}

impl Adjuster {
    /// An adjuster of which `turned` changes the reading by `moved` (both in base units), moved in steps of `step`, at
    /// most `most` of them each way. `None` where `turned` is zero.
    pub fn new(moved: &Exact, turned: &Exact, step: &Exact, most: Option<u32>) -> Option<Adjuster> {
        let gain = moved.checked_div(turned)?;
        Some(Adjuster { step: (&gain * step).abs(), most })
    }

    /// The values as found, within `found`, from which `band` can be reached by whole steps, none included: bands that do
    /// not touch each other, from low to high. Empty where nothing can be brought in.
    ///
    /// Where a step is not larger than the band it is one band. Where it is larger there are gaps: values from which every
    /// step leads over the band. At most [`MOST_STEPS`] each way are looked at then, and those nearest the band.
    pub fn brings_in(&self, band: &Band, found: &Band) -> Vec<Band> {
        if band.is_empty() || found.is_empty() {
            return Vec::new();
        }
        let step = self.step.abs();
        if step.is_zero() {
            return merged(vec![band.intersect(found)]);
        }
        if !self.leaves_gaps(band) {
            return merged(vec![reached(band, &step, self.most).intersect(found)]);
        }
        let most = self.most.unwrap_or(MOST_STEPS).min(MOST_STEPS);
        let down = most.min(steps_to(band.high.as_ref(), found.low.as_ref(), &step));
        let up = most.min(steps_to(found.high.as_ref(), band.low.as_ref(), &step));
        let places = -i64::from(down)..=i64::from(up);
        merged(places.map(|by| band.shifted(&(&step * &Exact::whole(by))).intersect(found)).collect())
    }

    /// The values as found, within `found`, that cannot be brought in.
    pub fn leaves_out(&self, band: &Band, found: &Band) -> Vec<Band> {
        let mut left = vec![found.clone()];
        for one in self.brings_in(band, found) {
            let outside = one.complement();
            left = left.iter().flat_map(|part| outside.iter().map(|out| part.intersect(out))).collect();
            left.retain(|part| !part.is_empty());
        }
        left.retain(|part| !part.is_empty());
        left
    }

    /// Whether one step can lead over the band: it is larger than the band, or as large as a band whose ends do not both
    /// belong to it.
    pub fn leaves_gaps(&self, band: &Band) -> bool {
        let closed = |end: &Option<Bound>| end.as_ref().is_some_and(|end| end.closed);
        let step = self.step.abs();
        band.width()
            .is_some_and(|width| step > width || (step == width && !closed(&band.low) && !closed(&band.high)))
    }
}

/// A band and all that lies within `most` steps of it.
fn reached(band: &Band, step: &Exact, most: Option<u32>) -> Band {
    match most {
        None => Band::all(),
        Some(most) => band.widened(&(step * &Exact::whole(i64::from(most)))),
    }
}

/// How many steps it takes from one end down to another, rounded up; as many as there are where an end is missing.
fn steps_to(from: Option<&Bound>, to: Option<&Bound>, step: &Exact) -> u32 {
    let (Some(from), Some(to)) = (from, to) else { return MOST_STEPS };
    let steps = (&from.value - &to.value).checked_div(step).map(|steps| steps.rounded(0, Rounding::Up));
    match steps {
        Some(steps) if steps.is_negative() => 0,
        Some(steps) => steps.to_string().parse().unwrap_or(MOST_STEPS),
        None => MOST_STEPS,
    }
}

/// Bands from low to high, those that meet made one; the empty ones are dropped.
fn merged(bands: Vec<Band>) -> Vec<Band> {
    let mut out: Vec<Band> = Vec::new();
    for band in bands.into_iter().filter(|band| !band.is_empty()) {
        match out.last_mut() {
            Some(last) if touch(last, &band) => last.high = band.high,
            _ => out.push(band),
        }
    }
    out
}

/// Whether nothing lies between the upper end of one band and the lower end of the next.
fn touch(below: &Band, above: &Band) -> bool {
    match (&below.high, &above.low) {
        (Some(high), Some(low)) => {
            high.value > low.value || (high.value == low.value && (high.closed || low.closed))
        }
        _ => true,
    }
}
