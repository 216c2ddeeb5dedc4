//! Decisions and loops: expect, adjust, if, for each, back to.

use super::Lowerer;
use crate::finding::Place;
use crate::model::Thing;
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_card::graph::{Act, Condition, Judge, Outcome, Side, Test, Way};
use dwell_card::limit::Formula;
use dwell_card::vehicle::Move;
use dwell_syntax::tree;

impl<'a> Lowerer<'a> {
    pub(super) fn expect(
        &mut self,
        condition: &'a tree::Condition,
        proves: Option<&tree::StateOf>,
        arms: &'a [tree::Arm],
        place: Place,
    ) {
        let here = self.place(condition.span);
        let asked = self.condition(condition, false);
        if asked.tests.is_empty() {
            for arm in arms {
                self.block(&arm.block);
            }
            return;
        }
        let proves = proves.map(|state| self.proof(state)).unwrap_or_default();
        let judge = self.add(
            Act::Judge(Judge { condition: asked, adjusting: false, settles: Vec::new(), proves }),
            Place { file: place.file, span: here.span },
        );
        if let Some(Act::Judge(known)) = self.act_mut(judge) {
            known.settles = vec![judge];
        }
        self.loose = vec![(judge, Way::Out)];
        if let Some(frame) = self.frame() {
            frame.judging.push(judge);
        }
        self.arms(arms, judge, here, false);
        if let Some(frame) = self.frame() {
            frame.judging.pop();
        }
        self.loose.push((judge, Way::In));
    }

    /// What an `expect … proves …` brings about.
    fn proof(&mut self, state: &tree::StateOf) -> Vec<Move> {
        let Some(known) = resolve::state(self.model, self.file(), state, self.troubles) else {
            return Vec::new();
        };
        let place = self.place(state.span);
        let model = self.model;
        let handling = model
            .items
            .get(known.item)
            .and_then(|item| model.handlings.get(*item.handlings.get(known.handling)?));
        let Some(handling) = handling else { return Vec::new() };
        let ways: Vec<&Vec<usize>> =
            handling.proofs.iter().filter(|(_, to)| *to == known.state).map(|(from, _)| from).collect();
        if ways.is_empty() {
            self.cannot(
                place,
                format!("`{}` is no state that a proof leads to", state.state.text),
                "bring it about with its verb; only a transition `by proof` is proved",
            );
        }
        let slots = self.slots_of_state(known, place);
        let mut moves = Vec::new();
        for slot in slots {
            for from in &ways {
                let mut from = (*from).clone();
                from.push(known.state);
                moves.push(Move { slot, from, to: known.state, when: Vec::new() });
            }
        }
        moves
    }

    /// The arms of `otherwise` after a judging; what no arm takes is unhandled.
    pub(super) fn arms(&mut self, arms: &'a [tree::Arm], judge: usize, place: Place, adjusting: bool) {
        let mut after = Vec::new();
        for arm in arms {
            let Some(side) = arm.side else {
                self.block(&arm.block);
                after.append(&mut self.loose);
                continue;
            };
            let side = match side {
                tree::Side::Low => Side::Low,
                tree::Side::High => Side::High,
                tree::Side::NoReading => Side::NoReading,
            };
            let tests = self.tests_of(judge, arm.of.as_ref());
            let place = self.place(arm.span);
            let condition =
                Condition { tests: vec![Test::Side { judge, tests, side }], ..Condition::default() };
            let branch = self.add_made(Act::Branch { condition }, place);
            self.loose = vec![(branch, Way::Yes)];
            self.block(&arm.block);
            after.append(&mut self.loose);
            self.loose = vec![(branch, Way::No)];
        }
        if !self.loose.is_empty() {
            if adjusting && arms.is_empty() {
                self.troubles.push(Trouble::NoWayOut { place, what: self.judged_in_words(judge) });
            }
            self.add_made(Act::Unhandled, place);
            self.ended(Outcome::Unfinished, None, place);
            after.append(&mut self.loose);
        }
        self.loose = after;
    }

    /// Which tests of a judging look at this reading; all without one.
    fn tests_of(&mut self, judge: usize, of: Option<&tree::Name>) -> Vec<usize> {
        let Some(Act::Judge(known)) = self.act_mut(judge).cloned() else { return Vec::new() };
        let all = 0..known.condition.tests.len();
        let Some(of) = of else { return all.collect() };
        let readings = self.frames.last().and_then(|frame| frame.readings.get(&of.text)).cloned();
        let Some(readings) = readings else {
            self.unknown_reading(of);
            return all.collect();
        };
        let looks = |test: &Test| readings_in(test).iter().any(|reading| readings.contains(reading));
        all.filter(|place| known.condition.tests.get(*place).is_some_and(looks)).collect()
    }

    fn judged_in_words(&self, judge: usize) -> String {
        match self.out.card.nodes.get(judge).map(|node| &node.act) {
            Some(Act::Judge(judge)) => judge.condition.says.clone(),
            _ => String::new(),
        }
    }

    pub(super) fn adjust(
        &mut self,
        what: &'a [(tree::Name, tree::Name)],
        times: Option<&tree::Number32>,
        block: &'a tree::Block,
        arms: &'a [tree::Arm],
        place: Place,
    ) {
        let tests = what
            .iter()
            .map(|(reading, spec)| tree::Test {
                kind: tree::TestKind::Meets {
                    what: tree::Expr::Name(reading.clone()),
                    misses: false,
                    spec: spec.clone(),
                    at: None,
                },
                span: reading.span.to(spec.span),
            })
            .collect();
        let Some(((first, _), (_, last))) = what.first().zip(what.last()) else { return };
        let span = first.span.to(last.span);
        let condition = tree::Condition { quantifier: None, joint: tree::Joint::And, tests, span };
        let mut asked = self.condition(&condition, true);
        asked.says = asked.says.replace(" to ", " meets ");
        for (_, spec) in what {
            self.adjustable(spec);
        }
        if times.is_none() {
            self.troubles
                .push(Trouble::Endless { place, why: "nothing says how often it may be tried".into() });
        }
        let counter = self.out.card.counters.len();
        self.out.card.counters.push(times.map_or(0, |times| times.value));
        let here = self.place(span);
        self.add_made(Act::Begin { counter }, here);
        let settled = self.settled_by(&asked);
        let judge = self.add(
            Act::Judge(Judge { condition: asked, adjusting: true, settles: Vec::new(), proves: Vec::new() }),
            here,
        );
        if let Some(Act::Judge(known)) = self.act_mut(judge) {
            known.settles = settled;
            known.settles.push(judge);
        }
        self.loose = vec![(judge, Way::Out)];
        let count = self.add_made(Act::Count { counter }, here);
        self.loose = vec![(count, Way::Again)];
        self.block(block);
        if !self.loose.is_empty() {
            let names: Vec<&tree::Name> = what.iter().map(|(reading, _)| reading).collect();
            self.again(&names, here);
            self.join(judge);
        }
        self.loose = vec![(count, Way::Spent)];
        self.arms(arms, judge, here, true);
        self.loose.push((judge, Way::In));
    }

    /// The expects that this adjusting can settle: those that ask for nothing but readings which it brings in, each by the
    /// limit that it is brought to.
    fn settled_by(&self, adjusting: &Condition) -> Vec<usize> {
        let brought = |test: &Test| {
            if let Test::Within { value, low, high, .. } = test {
                return adjusting.tests.iter().any(|set| {
                    matches!(set, Test::Within { value: set, low: from, high: to, .. }
                        if set == value && from == low && to == high)
                });
            }
            let Test::Meets { value, limit, misses: false, at: None, .. } = test else { return false };
            adjusting.tests.iter().any(|set| {
                matches!(set, Test::Meets { value: set, limit: to, misses: false, at: None, .. }
                    if set == value && to == limit)
            })
        };
        let judging = self.frames.last().map(|frame| frame.judging.clone()).unwrap_or_default();
        judging
            .into_iter()
            .filter(|judge| match self.out.card.nodes.get(*judge).map(|node| &node.act) {
                Some(Act::Judge(known)) => known.condition.tests.iter().all(brought),
                _ => false,
            })
            .collect()
    }

    fn adjustable(&mut self, name: &tree::Name) {
        let Some(Thing::Spec(spec) | Thing::Table(spec)) =
            self.model.scopes.get(self.file()).and_then(|scope| scope.names.get(&name.text)).copied()
        else {
            return;
        };
        let Some(known) = self.model.specs.get(spec) else { return };
        if let Some(declared) = known.not_adjustable {
            let place = self.place(name.span);
            self.troubles.push(Trouble::NotAdjustable { place, spec: known.name.clone(), declared });
        }
    }

    pub(super) fn branches(
        &mut self,
        arms: &'a [(tree::Condition, tree::Block)],
        last: Option<&'a tree::Block>,
    ) {
        let mut after = Vec::new();
        for (condition, block) in arms {
            let place = self.place(condition.span);
            let asked = self.condition(condition, false);
            let reads =
                asked.tests.iter().any(|test| !matches!(test, Test::Guard { .. } | Test::Answer { .. }));
            let branch = self.add(Act::Branch { condition: asked }, place);
            if reads {
                self.loose = vec![(branch, Way::NoReading)];
                let says = "There is no reading to decide by.".to_owned();
                self.ended(Outcome::Unfinished, Some(says), place);
                after.append(&mut self.loose);
            }
            self.loose = vec![(branch, Way::Yes)];
            self.block(block);
            after.append(&mut self.loose);
            self.loose = vec![(branch, Way::No)];
            if !reads {
                self.loose.push((branch, Way::NoReading));
            }
        }
        if let Some(last) = last {
            self.block(last);
        }
        self.loose.append(&mut after);
    }

    /// `for each`: the block once for every place, in order.
    pub(super) fn for_each(
        &mut self,
        positions: &tree::Name,
        condition: Option<&'a tree::Condition>,
        block: &'a tree::Block,
        place: Place,
    ) {
        let found = names::look_up(self.model, self.file(), positions, "a set of positions", |thing| {
            matches!(thing, Thing::Positions(_))
        });
        let set = match found {
            Ok(Thing::Positions(set)) => set,
            Ok(_) => return,
            Err(trouble) => return self.troubles.push(trouble),
        };
        let count = self.model.positions.get(set).map_or(0, |set| set.values.len());
        if self.frames.last().is_some_and(|frame| frame.bound.iter().any(|(known, _)| *known == set)) {
            return self.cannot(place, "a `for each` of the same places inside another", "use the outer one");
        }
        for value in 0..count {
            if let Some(frame) = self.frame() {
                frame.bound.push((set, value));
            }
            let mut after = Vec::new();
            if let Some(condition) = condition {
                let here = self.place(condition.span);
                let asked = self.condition(condition, false);
                let branch = self.add(Act::Branch { condition: asked }, here);
                after = vec![(branch, Way::No), (branch, Way::NoReading)];
                self.loose = vec![(branch, Way::Yes)];
            }
            self.block(block);
            self.loose.append(&mut after);
            if let Some(frame) = self.frame() {
                frame.bound.pop();
            }
        }
    }

    pub(super) fn back(
        &mut self,
        step: &tree::Name,
        times: Option<&tree::Number32>,
        arms: &'a [tree::Arm],
        place: Place,
    ) {
        if self.frames.last().is_some_and(|frame| frame.in_restore) {
            return self.cannot(
                place,
                "`back to` in `restore`",
                "`restore` runs once: put back what is owed",
            );
        }
        self.not_performed("back to", step);
        let known = self.frames.last().and_then(|frame| frame.steps.get(&step.text)).copied();
        if known.is_none() {
            let all = self
                .frames
                .last()
                .map(|frame| names::near(&step.text, frame.steps.keys().map(String::as_str)));
            let here = self.place(step.span);
            self.troubles.push(Trouble::NotFound {
                place: here,
                name: step.text.clone(),
                what: "a step before this one",
                near: all.unwrap_or_default(),
                elsewhere: None,
            });
        }
        if times.is_none() {
            self.troubles
                .push(Trouble::Endless { place, why: "nothing says how often it may go back".into() });
        }
        let counter = self.out.card.counters.len();
        self.out.card.counters.push(times.map_or(0, |times| times.value));
        let count = self.add(Act::Count { counter }, place);
        self.out.loops.push(count);
        self.loose = vec![(count, Way::Again)];
        self.leave_blocks(place);
        match known {
            Some((node, _)) => self.join(node),
            None => self.ended(Outcome::Unfinished, None, place),
        }
        self.loose = vec![(count, Way::Spent)];
        if arms.is_empty() && times.is_some() {
            self.troubles.push(Trouble::NoWayOut { place, what: format!("going back to `{}`", step.text) });
        }
        let mut after = Vec::new();
        for arm in arms {
            self.block(&arm.block);
            after.append(&mut self.loose);
        }
        if arms.is_empty() {
            self.ended(Outcome::Unfinished, None, place);
        }
        self.loose = after;
    }

    pub(super) fn on(&mut self, step: &tree::Name, place: Place) {
        if self.frames.last().is_some_and(|frame| frame.in_restore) {
            return self.cannot(place, "`on to` in `restore`", "`restore` runs once: put back what is owed");
        }
        self.not_performed("on to", step);
        let known = self.frames.last().is_some_and(|frame| frame.steps.contains_key(&step.text));
        if known {
            self.troubles.push(Trouble::Endless {
                place,
                why: "it goes back without a bound: write `back to … up to …`".into(),
            });
        }
        self.leave_blocks(place);
        let loose = std::mem::take(&mut self.loose);
        if let Some(frame) = self.frame() {
            frame.ahead.extend(loose.into_iter().map(|(node, way)| (node, way, step.clone())));
        }
    }

    /// A jump leaves the blocks that it stands in: their spans and their cautions end.
    fn leave_blocks(&mut self, place: Place) {
        let holds = self.frames.last().map(|frame| frame.holds.clone()).unwrap_or_default();
        for hold in holds.into_iter().rev() {
            self.add_made(Act::Release { hold, lost: false }, place);
        }
        let inner: Vec<usize> = self
            .frames
            .last()
            .map(|frame| frame.cautions.iter().skip(1).flatten().copied().collect())
            .unwrap_or_default();
        if !inner.is_empty() {
            self.add_made(Act::Uncover { cautions: inner }, place);
        }
    }
}

/// The readings that a formula is made of.
pub(crate) fn readings_of(formula: &Formula) -> Vec<usize> {
    let mut out = Vec::new();
    of(formula, &mut out);
    out
}

fn of(formula: &Formula, out: &mut Vec<usize>) {
    match formula {
        Formula::Value(_) => {}
        Formula::Latest(reading) | Formula::First(reading) => out.push(*reading),
        Formula::Fold(_, readings) => out.extend(readings),
        Formula::Samples(_, reading) => out.push(*reading),
        Formula::Sine(inner) | Formula::Root(inner) => of(inner, out),
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => {
            of(a, out);
            of(b, out);
        }
    }
}

/// The readings that a test looks at.
pub(crate) fn readings_in(test: &Test) -> Vec<usize> {
    let mut out = Vec::new();
    match test {
        Test::Meets { value, at, .. } => {
            of(value, &mut out);
            if let Some(at) = at {
                of(at, &mut out);
            }
        }
        Test::Within { value, low, high, .. } => {
            of(value, &mut out);
            for (end, _) in [low, high].into_iter().flatten() {
                of(end, &mut out);
            }
        }
        Test::Steady { reading, .. } | Test::Fluctuating { reading, .. } => out.push(*reading),
        Test::Moments { readings, condition, .. } => {
            out.extend(readings);
            out.extend(condition.tests.iter().flat_map(readings_in));
        }
        Test::Answer { .. } | Test::Guard { .. } | Test::Side { .. } => {}
    }
    out
}

/// The readings whose latest value a formula follows; one as found stays as it was.
pub(crate) fn followed(formula: &Formula) -> Vec<usize> {
    match formula {
        Formula::Value(_) | Formula::First(_) => Vec::new(),
        Formula::Latest(reading) | Formula::Samples(_, reading) => vec![*reading],
        Formula::Fold(_, readings) => readings.clone(),
        Formula::Sine(inner) | Formula::Root(inner) => followed(inner),
        Formula::Plus(a, b)
        | Formula::Minus(a, b)
        | Formula::Times(a, b)
        | Formula::Over(a, b)
        | Formula::Smaller(a, b)
        | Formula::Larger(a, b) => followed(a).into_iter().chain(followed(b)).collect(),
    }
}
