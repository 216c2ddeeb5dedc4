//! What is asked of the samples of a reading, and how many values must be taken so that it can be told.

#[cfg(test)]
mod tests;

use super::manner::least;
use super::{Lowerer, readings_in};
use crate::resolve;
use dwell_card::graph::{Act, Condition, Measure, Test};
use dwell_card::meaning::is_sampled;
use dwell_card::number::Num;
use dwell_quantity::Kind;
use dwell_syntax::tree::{self, Expr, Joint, Quantifier, TestKind};

/// The two words that ask something of samples.
const STEADY: &str = "steady";
const FLUCTUATING: &str = "fluctuating";

impl<'a> Lowerer<'a> {
    /// What ends a measurement: it is about its own readings, since nothing else changes meanwhile.
    pub(super) fn until(&mut self, until: &tree::Condition, node: usize) {
        let condition = self.condition(until, false);
        let Some(Act::Measure(measure)) = self.act_mut(node) else { return };
        let readings = measure.readings.clone();
        let changes = |lowerer: &Self, test: &Test| {
            readings_in(test).iter().any(|reading| lowerer.is_made_of(*reading, &readings, 0))
        };
        if !condition.tests.iter().all(|test| changes(self, test)) {
            let place = self.place(until.span);
            return self.cannot(
                place,
                "an `until` can only wait for what is measured here",
                "name the readings of this `measure`, each in a test of its own",
            );
        }
        if let Some(Act::Measure(measure)) = self.act_mut(node)
            && let Some(sampling) = &mut measure.sampling
        {
            sampling.until = Some(condition);
        }
    }

    /// Whether a reading is one of these or computed from them.
    fn is_made_of(&self, reading: usize, of: &[usize], depth: usize) -> bool {
        let formula = self.out.card.readings.get(reading).and_then(|known| known.formula.clone());
        of.contains(&reading)
            || formula.filter(|_| depth < 64).is_some_and(|formula| {
                let probe = Test::Within { value: formula, low: None, high: None, written: String::new() };
                readings_in(&probe).iter().any(|inner| self.is_made_of(*inner, of, depth + 1))
            })
    }

    /// Whether `name is steady` or `name is fluctuating` is asked of a reading.
    pub(super) fn is_of_samples(&self, name: &tree::Name, values: &[tree::Name]) -> bool {
        let is_reading = self.frames.last().is_some_and(|frame| frame.readings.contains_key(&name.text));
        let asked = |value: &tree::Name| value.text == STEADY || value.text == FLUCTUATING;
        is_reading && values.iter().any(asked)
    }

    /// `charge is steady within 0.2 V`, of each reading that is meant here.
    pub(super) fn sample_test(
        &mut self,
        name: &tree::Name,
        at: Option<&tree::Name>,
        not: bool,
        values: &[tree::Name],
        within: Option<&tree::Amount>,
    ) -> Vec<Test> {
        let [value] = values else {
            let place = self.place(name.span);
            self.cannot(
                place,
                "what drifts is neither steady nor fluctuating: the two are asked one by one",
                format!("write `{0} is {STEADY} or {0} is {FLUCTUATING}`", name.text),
            );
            return Vec::new();
        };
        let all = self.frames.last().and_then(|frame| frame.readings.get(&name.text)).cloned();
        let all = all.unwrap_or_default();
        let readings = match at {
            Some(at) => self.reading_there(&all, at).into_iter().collect(),
            None => self.here(&all),
        };
        let is_steady = value.text == STEADY;
        let mut tests = Vec::new();
        for reading in readings {
            let Some(limit) = self.movement(reading, name, within) else { return Vec::new() };
            self.samples_asked(reading, if is_steady { 2 } else { 3 }, name);
            tests.push(if is_steady {
                Test::Steady { reading, not, within: limit }
            } else {
                Test::Fluctuating { reading, not, within: limit }
            });
        }
        tests
    }

    /// How much a reading may move: as written, or one step of its tool.
    fn movement(
        &mut self,
        reading: usize,
        name: &tree::Name,
        within: Option<&tree::Amount>,
    ) -> Option<Option<Num>> {
        let known = self.out.card.readings.get(reading)?;
        let kind = Kind::named(&known.kind)?;
        let Some(within) = within else {
            let tool = known.tool.and_then(|tool| self.out.card.tools.get(tool));
            let ability = tool.and_then(|tool| tool.measures.iter().find(|able| able.kind == known.kind));
            if ability.is_none_or(|ability| ability.resolution.is_none()) {
                let place = self.place(name.span);
                let unit = known.unit.clone();
                self.cannot(
                    place,
                    format!("nothing says how much `{}` may move", name.text),
                    format!("say it, `within 0.1 {unit}`, or give its tool a `resolution`"),
                );
                return None;
            }
            return Some(None);
        };
        let file = self.file();
        let limit = resolve::amount(file, within, kind, &name.text, true, self.troubles)?;
        if limit.is_negative() {
            let place = self.place(within.span);
            self.cannot(place, "a movement is not negative", "write the amount without its sign");
            return None;
        }
        Some(Some(Num(limit)))
    }

    /// Whether a reading is measured with more than one value.
    pub(super) fn has_samples(&self, reading: usize) -> bool {
        self.measuring(reading).any(|measure| measure.times > 1 || is_sampled(measure))
    }

    fn measuring(&self, reading: usize) -> impl Iterator<Item = &Measure> {
        self.out.card.nodes.iter().filter_map(move |node| match &node.act {
            Act::Measure(measure) if measure.readings.contains(&reading) => Some(measure),
            _ => None,
        })
    }

    /// Something is asked of the samples of a reading for which at least `needed` must count: every measurement of it takes
    /// that many. One that is taken as a single value cannot tell.
    pub(super) fn samples_asked(&mut self, reading: usize, needed: u32, name: &tree::Name) {
        let place = self.place(name.span);
        let what = |count: &str| format!("`{}` is measured with {count}, and that cannot tell", name.text);
        let mut few = None;
        if self.measuring(reading).next().is_none() {
            let what = format!("`{}` is worked out or read off, it has no samples", name.text);
            return self.cannot(place, what, "ask it of a reading that is measured several times");
        }
        for node in &mut self.out.card.nodes {
            let Act::Measure(measure) = &mut node.act else { continue };
            if !measure.readings.contains(&reading) {
                continue;
            }
            let (over, is_several) = (measure.over.clone(), measure.times >= needed);
            match &mut measure.sampling {
                Some(sampling) => {
                    sampling.needed = sampling.needed.max(needed);
                    sampling.least = sampling.least.max(least(sampling, over.as_ref()));
                }
                None if is_several => {}
                None if measure.times > 1 => few = Some(format!("{} values", measure.times)),
                None => few = Some("one value".to_owned()),
            }
        }
        if let Some(few) = few {
            let help = format!("measure it `over 20 s take mean`, or `{} times take mean`", needed.max(3));
            self.cannot(place, what(&few), help);
        }
    }

    /// `every hc meets test-hc and co meets test-co`, where these were sampled together: every moment of their measurement.
    pub(super) fn at_moments(&mut self, condition: &tree::Condition, adjusting: bool) -> Option<Condition> {
        let (quantifier, span) = condition.quantifier?;
        let sampled: Vec<Option<usize>> =
            condition.tests.iter().map(|test| self.one_sampled(&test.kind)).collect();
        let mut readings: Vec<usize> = sampled.iter().flatten().copied().collect();
        readings.sort_unstable();
        readings.dedup();
        if readings.is_empty() {
            return None;
        }
        let together = self.out.card.nodes.iter().any(|node| {
            matches!(&node.act, Act::Measure(measure)
                if readings.iter().all(|reading| measure.readings.contains(reading)))
        });
        let place = self.place(span);
        if !together || sampled.contains(&None) {
            self.cannot(
                place,
                "these have no moments in common",
                "ask `every` and `any` only of readings of one `measure`, and the rest in a condition of its own",
            );
        }
        for test in &condition.tests {
            if let (Some(reading), Some(name)) = (self.one_sampled(&test.kind), named(&test.kind)) {
                self.samples_asked(reading, 1, name);
            }
        }
        let plain = tree::Condition { quantifier: None, ..condition.clone() };
        let mut tests = Vec::new();
        for test in &plain.tests {
            self.test(test, None, adjusting, &mut tests);
        }
        let says = self.written(condition.span);
        let inner = Condition {
            any: condition.joint == Joint::Or && tests.len() > 1,
            tests,
            groups: Vec::new(),
            says: says.clone(),
        };
        let every = quantifier == Quantifier::Every;
        let moments = Test::Moments { readings, every, condition: Box::new(inner) };
        Some(Condition { any: false, tests: vec![moments], groups: Vec::new(), says })
    }

    /// The reading that a test is about, where it is a single one with samples.
    fn one_sampled(&self, kind: &TestKind) -> Option<usize> {
        let name = named(kind)?;
        let all = self.frames.last().and_then(|frame| frame.readings.get(&name.text))?;
        match all.as_slice() {
            [one] if self.has_samples(*one) => Some(*one),
            _ => None,
        }
    }

    /// A piece of the text in one line.
    fn written(&self, span: tree::Span) -> String {
        let text = self.program.files.get(self.file()).map(|file| file.text.as_str());
        let written = text.and_then(|text| text.get(span.start..span.end)).unwrap_or_default();
        written.split_whitespace().collect::<Vec<_>>().join(" ")
    }
}

/// The reading that a test holds against a limit, by its name.
fn named(kind: &TestKind) -> Option<&tree::Name> {
    match kind {
        TestKind::Meets { what: Expr::Name(name), .. } | TestKind::Band { what: Expr::Name(name), .. } => {
            Some(name)
        }
        _ => None,
    }
}
