//! Chance: variants, answers and values as they may come, values above all where limits are.

use dwell_card::Card;
use dwell_card::graph::{Act, Test};
use dwell_card::limit::Formula;
use dwell_quantity::{Band, Exact, from_base};
use dwell_run::{Answer, GivenSample, Prompt, ReadingPrompt};

/// What chance gives to a job.
pub(crate) struct Chance(dwell_tests::chance::Chance);

impl Chance {
    pub(crate) fn seeded(seed: u64) -> Chance {
        Chance(dwell_tests::chance::Chance::seeded(seed))
    }

    /// A number below `count`.
    pub(crate) fn below(&mut self, count: usize) -> usize {
        self.0.place(count)
    }

    /// True once in `times`.
    pub(crate) fn once_in(&mut self, times: usize) -> bool {
        self.below(times) == 0
    }

    /// One value for each axis.
    pub(crate) fn variants(&mut self, card: &Card) -> Vec<(String, String)> {
        card.axes
            .iter()
            .map(|axis| (axis.name.clone(), axis.values[self.below(axis.values.len())].clone()))
            .collect()
    }

    /// An answer to what is asked.
    pub(crate) fn answer(&mut self, prompt: &Prompt, card: &Card) -> Answer {
        match prompt {
            Prompt::Confirm(_) | Prompt::Done { .. } => Answer::Done,
            Prompt::Need { .. } => {
                if self.once_in(4) {
                    Answer::No
                } else {
                    Answer::Yes
                }
            }
            // Two of three names are one person's, who is refused as the second.
            Prompt::Sign(_) => {
                Answer::Signature(["A. Weber", "a weber", "B. Adler"][self.below(3)].to_owned())
            }
            Prompt::Question(question) => {
                Answer::Choice(question.values[self.below(question.values.len())].clone())
            }
            Prompt::Reading(_) if self.once_in(9) => Answer::NoReading,
            // What looks like a slip is asked back; here it is meant.
            Prompt::Reading(reading) if reading.sampled.is_some() => {
                Answer::Kept(Box::new(self.samples(reading, card)))
            }
            Prompt::Reading(reading) => Answer::Kept(Box::new(self.value(reading, card))),
        }
    }

    /// Samples: as many as are wanted or some more, mostly alike, now and then with times or one that cannot be read.
    fn samples(&mut self, prompt: &ReadingPrompt, card: &Card) -> Answer {
        let Some(wanted) = &prompt.sampled else { return Answer::NoReading };
        let count = wanted.given.unwrap_or_else(|| wanted.least + u32::try_from(self.below(4)).unwrap());
        let (alike, timed) = (self.once_in(2), wanted.given.is_none() && self.once_in(3));
        let first = self.value(prompt, card);
        let mut all = Vec::new();
        for place in 0..count {
            let value = if alike { first.clone() } else { self.value(prompt, card) };
            let Answer::Value { text, unit } = value else { continue };
            let text = if self.once_in(60) { "no reading".to_owned() } else { text };
            all.push(GivenSample { time: timed.then(|| place.to_string()), text, unit, kept: false });
        }
        Answer::Samples(all)
    }

    /// A value in a band that the reading is held against, on its limit, beyond it, or anywhere.
    fn value(&mut self, prompt: &ReadingPrompt, card: &Card) -> Answer {
        let bands = bands(card, prompt.reading);
        let unit = |value: &Exact| from_base(value, prompt.unit, prompt.kind);
        let band = match bands.len() {
            0 => Band::all(),
            count => bands[self.below(count)].clone(),
        };
        let ends: Vec<Exact> =
            [&band.low, &band.high].into_iter().flatten().map(|end| unit(&end.value)).collect();
        let middle = band.middle().map(|middle| unit(&middle));
        let step = Exact::ratio(1, 10_i64.pow(prompt.decimals.min(6))).unwrap();
        let number = match (self.below(6), middle) {
            (0..=2, Some(middle)) => middle,
            (3, _) | (0..=2, None) => {
                let near = ends.get(self.below(ends.len())).cloned().unwrap_or_default();
                let by = &step * &Exact::whole(i64::try_from(self.below(5)).unwrap() - 2);
                &near + &by
            }
            (4, _) => {
                let near = ends.get(self.below(ends.len())).cloned().unwrap_or_default();
                let by = &step * &Exact::whole(i64::try_from(self.below(2001)).unwrap() - 1000);
                &near + &by
            }
            _ => Exact::whole(i64::try_from(self.below(400)).unwrap() - 100),
        };
        let number = number.fixed(number.decimals_needed().unwrap_or(prompt.decimals + 2).min(12));
        let word = match self.below(12) {
            0 => "above ",
            1 => "below ",
            _ => "",
        };
        Answer::Value { text: format!("{word}{number}"), unit: Some(prompt.unit.symbol().to_owned()) }
    }
}

/// All bands that a reading is held against anywhere, in base units.
fn bands(card: &Card, reading: usize) -> Vec<Band> {
    let mut all = Vec::new();
    for node in &card.nodes {
        let tests = match &node.act {
            Act::Judge(judge) => &judge.condition.tests,
            Act::Branch { condition } => &condition.tests,
            Act::Measure(measure) if measure.readings.contains(&reading) => {
                all.extend(measure.expected.iter().map(|range| range.band()));
                continue;
            }
            _ => continue,
        };
        for test in tests {
            match test {
                Test::Meets { value, limit, .. } if concerns(value, reading, card) => {
                    let limit = &card.limits[*limit];
                    all.extend(limit.check.iter().chain(&limit.adjust).map(|choice| choice.band.band()));
                    all.extend(limit.rows.iter().flat_map(|group| &group.rows).map(|row| row.band.band()));
                }
                Test::Meets { at: Some(at), limit, .. } if concerns(at, reading, card) => {
                    let rows = card.limits[*limit].rows.iter().flat_map(|group| &group.rows);
                    all.extend(rows.map(|row| row.key.band()));
                }
                Test::Within { value, low, high, .. } if concerns(value, reading, card) => {
                    for (end, _) in [low, high].into_iter().flatten() {
                        if let Formula::Value(value) = end {
                            all.push(Band::exactly(value.0.clone()));
                        }
                    }
                }
                _ => {}
            }
        }
    }
    all
}

/// Whether a formula is about a reading, directly or through a computed one.
fn concerns(formula: &Formula, reading: usize, card: &Card) -> bool {
    match formula {
        Formula::Value(_) => false,
        Formula::Latest(of) | Formula::First(of) => {
            *of == reading
                || card.readings[*of].formula.as_ref().is_some_and(|formula| concerns(formula, reading, card))
        }
        Formula::Fold(_, all) => all.contains(&reading),
        Formula::Sine(inner) | Formula::Root(inner) => concerns(inner, reading, card),
        Formula::Samples(_, of) => *of == reading,
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => concerns(a, reading, card) || concerns(b, reading, card),
    }
}
