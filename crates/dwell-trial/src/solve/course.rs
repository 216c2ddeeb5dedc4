//! The course of a way as far as a run went along it: what was measured where, what hangs on it, and how it would come out
//! with other values, decided by the meaning that the runner has.

use super::give::{Given, Typing};
use super::knob::Knob;
use crate::follow::Followed;
use dwell_card::Card;
use dwell_card::graph::{Act, Choose, Condition, Measure, Side, Test, Way, Work};
use dwell_card::limit::Formula;
use dwell_card::meaning::{
    Samples, Scene, States, Value, basis, branch_ways, chosen, formula_value, judge_in, set_to, sides,
};
use dwell_check::finding::Reply;
use dwell_quantity::Exact;
use dwell_run::Moment;
use std::collections::{BTreeMap, BTreeSet};

/// One reading of one measurement on the way.
pub(super) struct Taken<'a> {
    /// The place of the measurement on the way.
    at: usize,
    /// The reading.
    pub(super) reading: usize,
    /// How it is measured.
    pub(super) measure: &'a Measure,
    /// How it is typed.
    pub(super) typing: Typing,
    /// The answers that give it.
    replies: Vec<usize>,
}

/// The course up to where the run left the way.
pub(super) struct Course<'a> {
    pub(super) card: &'a Card,
    chosen: &'a [usize],
    way: &'a [(usize, Way)],
    moments: &'a [Moment],
    /// All that was measured, in order.
    pub(super) taken: Vec<Taken<'a>>,
    /// For each place of the way what is decided there by which of the measurements.
    hangs_on: BTreeMap<usize, BTreeSet<usize>>,
    /// The place where the run left the way.
    pub(super) upto: usize,
}

/// What was measured last and first of each reading.
#[derive(Default)]
struct Known {
    latest: BTreeMap<usize, BTreeSet<usize>>,
    first: BTreeMap<usize, BTreeSet<usize>>,
    judges: BTreeMap<usize, BTreeSet<usize>>,
}

impl<'a> Course<'a> {
    /// The course of a run that left the way; nothing where what it left it by is no value.
    pub(super) fn of(way: &'a [(usize, Way)], run: &'a Followed) -> Option<Course<'a>> {
        let card = run.session.card();
        let upto = run.nodes;
        let mut taken: Vec<Taken<'a>> = Vec::new();
        let mut hangs_on = BTreeMap::new();
        let mut known = Known::default();
        for (at, (node, on)) in way.iter().enumerate().take(upto.saturating_add(1)) {
            match &card.nodes.get(*node)?.act {
                Act::Measure(measure) if *on != Way::Lost => {
                    let all = run.at.iter().enumerate().filter(|(_, place)| **place == at);
                    let replies: Vec<usize> = all.map(|(reply, _)| reply).collect();
                    for (place, reading) in measure.readings.iter().enumerate() {
                        let typing = Typing::of(card.readings.get(*reading)?)?;
                        let own = replies.iter().skip(place).step_by(measure.readings.len());
                        let of = BTreeSet::from([taken.len()]);
                        known.first.entry(*reading).or_insert_with(|| of.clone());
                        known.latest.insert(*reading, of);
                        let replies = own.copied().collect();
                        taken.push(Taken { at, reading: *reading, measure, typing, replies });
                    }
                    hangs_on.insert(
                        at,
                        measure.readings.iter().flat_map(|one| known.of(card, *one, false)).collect(),
                    );
                }
                Act::Choose(choose) => {
                    let of = known.of_formula(card, &choose.nearest, false);
                    known.first.entry(choose.reading).or_insert_with(|| of.clone());
                    known.latest.insert(choose.reading, of.clone());
                    hangs_on.insert(at, of);
                }
                Act::Work(Work { worked_out: Some(set), .. }) if *on != Way::Lost => {
                    hangs_on.insert(at, known.of_tests(card, &[set.has_room()]));
                }
                Act::Judge(judge) => {
                    let of = known.of_tests(card, &judge.condition.tests);
                    known.judges.insert(*node, of.clone());
                    hangs_on.insert(at, of);
                }
                Act::Branch { condition } => {
                    hangs_on.insert(at, known.of_tests(card, &condition.tests));
                }
                _ => {}
            }
        }
        let (chosen, moments) = (run.session.chosen(), run.session.moments());
        Some(Course { card, chosen, way, moments, taken, hangs_on, upto })
    }

    /// What the answers give.
    pub(super) fn given(&self, answers: &[Reply]) -> Option<Vec<Given>> {
        let of = |taken: &Taken<'_>| {
            let replies: Vec<&Reply> = taken.replies.iter().filter_map(|reply| answers.get(*reply)).collect();
            taken.typing.given(&replies, taken.measure)
        };
        self.taken.iter().map(of).collect()
    }

    /// The answers with what is given now.
    pub(super) fn answers(&self, answers: &[Reply], given: &[Given]) -> Vec<Reply> {
        let mut answers = answers.to_vec();
        for (taken, given) in self.taken.iter().zip(given) {
            let replies = taken.typing.replies(given, taken.measure);
            for (place, reply) in taken.replies.iter().zip(replies) {
                if let Some(answer) = answers.get_mut(*place) {
                    *answer = reply;
                }
            }
        }
        answers
    }

    /// The measurements that decide where the run left the way.
    pub(super) fn deciding(&self) -> Vec<usize> {
        self.hangs_on.get(&self.upto).into_iter().flatten().copied().collect()
    }

    /// The places where something hangs on a knob.
    pub(super) fn stops(&self, knob: &Knob) -> Vec<usize> {
        let touched = self.hangs_on.iter().filter(|(_, of)| knob.taken.iter().any(|one| of.contains(one)));
        touched.map(|(at, _)| *at).collect()
    }

    /// Whether all comes out at these places as on the way.
    pub(super) fn holds(&self, given: &[Given], stops: &[usize]) -> bool {
        self.failing(given, stops).is_empty()
    }

    /// What the way has where the run left it.
    pub(super) fn left_at(&self) -> Option<(usize, Way)> {
        self.way.get(self.upto).copied()
    }

    /// What the way has at these places and does not come out so.
    pub(super) fn failing(&self, given: &[Given], stops: &[usize]) -> Vec<(usize, Way)> {
        let mut failing = Vec::new();
        self.replay(given, stops, &mut |at, scene| {
            let Some((node, on)) = self.way.get(at) else { return };
            let holds = match self.card.nodes.get(*node).map(|node| &node.act) {
                Some(Act::Judge(judge)) => {
                    judge_in(&judge.condition, &came(&judge.condition, scene)) == (*on == Way::In)
                }
                Some(Act::Branch { condition }) => branch_ways(condition, &came(condition, scene)) == *on,
                Some(Act::Choose(choose)) => taken_size(choose, scene).is_some() == (*on == Way::Then),
                Some(Act::Work(Work { worked_out: Some(set), .. })) if *on != Way::Lost => {
                    set_to(set, scene).is_some() == (*on == Way::Then)
                }
                _ => true,
            };
            if !holds {
                failing.push((*node, *on));
            }
        });
        failing
    }

    /// How far the values lie from the ends that decide at these places, each in base units; none where there is no value or
    /// no end. However they come out, there are as many.
    pub(super) fn distances(&self, given: &[Given], stops: &[usize]) -> Vec<Option<Exact>> {
        let mut all = Vec::new();
        self.replay(given, stops, &mut |at, scene| {
            let Some((node, _)) = self.way.get(at) else { return };
            match self.card.nodes.get(*node).map(|node| &node.act) {
                Some(Act::Judge(judge)) => of_tests(&judge.condition.tests, scene, &mut all),
                Some(Act::Branch { condition }) => of_tests(&condition.tests, scene, &mut all),
                Some(Act::Work(Work { worked_out: Some(set), .. })) => {
                    of_tests(&[set.has_room()], scene, &mut all);
                }
                Some(Act::Choose(choose)) => {
                    let value = scene.value(&choose.nearest);
                    let from = |end: &Exact| value.about().map(|value| value - end);
                    all.extend([from(&choose.low.0), from(&choose.high.0)]);
                }
                _ => {}
            }
        });
        all
    }

    /// The limits of the tests of samples of a reading at these places, in base units; none stands for one step of the tool.
    pub(super) fn of_samples(&self, reading: usize, stops: &[usize]) -> Vec<Option<Exact>> {
        let nodes = stops.iter().filter_map(|at| self.card.nodes.get(self.way.get(*at)?.0));
        let conditions = nodes.filter_map(|node| match &node.act {
            Act::Judge(judge) => Some(&judge.condition),
            Act::Branch { condition } => Some(condition),
            _ => None,
        });
        let tests = conditions.flat_map(|condition| &condition.tests);
        tests
            .filter_map(|test| match test {
                Test::Steady { reading: of, within, .. } | Test::Fluctuating { reading: of, within, .. } => {
                    (*of == reading).then(|| within.as_ref().map(|limit| limit.0.clone()))
                }
                _ => None,
            })
            .collect()
    }

    /// Goes the course with these values and shows what there is to see at these places.
    fn replay(&self, given: &[Given], stops: &[usize], show: &mut dyn FnMut(usize, &Scene<'_>)) {
        let count = self.card.readings.len();
        let mut latest = vec![Value::Missing; count];
        let mut first: Vec<Option<Value>> = vec![None; count];
        let mut samples: Vec<Vec<Value>> = vec![Vec::new(); count];
        let mut judged: Option<(usize, Vec<Side>)> = None;
        let mut next = self.taken.iter().zip(given).peekable();
        for (at, (node, _)) in self.way.iter().enumerate().take(self.upto.saturating_add(1)) {
            while let Some((taken, given)) = next.next_if(|(taken, _)| taken.at == at) {
                put(&mut latest, taken.reading, given.value.clone());
                put(&mut samples, taken.reading, given.samples.clone());
                if let Some(first) = first.get_mut(taken.reading) {
                    first.get_or_insert_with(|| given.value.clone());
                }
            }
            let act = self.card.nodes.get(*node).map(|node| &node.act);
            let is_stop = stops.binary_search(&at).is_ok();
            if !is_stop && !matches!(act, Some(Act::Choose(_))) {
                continue;
            }
            let moment = self.moments.get(at).or_else(|| self.moments.last());
            let size = {
                let view = View { card: self.card, latest: &latest, first: &first };
                let read = |reading, first| view.value(reading, first, &samples);
                let of_samples =
                    |reading: usize| Samples::Counted(samples.get(reading).cloned().unwrap_or_default());
                let answer = |question: usize| {
                    moment.and_then(|moment| moment.answers.get(question)).copied().unwrap_or_default()
                };
                let scene = Scene {
                    card: self.card,
                    chosen: self.chosen,
                    slots: moment.map_or(&[] as &[States], |moment| &moment.slots),
                    read: &read,
                    samples: &of_samples,
                    answer: &answer,
                    judged: judged.as_ref().map(|(node, all)| (*node, all.as_slice())),
                };
                if is_stop {
                    show(at, &scene);
                }
                match act {
                    Some(Act::Judge(judge)) => {
                        let all = came(&judge.condition, &scene);
                        judged = Some((*node, all));
                        None
                    }
                    Some(Act::Choose(choose)) => Some((choose.reading, taken_size(choose, &scene))),
                    _ => None,
                }
            };
            if let Some((reading, size)) = size {
                let value = size.map_or(Value::Missing, Value::point);
                if let Some(first) = first.get_mut(reading) {
                    first.get_or_insert_with(|| value.clone());
                }
                put(&mut latest, reading, value);
            }
        }
    }
}

fn put<T>(all: &mut [T], place: usize, value: T) {
    if let Some(known) = all.get_mut(place) {
        *known = value;
    }
}

/// The values that are known at a place of the course.
struct View<'a> {
    card: &'a Card,
    latest: &'a [Value],
    first: &'a [Option<Value>],
}

impl View<'_> {
    fn value(&self, reading: usize, first: bool, samples: &[Vec<Value>]) -> Value {
        match self.card.readings.get(reading).and_then(|known| known.formula.as_ref()) {
            Some(formula) => formula_value(
                formula,
                &|reading, as_found| self.value(reading, first || as_found, samples),
                &|reading| Samples::Counted(samples.get(reading).cloned().unwrap_or_default()),
            ),
            None if first => self.first.get(reading).cloned().flatten().unwrap_or(Value::Missing),
            None => self.latest.get(reading).cloned().unwrap_or(Value::Missing),
        }
    }
}

/// How the tests of a condition come out; where that cannot be told there is no reading.
fn came(condition: &Condition, scene: &Scene<'_>) -> Vec<Side> {
    let one = |test: &Test| match sides(test, scene).as_slice() {
        [one] => *one,
        _ => Side::NoReading,
    };
    condition.tests.iter().map(one).collect()
}

fn taken_size(choose: &Choose, scene: &Scene<'_>) -> Option<Exact> {
    chosen(choose, &scene.value(&choose.nearest)).map(|chosen| chosen.size)
}

/// How far the value of each test lies from the two ends of its band, and what a table is looked up at from the ends of its rows.
fn of_tests(tests: &[Test], scene: &Scene<'_>, all: &mut Vec<Option<Exact>>) {
    for test in tests {
        match test {
            Test::Meets { at, limit, .. } => {
                of_band(test, scene, all);
                let rows = scene.card.limits.get(*limit).into_iter().flat_map(|limit| &limit.rows);
                for row in at.iter().flat_map(|_| rows.clone().flat_map(|group| &group.rows)) {
                    let value = at.as_ref().map(|at| scene.value(at));
                    let value = value.as_ref().and_then(Value::about);
                    let key = row.key.band();
                    for end in [&key.low, &key.high] {
                        all.push(value.zip(end.as_ref()).map(|(value, end)| value - &end.value));
                    }
                }
            }
            Test::Within { .. } => of_band(test, scene, all),
            Test::Moments { condition, .. } => of_tests(&condition.tests, scene, all),
            _ => {}
        }
    }
}

fn of_band(test: &Test, scene: &Scene<'_>, all: &mut Vec<Option<Exact>>) {
    let basis = basis(test, scene);
    let value = basis.as_ref().and_then(|basis| basis.value.about());
    let ends = basis.as_ref().map(|basis| [&basis.deciding.low, &basis.deciding.high]);
    for place in 0..2 {
        let end = ends.as_ref().and_then(|ends| ends.get(place).copied()?.as_ref());
        all.push(value.zip(end).map(|(value, end)| value - &end.value));
    }
}

impl Known {
    fn of(&self, card: &Card, reading: usize, first: bool) -> BTreeSet<usize> {
        match card.readings.get(reading).and_then(|known| known.formula.as_ref()) {
            Some(formula) => self.of_formula(card, formula, first),
            None => {
                let all = if first { &self.first } else { &self.latest };
                all.get(&reading).cloned().unwrap_or_default()
            }
        }
    }

    fn of_formula(&self, card: &Card, formula: &Formula, first: bool) -> BTreeSet<usize> {
        match formula {
            Formula::Value(_) => BTreeSet::new(),
            Formula::Latest(reading) | Formula::Samples(_, reading) => self.of(card, *reading, first),
            Formula::First(reading) => self.of(card, *reading, true),
            Formula::Fold(_, all) => all.iter().flat_map(|reading| self.of(card, *reading, first)).collect(),
            Formula::Sine(inner) | Formula::Root(inner) => self.of_formula(card, inner, first),
            Formula::Plus(a, b)
            | Formula::Minus(a, b)
            | Formula::Times(a, b)
            | Formula::Over(a, b)
            | Formula::Smaller(a, b)
            | Formula::Larger(a, b) => {
                let mut all = self.of_formula(card, a, first);
                all.extend(self.of_formula(card, b, first));
                all
            }
        }
    }

    fn of_tests(&self, card: &Card, tests: &[Test]) -> BTreeSet<usize> {
        let of = |test: &Test| match test {
            Test::Meets { value, at, .. } => {
                let mut all = self.of_formula(card, value, false);
                all.extend(at.iter().flat_map(|at| self.of_formula(card, at, false)));
                all
            }
            Test::Within { value, low, high, .. } => {
                let mut all = self.of_formula(card, value, false);
                let ends = [low, high].into_iter().flatten();
                all.extend(ends.flat_map(|(end, _)| self.of_formula(card, end, false)));
                all
            }
            Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } => {
                self.of(card, *reading, false)
            }
            Test::Moments { readings, condition, .. } => {
                let mut all = self.of_tests(card, &condition.tests);
                all.extend(readings.iter().flat_map(|reading| self.of(card, *reading, false)));
                all
            }
            Test::Side { judge, .. } => self.judges.get(judge).cloned().unwrap_or_default(),
            Test::Answer { .. } | Test::Guard { .. } => BTreeSet::new(),
        };
        tests.iter().flat_map(of).collect()
    }
}
