//! When a sampled measurement ends, and what its readings then are.

use super::window::{Counted, Flaw, counted};
use super::{Samples, needed, taken};
use crate::graph::{Measure, Side};
use crate::meaning::{Scene, Value, formula_value, judge_in, sides};
use dwell_quantity::Exact;

/// The samples of all readings of one measurement, those of one moment at the same place.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Series {
    /// Seconds since the measurement began, rising; nothing for samples without a time.
    pub times: Vec<Option<Exact>>,
    /// For each reading of the measurement its samples. Fewer than the others where nothing at all could be read of it.
    pub values: Vec<Vec<Value>>,
}

/// What one reading of a sampled measurement came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SampledReading {
    /// The reading.
    pub value: Value,
    /// The samples that count, in order; none where there is no reading.
    pub samples: Vec<Value>,
    /// The times of the first and the last that count.
    pub window: Option<(Exact, Exact)>,
    /// Why there is no reading, where that is not because nothing was read at all.
    pub flaw: Option<Flaw>,
}

/// How a sampled measurement ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ended {
    /// How many moments were looked at; what was sampled later does not count.
    pub moments: usize,
    /// Whether that was because `until` held.
    pub until: bool,
    /// Its readings, in their order.
    pub readings: Vec<SampledReading>,
}

/// What a sampled measurement comes to. `scene` is what was known before it.
pub fn sampled(measure: &Measure, series: &Series, scene: &Scene<'_>) -> Ended {
    let all: Vec<Counted> =
        series.values.iter().map(|values| counted(measure, &series.times, values)).collect();
    let moments = series.times.len();
    let end = until(measure, &all, moments, scene);
    let readings = all.iter().map(|counted| reading(measure, series, counted, end, moments)).collect();
    Ended { moments: end.unwrap_or(moments), until: end.is_some(), readings }
}

/// How many moments there are up to the first at which `until` holds, itself included.
fn until(measure: &Measure, all: &[Counted], moments: usize, scene: &Scene<'_>) -> Option<usize> {
    let condition = measure.sampling.as_ref().and_then(|sampling| sampling.until.as_ref())?;
    let mut samples: Vec<Vec<Value>> = all.iter().map(|_| Vec::new()).collect();
    for at in 0..moments {
        let mut counts = false;
        for (known, counted) in samples.iter_mut().zip(all) {
            if let Some(value) = counted.values.get(at).cloned().flatten() {
                known.push(value);
                counts = true;
            }
        }
        if !counts {
            continue;
        }
        let values: Vec<Value> = samples
            .iter()
            .zip(all)
            .map(|(known, counted)| match counted.flaw {
                Some((from, _)) if from <= at => Value::Missing,
                _ => value(measure, known),
            })
            .collect();
        let moment = Moments { readings: &measure.readings, values: &values, samples: &samples };
        let holds = moment.look(scene, |scene| {
            let came: Vec<Side> = condition.tests.iter().map(|test| surest(&sides(test, scene))).collect();
            judge_in(condition, &came)
        });
        if holds {
            return Some(at.saturating_add(1));
        }
    }
    None
}

/// The one side on which a test came out; where that cannot be told there is no reading.
pub(super) fn surest(all: &[Side]) -> Side {
    match all {
        [one] => *one,
        _ => Side::NoReading,
    }
}

fn value(measure: &Measure, samples: &[Value]) -> Value {
    let enough = u32::try_from(samples.len()).is_ok_and(|count| count >= needed(measure));
    if enough { taken(measure.take, samples) } else { Value::Missing }
}

fn reading(
    measure: &Measure,
    series: &Series,
    counted: &Counted,
    end: Option<usize>,
    moments: usize,
) -> SampledReading {
    let used = end.unwrap_or(moments);
    let known = counted.values.iter().zip(&counted.times).take(used);
    let (samples, times): (Vec<Value>, Vec<Option<Exact>>) =
        known.filter_map(|(value, time)| Some((value.clone()?, time.clone()))).unzip();
    let times: Vec<Exact> = times.into_iter().flatten().collect();
    let window = times.first().cloned().zip(times.last().cloned());
    let flaw = match &counted.flaw {
        Some((from, flaw)) if *from < used => Some(flaw.clone()),
        _ if end.is_none() => stall(measure, series, times.last()),
        _ => None,
    };
    let few = || {
        let needed = needed(measure);
        let enough = u32::try_from(samples.len()).is_ok_and(|count| count >= needed);
        (!enough).then_some(Flaw::Few { counted: samples.len(), needed })
    };
    match flaw.or_else(few) {
        Some(flaw) => SampledReading { value: Value::Missing, samples: Vec::new(), window, flaw: Some(flaw) },
        None => SampledReading { value: taken(measure.take, &samples), samples, window, flaw: None },
    }
}

/// The samples end before the window does. Where it may end early, and its samples have no times, the last one was the end.
fn stall(measure: &Measure, series: &Series, last: Option<&Exact>) -> Option<Flaw> {
    let sampling = measure.sampling.as_ref()?;
    let (end, last) = (&measure.over.as_ref()?.0, last?);
    if sampling.at_most && series.times.iter().all(Option::is_none) {
        return None;
    }
    let tenth = || end.checked_div(&Exact::whole(10));
    let step = sampling.every.as_ref().map(|every| every.0.clone()).or_else(tenth)?;
    (*last < end - &step).then(|| Flaw::Stall { last: last.clone(), end: end.clone() })
}

/// Readings as they are at one moment of their measurement.
#[derive(Clone, Copy, Debug)]
pub(super) struct Moments<'a> {
    /// The readings, by their numbers on the card.
    pub(super) readings: &'a [usize],
    /// The value of each at this moment.
    pub(super) values: &'a [Value],
    /// The samples of each that count.
    pub(super) samples: &'a [Vec<Value>],
}

impl Moments<'_> {
    /// Looks at the scene as it is at this moment: computed readings follow.
    pub(super) fn look<R>(&self, scene: &Scene<'_>, look: impl FnOnce(&Scene<'_>) -> R) -> R {
        let read = |reading, first| self.value(scene, reading, first);
        let samples = |reading| self.samples(scene, reading);
        look(&Scene { read: &read, samples: &samples, ..*scene })
    }

    fn value(&self, scene: &Scene<'_>, reading: usize, first: bool) -> Value {
        let here = self.readings.iter().position(|known| *known == reading);
        let formula = scene.card.readings.get(reading).and_then(|known| known.formula.as_ref());
        match (here.filter(|_| !first), formula) {
            (Some(place), _) => self.values.get(place).cloned().unwrap_or(Value::Missing),
            (None, Some(formula)) => formula_value(
                formula,
                &|part, as_found| self.value(scene, part, first || as_found),
                &|part| self.samples(scene, part),
            ),
            (None, None) => (scene.read)(reading, first),
        }
    }

    fn samples(&self, scene: &Scene<'_>, reading: usize) -> Samples {
        match self.readings.iter().position(|known| *known == reading) {
            Some(place) => Samples::Counted(self.samples.get(place).cloned().unwrap_or_default()),
            None => (scene.samples)(reading),
        }
    }
}
