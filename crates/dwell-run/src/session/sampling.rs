//! Sampled measurements: all values of a reading come in one answer; when all readings have theirs, they are measured.

use super::reply::nothing;
use super::state::Taken;
use super::turn::Turn;
use crate::answer::{Answer, GivenSample};
use crate::listed::listed;
use crate::prompt::{Prompt, ReadingPrompt};
use crate::refusal::Refusal;
use crate::typed::{says_nothing, typed};
use dwell_card::graph::{Act, Measure, Way};
use dwell_card::meaning::{MOST_SAMPLES, SampledReading, Series, Value, least, sampled};
use dwell_quantity::{Decimal, Exact, from_base};
use dwell_record::What;
use dwell_record::event::{SampledHow, SeriesTaken};

impl Turn<'_> {
    /// The values of one reading of a sampled measurement.
    pub(super) fn sampled(&mut self, prompt: &ReadingPrompt, answer: Answer) -> Result<(), Refusal> {
        let Act::Measure(measure) = &self.node()?.act else {
            return Err(Refusal::BrokenCard("a value is asked for where nothing is measured".into()));
        };
        // Of a record: a single value that was asked back then, and kept.
        let (answer, kept) = match answer {
            Answer::Kept(answer) => (*answer, true),
            other => (other, false),
        };
        let mut given = match answer {
            Answer::NoReading => Vec::new(),
            Answer::Value { text, .. } if says_nothing(&text) => Vec::new(),
            Answer::Value { text, unit } => listed(&text, unit.as_deref()),
            Answer::Samples(given) => given,
            _ => return Err(Refusal::NotAsked { wanted: Prompt::Reading(prompt.clone()).wants() }),
        };
        given.iter_mut().for_each(|sample| sample.kept |= kept);
        let taken = self.samples(prompt, measure, given)?;
        let missing = || Refusal::BrokenCard("a reading is not there".into());
        if measure.readings.len() > 1 {
            let reading = self.reading_name(prompt.reading).ok_or_else(missing)?;
            let samples = taken.iter().map(|taken| taken.sample.clone()).collect();
            let times = times_of(&taken);
            let source = self.source.clone();
            let taken = SeriesTaken { reading, samples, times, source };
            self.happened(Some(self.state.at), What::SeriesTaken(taken));
        }
        let place = self.state.taken.iter().position(Vec::is_empty).ok_or_else(missing)?;
        *self.state.taken.get_mut(place).ok_or_else(missing)? = taken;
        if self.state.taken.iter().any(Vec::is_empty) {
            return Ok(());
        }
        self.series_complete(measure)?;
        self.state.taken.clear();
        self.take(Way::Then)
    }

    /// The values as they count; refused where there are too few, or not as many as of the other readings.
    fn samples(
        &self,
        prompt: &ReadingPrompt,
        measure: &Measure,
        given: Vec<GivenSample>,
    ) -> Result<Vec<Taken>, Refusal> {
        if given.iter().all(|sample| sample.time.is_none() && says_nothing(&sample.text)) {
            return Ok(vec![nothing(prompt)]);
        }
        if given.len() > MOST_SAMPLES {
            return Err(Refusal::TooManySamples { given: given.len(), most: MOST_SAMPLES });
        }
        let least = least(measure);
        let timed = given.iter().any(|sample| sample.time.is_some());
        // Samples with times tell by themselves whether they are enough; those of a person must be.
        if !timed && u32::try_from(given.len()).unwrap_or(u32::MAX) < least {
            let unit = prompt.unit.symbol().to_owned();
            return Err(Refusal::TooFewSamples { given: given.len(), least, unit });
        }
        let mut all = Vec::new();
        // With times, or until something holds, values may run.
        let runs = timed || measure.sampling.as_ref().is_some_and(|sampling| sampling.until.is_some());
        let values = self.side_by_side(prompt, &given, runs);
        for (place, sample) in given.into_iter().enumerate() {
            let mut taken = if says_nothing(&sample.text) {
                nothing(prompt)
            } else {
                let value = typed(&sample.text, sample.unit.as_deref(), prompt.kind, prompt.unit)?;
                let believed = self.believed(prompt, value.clone())?;
                let others: Vec<Exact> = values
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != place)
                    .filter_map(|(_, value)| value.clone())
                    .collect();
                self.doubted(prompt, &value, believed, &others)?
            };
            if sample.kept {
                taken.sample = taken.sample.kept();
            }
            taken.time = match (sample.time, timed) {
                (None, false) => None,
                (None, true) => return Err(Refusal::SampleTimes("some have none".into())),
                (Some(time), _) => Some(moment(time, &all)?),
            };
            all.push(taken);
        }
        self.same_moments(&all)?;
        Ok(all)
    }

    /// The values of a list in the unit asked for, to be held against each other; none of those that may run.
    fn side_by_side(&self, prompt: &ReadingPrompt, given: &[GivenSample], runs: bool) -> Vec<Option<Exact>> {
        if runs {
            return Vec::new();
        }
        let value = |sample: &GivenSample| {
            let typed = typed(&sample.text, sample.unit.as_deref(), prompt.kind, prompt.unit).ok()?;
            let value = Value::Read(typed.band);
            value.about().map(|about| from_base(about, prompt.unit, prompt.kind))
        };
        given.iter().map(value).collect()
    }

    /// The readings of one measurement are read at the same moments.
    fn same_moments(&self, all: &[Taken]) -> Result<(), Refusal> {
        let Some((wanted, before)) = self.given_before() else { return Ok(()) };
        let same = wanted == all.len()
            && before.iter().zip(all).all(|(one, other)| exact_time(one) == exact_time(other));
        if same {
            return Ok(());
        }
        let place = self.state.taken.iter().position(|known| known.as_slice() == before);
        let node = &self.node()?.act;
        let reading = match (node, place) {
            (Act::Measure(measure), Some(place)) => measure.readings.get(place).copied(),
            _ => None,
        };
        let other = reading.and_then(|reading| self.reading_name(reading));
        let other = other.map(|name| name.words()).unwrap_or_default();
        Err(Refusal::UnequalSamples { given: all.len(), other, wanted })
    }

    /// The samples of a reading of this measurement that has some already, with their number.
    pub(super) fn given_before(&self) -> Option<(usize, &[Taken])> {
        let known = self.state.taken.iter().find(|taken| !taken.is_empty() && !is_nothing(taken))?;
        Some((known.len(), known))
    }

    /// All readings have their samples: what they come to.
    fn series_complete(&mut self, measure: &Measure) -> Result<(), Refusal> {
        let all = self.state.taken.clone();
        let longest = self.given_before().map(|(_, taken)| taken.to_vec()).unwrap_or_default();
        let times = longest.iter().map(|taken| exact_time(taken).cloned()).collect();
        let values = |taken: &Vec<Taken>| -> Vec<Value> {
            if is_nothing(taken) { Vec::new() } else { taken.iter().map(|one| one.value.clone()).collect() }
        };
        let series = Series { times, values: all.iter().map(values).collect() };
        let ended = self.view().scene(|scene| sampled(measure, &series, scene));
        let prompt = self.state.prompt.clone();
        let Prompt::Reading(asked) = prompt else { return Ok(()) };
        for ((reading, taken), came) in measure.readings.iter().zip(&all).zip(ended.readings) {
            let missing = || Refusal::BrokenCard("a reading is not there".into());
            let name = self.reading_name(*reading).ok_or_else(missing)?;
            let known = self.card.readings.get(*reading).ok_or_else(missing)?;
            let (kind, unit) = super::view::measure_of(known).ok_or_else(missing)?;
            let of = ReadingPrompt { kind, unit, decimals: known.decimals, ..asked.clone() };
            let how = how(&came, ended.until, is_nothing(taken), taken.len());
            self.stored(measure, &of, name, taken, (came.value, came.samples, how));
        }
        Ok(())
    }
}

/// How a reading came to its value; nothing for one value that was simply typed.
fn how(came: &SampledReading, until: bool, nothing: bool, given: usize) -> Option<SampledHow> {
    if nothing || given == 1 && came.window.is_none() && came.flaw.is_none() {
        return None;
    }
    let seconds = |time: &Exact| time.fixed(time.decimals_needed().unwrap_or(3).min(3));
    Some(SampledHow {
        counted: u32::try_from(came.samples.len()).unwrap_or(u32::MAX),
        window: came.window.as_ref().map(|(from, to)| format!("{} s to {} s", seconds(from), seconds(to))),
        until,
        flaw: came.flaw.as_ref().map(ToString::to_string),
    })
}

/// Whether nothing at all could be read.
fn is_nothing(taken: &[Taken]) -> bool {
    matches!(taken, [one] if one.value == Value::Missing && one.time.is_none())
}

fn exact_time(taken: &Taken) -> Option<&Exact> {
    taken.time.as_ref().map(|(_, time)| time)
}

fn times_of(taken: &[Taken]) -> Vec<String> {
    taken.iter().filter_map(|taken| Some(taken.time.as_ref()?.0.clone())).collect()
}

/// The time of a sample: a number of seconds, later than that of the sample before.
fn moment(text: String, before: &[Taken]) -> Result<(String, Exact), Refusal> {
    let number = Decimal::parse(&text)
        .map_err(|why| Refusal::SampleTimes(format!("`{text}` is no number of seconds: {why}")))?;
    if number.value.is_negative() {
        return Err(Refusal::SampleTimes(format!("`{text}` lies before the measurement began")));
    }
    if let Some(last) = before.last().and_then(exact_time)
        && number.value <= *last
    {
        return Err(Refusal::SampleTimes(format!("`{text}` s is not later than the one before it")));
    }
    Ok((text, number.value))
}
