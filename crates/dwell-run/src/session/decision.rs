//! Decisions: each test comes out on one side, by the meaning of the card; and what the record says of it.

use super::turn::Turn;
use super::view::{in_words, measure_of, unit_named};
use dwell_card::graph::{Condition, Judge, Side, Test, Way, Work};
use dwell_card::limit::Formula;
use dwell_card::meaning::{Basis, States, as_read, basis, branch_ways, judge_in, sides, spread, work};
use dwell_card::vehicle::Guard;
use dwell_quantity::{
    Band, Exact, Kind, Place, Unit, amount_off, band_fully_shown, band_shown, conformance, reading_shown,
    verdict,
};
use dwell_record::What;
use dwell_record::event::{Judged, ReadingName, Tested, Uncertain};
use std::borrow::Cow;

impl Turn<'_> {
    /// Judges: notes how each test came out, and what is settled and proved by it.
    pub(super) fn judge(&mut self, judge: &Judge) -> Way {
        let at = self.state.at;
        let came: Vec<Side> = judge.condition.tests.iter().map(|test| self.side(test, false)).collect();
        judge.condition.tests.iter().zip(&came).for_each(|(test, side)| self.came_out(test, *side));
        let holds = judge_in(&judge.condition, &came);
        let tests = judge.condition.tests.iter().zip(&came);
        let tests = tests.map(|(test, side)| self.tested(test, *side, &judge.condition.says)).collect();
        let says = judge.condition.says.clone();
        self.happened(Some(at), What::Judged(Judged { says, adjusting: judge.adjusting, holds, tests }));
        self.narrow(&judge.condition, &came);
        self.state.judged = Some((at, came));
        if !holds {
            self.state.open.insert(at);
            return Way::Out;
        }
        for settled in &judge.settles {
            self.state.open.remove(settled);
        }
        if !judge.proves.is_empty() {
            let proof = Work { brings: judge.proves.clone(), ..Work::default() };
            let worked = work(&proof, self.chosen, &self.state.slots);
            self.state.clocks.follow(&self.card.slots, &self.state.slots, &worked.after);
            self.state.moved(worked.after, worked.told.into_iter());
            self.end_lasting();
        }
        Way::In
    }

    /// Which way a branch goes.
    pub(super) fn branch(&mut self, condition: &Condition) -> Way {
        let came: Vec<Side> = condition.tests.iter().map(|test| self.side(test, true)).collect();
        condition.tests.iter().zip(&came).for_each(|(test, side)| self.came_out(test, *side));
        self.held_against(condition, &came);
        self.narrow(condition, &came);
        branch_ways(condition, &came)
    }

    /// Notes how readings stand to their limits where a way is chosen by that: it is a verdict like any other. What was decided
    /// by the same value already is not noted again.
    fn held_against(&mut self, condition: &Condition, came: &[Side]) {
        let mut tests = Vec::new();
        for test in &condition.tests {
            let Test::Meets { value: Formula::Latest(reading), limit, adjusting, at, .. } = test else {
                continue;
            };
            if self.view().stored(*reading, false).is_none() {
                continue;
            }
            let test = Test::Meets {
                value: Formula::Latest(*reading),
                limit: *limit,
                adjusting: *adjusting,
                misses: false,
                at: at.clone(),
            };
            let tested = self.tested(&test, self.side(&test, true), &condition.says);
            if !self.is_decided(&tested) {
                tests.push(tested);
            }
        }
        if !tests.is_empty() {
            let (at, says) = (self.state.at, condition.says.clone());
            let (adjusting, holds) = (false, judge_in(condition, came));
            self.happened(Some(at), What::Judged(Judged { says, adjusting, holds, tests }));
        }
    }

    /// Whether the same was decided since the reading was taken.
    fn is_decided(&self, tested: &Tested) -> bool {
        for event in self.events.iter().rev().chain(self.before.iter().rev()) {
            match &event.what {
                What::Judged(judged) if judged.tests.contains(tested) => return true,
                What::Measured(measured) if Some(&measured.reading) == tested.reading.as_ref() => {
                    return false;
                }
                _ => {}
            }
        }
        false
    }

    /// The side on which a test comes out. Where it cannot be told, because a need was denied and the state is not known, a
    /// question after a state is taken to hold, which is how work that may be owed gets done; nothing else is.
    fn side(&self, test: &Test, branching: bool) -> Side {
        let possible = self.view().scene(|scene| sides(test, scene));
        match possible.as_slice() {
            [] => Side::NoReading,
            [one] => *one,
            [first, ..] if branching && matches!(test, Test::Guard { .. }) => *first,
            many => many.iter().copied().rfind(|side| *side != Side::In).unwrap_or(Side::NoReading),
        }
    }

    /// What a test after a state has told of a state that was not known.
    fn narrow(&mut self, condition: &Condition, came: &[Side]) {
        for (test, side) in condition.tests.iter().zip(came) {
            let Test::Guard { guard: Guard::State { slot, states }, not } = test else { continue };
            let (now, asked) = (self.state.slot(*slot), States::these(states));
            let (inside, outside): (Vec<usize>, Vec<usize>) = now.iter().partition(|state| asked.has(*state));
            let left = if (*side == Side::In) != *not { inside } else { outside };
            if !left.is_empty() {
                self.state.set(*slot, States::these(&left));
            }
        }
    }

    /// The band of a test in words, where it is known now.
    pub(super) fn band_in_words(&self, test: &Test) -> Option<String> {
        let basis = self.view().scene(|scene| basis(test, scene))?;
        let (unit, kind, decimals) = self.band_units(test, &basis)?;
        Some(band_fully_shown(&basis.band, unit, kind, decimals))
    }

    /// The same for a reading, and where its tool reads another unit in that one too, rounded inwards.
    pub(super) fn band_in_both(&self, test: &Test, reading: usize) -> Option<String> {
        let words = self.band_in_words(test)?;
        let basis = self.view().scene(|scene| basis(test, scene))?;
        let (unit, kind, _) = self.band_units(test, &basis)?;
        let asked = self.card.readings.get(reading).and_then(measure_of);
        Some(match asked {
            Some((of, asked)) if of == kind && asked.symbol() != unit.symbol() => {
                let decimals = self.view().decimals(reading);
                format!("{words} ({})", band_shown(&basis.band, asked, kind, decimals))
            }
            _ => words,
        })
    }

    /// The unit, kind and decimals that a band is shown with: those of its limit, or of the reading.
    fn band_units(&self, test: &Test, basis: &Basis) -> Option<(Unit, Kind, u32)> {
        if let Some(limit) = basis.limit.and_then(|limit| self.card.limits.get(limit)) {
            return Some((unit_named(&limit.unit)?, Kind::named(&limit.kind)?, limit.decimals));
        }
        let reading = unit_of(test)?;
        let known = self.card.readings.get(reading)?;
        let (kind, unit) = measure_of(known)?;
        Some((unit, kind, self.view().decimals(reading)))
    }

    fn tested(&self, test: &Test, side: Side, says: &str) -> Tested {
        // That a value lies outside of a band is what was wanted here: it is told as such, and not as a value in band.
        let misses = matches!(test, Test::Meets { misses: true, .. });
        let reading = reading_in(test);
        let mut tested = Tested {
            name: self.name_of(test, says),
            reading: reading.filter(|_| !misses).and_then(|reading| self.reading_name(reading)),
            band: None,
            written: None,
            guarded: None,
            value: None,
            side: side_of(side),
            off: None,
            uncertain: None,
        };
        if let Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } = test {
            tested.value = self.spread_in_words(*reading);
        }
        let Some(basis) = self.view().scene(|scene| basis(test, scene)) else { return tested };
        let Some((band_unit, kind, band_decimals)) = self.band_units(test, &basis) else { return tested };
        let known = reading.and_then(|reading| self.card.readings.get(reading));
        let unit = known.and_then(measure_of).map_or(band_unit, |(_, unit)| unit);
        let decimals = reading.map_or(band_decimals, |reading| self.view().decimals(reading));
        let words = |band: &Band| band_fully_shown(band, band_unit, kind, band_decimals);
        tested.band = Some(words(&basis.band));
        tested.written = basis.written.clone();
        if basis.deciding != basis.band {
            tested.guarded =
                Some(if basis.deciding.is_empty() { "nothing".into() } else { words(&basis.deciding) });
        }
        let high = basis.value.reach().and_then(|reach| reach.high.clone()).map(|end| end.value);
        let about = basis.value.about().map(|low| match (side, &high) {
            (Side::High, Some(high)) => high,
            _ => low,
        });
        tested.value = Some(match about {
            Some(exact) => reading_shown(exact, &basis.deciding, unit, kind, decimals),
            None => {
                let value = known.map_or_else(|| basis.value.clone(), |known| as_read(&basis.value, known));
                in_words(&value, unit, kind, decimals)
            }
        });
        if misses {
            (tested.band, tested.written, tested.guarded) = (None, None, None);
            return tested;
        }
        let judged =
            about.map_or_else(|| basis.value.reach(), |about| Some(Cow::Owned(Band::exactly(about.clone()))));
        if let Some(value) = judged
            && let Place::Low(off) | Place::High(off) = basis.deciding.place(&value)
            && matches!(side, Side::Low | Side::High)
        {
            tested.off = Some(amount_off(&off, unit, kind, decimals));
        }
        tested.uncertain = uncertain(&basis, unit, kind, decimals);
        tested
    }

    /// How far the samples of a reading lie apart: `spread 0.03 V`.
    fn spread_in_words(&self, reading: usize) -> Option<String> {
        let view = self.view();
        let stored = view.stored(reading, false)?;
        let (kind, unit) = self.card.readings.get(reading).and_then(measure_of)?;
        Some(format!("spread {}", amount_off(&spread(&stored.samples)?, unit, kind, stored.decimals)))
    }

    fn name_of(&self, test: &Test, says: &str) -> String {
        let of_samples = |reading: &usize, not: &bool, what: &str| {
            let name = self.reading_name(*reading).map(|name| name.words()).unwrap_or_default();
            format!("{name} {}{what}", if *not { "not " } else { "" })
        };
        match test {
            Test::Meets { misses: true, .. } => says.to_owned(),
            Test::Steady { reading, not, .. } => of_samples(reading, not, "steady"),
            Test::Fluctuating { reading, not, .. } => of_samples(reading, not, "fluctuating"),
            Test::Answer { question, .. } => self
                .card
                .questions
                .get(*question)
                .map_or(says.to_owned(), |question| self.view().spoken(&question.text)),
            Test::Guard { guard: Guard::State { slot, .. }, .. } => {
                self.card.slots.get(*slot).map_or(says.to_owned(), |slot| slot.label.clone())
            }
            Test::Guard { guard: Guard::Variant { axis, .. }, .. } => {
                self.card.axes.get(*axis).map_or(says.to_owned(), |axis| axis.name.clone())
            }
            _ => reading_in(test)
                .and_then(|reading| self.reading_name(reading))
                .map_or(says.to_owned(), |reading| reading.words()),
        }
    }

    /// A reading as a record names it.
    pub(super) fn reading_name(&self, number: usize) -> Option<ReadingName> {
        let known = self.card.readings.get(number)?;
        let procedure =
            self.card.frames.get(known.frame).map(|frame| frame.procedure.clone()).unwrap_or_default();
        Some(ReadingName { number, name: known.name.clone(), place: known.at.clone(), procedure })
    }
}

/// The one reading whose latest value a test looks at.
fn reading_in(test: &Test) -> Option<usize> {
    match test {
        Test::Meets { value: Formula::Latest(reading), .. }
        | Test::Within { value: Formula::Latest(reading), .. } => Some(*reading),
        _ => None,
    }
}

/// The reading in whose unit a test is shown: the one it looks at, or the one whose samples it makes one.
fn unit_of(test: &Test) -> Option<usize> {
    match test {
        Test::Within { value: Formula::Samples(_, reading), .. } => Some(*reading),
        _ => reading_in(test),
    }
}

/// The decision with the tool's uncertainty, where that is known and the value is one number.
fn uncertain(basis: &Basis, unit: Unit, kind: Kind, decimals: u32) -> Option<Uncertain> {
    let expanded = basis.uncertainty.as_ref()?;
    let reading = basis.value.about()?;
    let standard = expanded.checked_div(&Exact::whole(2))?;
    Some(Uncertain {
        uncertainty: amount_off(expanded, unit, kind, decimals),
        verdict: verdict(&basis.band, reading, expanded).into(),
        conformance: probability(conformance(&basis.band, reading, &standard), expanded.is_zero()),
    })
}

/// A probability with 4 decimals; with an uncertainty that is not zero nothing shows as certain.
fn probability(value: f64, exact: bool) -> String {
    match format!("{value:.4}") {
        certain if certain == "1.0000" && !exact => "above 0.9999".into(),
        never if never == "0.0000" && !exact => "below 0.0001".into(),
        other => other,
    }
}

/// The words of the record for a side of the card.
fn side_of(side: Side) -> dwell_record::Side {
    match side {
        Side::In => dwell_record::Side::In,
        Side::Low => dwell_record::Side::Low,
        Side::High => dwell_record::Side::High,
        Side::NoReading => dwell_record::Side::NoReading,
        Side::Other => dwell_record::Side::Other,
    }
}
