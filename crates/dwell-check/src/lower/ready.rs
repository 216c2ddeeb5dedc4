//! Tools that must be warm, set to zero or settled before they are read.

use super::Lowerer;
use crate::model::{Item, Zeroing};
use crate::resolve;
use dwell_card::graph::{Act, Work};
use dwell_card::number::Num;
use dwell_card::vehicle::{Move, Readiness, Ready, Ripening};
use dwell_quantity::{Exact, Kind};
use dwell_syntax::tree::{self, Clause};

/// The states of the handlings that `warms up` and `settles` mean.
const COLD: usize = 0;
const WARM: usize = 1;
const SETTLED: usize = 0;
const UNSETTLED: usize = 1;

impl<'a> Lowerer<'a> {
    /// The state that time brings a handling of a tool into.
    pub(super) fn ripening(&self, thing: &Item, handling: usize) -> Option<Ripening> {
        let ready = &thing.ready;
        let of = |found: &Option<(usize, Exact)>, state| {
            let (_, seconds) = found.as_ref().filter(|(known, _)| *known == handling)?;
            Some(Ripening { state, seconds: Num(seconds.clone()) })
        };
        of(&ready.warm, WARM).or_else(|| of(&ready.settled, SETTLED))
    }

    /// What a verb of a tool does to its warmth, its display and its zero.
    pub(super) fn readied(&mut self, work: &mut Work, item: usize, verb: &str) {
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return };
        let begins = self.begins(thing, verb);
        if let Some(slot) = thing.ready.warm.as_ref().and_then(|(warm, _)| self.slot(item, None, *warm)) {
            if begins {
                work.ripens.push(slot);
            }
            if matches!(verb, "switch-off" | "stop") {
                self.bring_state(work, slot, COLD, Vec::new());
            }
        }
        let display = thing.ready.settled.as_ref().filter(|_| begins);
        if let Some(slot) = display.and_then(|(settled, _)| self.slot(item, None, *settled)) {
            self.bring_state(work, slot, UNSETTLED, Vec::new());
            work.ripens.push(slot);
        }
        let Some(zero) = &thing.ready.zeroed else { return };
        let Some(slot) = self.slot(item, None, zero.handling) else { return };
        if zero.before.iter().any(|known| known == verb) {
            work.ready.push(Ready { slot, state: zero.zeroed, what: Readiness::Zeroed });
        }
        let over = !zero.before.is_empty() && self.ends(thing, verb);
        if over || zero.after.iter().any(|known| known == verb) {
            self.bring_state(work, slot, unzeroed(zero), Vec::new());
        }
    }

    /// `do "…" zeroes dial-gauge`.
    pub(super) fn zeroes(&mut self, work: &mut Work, tool: usize) {
        let zero = self.model.items.get(tool).and_then(|thing| thing.ready.zeroed.as_ref());
        let Some(zero) = zero else { return };
        if let Some(slot) = self.slot(tool, None, zero.handling) {
            self.bring_state(work, slot, zero.zeroed, Vec::new());
        }
    }

    /// What a tool must be to be read, and what the measurement leaves it in.
    pub(super) fn read_with(&mut self, tool: Option<usize>, clauses: &[Clause]) -> (Vec<Ready>, Vec<Move>) {
        let (mut ready, mut leaves) = (Vec::new(), Vec::new());
        let item = tool.and_then(|tool| self.tools.iter().find(|(_, known)| **known == tool));
        let Some(item) = item.map(|(item, _)| *item) else { return (ready, leaves) };
        let model = self.model;
        let Some(thing) = model.items.get(item) else { return (ready, leaves) };
        if let Some(slot) = thing.ready.warm.as_ref().and_then(|(warm, _)| self.slot(item, None, *warm)) {
            ready.push(Ready { slot, state: WARM, what: Readiness::Warm });
        }
        if let Some((settled, seconds)) = &thing.ready.settled {
            let slot = self.slot(item, None, *settled);
            if let Some(slot) = slot.filter(|_| !self.waits(clauses, seconds)) {
                ready.push(Ready { slot, state: SETTLED, what: Readiness::Settled });
            }
        }
        if let Some(zero) = &thing.ready.zeroed
            && let Some(slot) = self.slot(item, None, zero.handling)
        {
            if zero.each_measure || zero.each_procedure || !zero.after.is_empty() {
                ready.push(Ready { slot, state: zero.zeroed, what: Readiness::Zeroed });
            }
            if zero.each_measure {
                leaves.push(Move { slot, from: Vec::new(), to: unzeroed(zero), when: Vec::new() });
            }
        }
        (ready, leaves)
    }

    /// The slots of a tool that ripen since this verb was done with it.
    pub(super) fn ripening_since(&mut self, event: &tree::Event) -> Vec<usize> {
        let model = self.model;
        let Some(item) = self.item_named(&event.item) else { return Vec::new() };
        let Some(thing) = model.items.get(item).filter(|thing| self.begins(thing, &event.verb.text)) else {
            return Vec::new();
        };
        let both = [&thing.ready.warm, &thing.ready.settled];
        both.into_iter().flatten().filter_map(|(handling, _)| self.slot(item, None, *handling)).collect()
    }

    /// Work that moves what a tool shows leaves its display unsettled.
    pub(super) fn unsettled(&mut self) {
        let model = self.model;
        let mut displays: Vec<(usize, usize)> = Vec::new();
        for (item, tool) in &self.tools {
            let settled = model.items.get(*item).and_then(|thing| thing.ready.settled.as_ref());
            let slot = settled.and_then(|(settled, _)| self.slots.get(&(*item, None, *settled)));
            displays.extend(slot.map(|slot| (*tool, *slot)));
        }
        displays.sort_unstable();
        let tools: Vec<Option<usize>> = self.out.card.readings.iter().map(|reading| reading.tool).collect();
        for node in &mut self.out.card.nodes {
            let Act::Work(work) = &mut node.act else { continue };
            for (tool, slot) in &displays {
                let shows = |reading: &usize| tools.get(*reading) == Some(&Some(*tool));
                if work.disturbs.iter().any(shows) && !work.ripens.contains(slot) {
                    work.brings.push(Move { slot: *slot, from: Vec::new(), to: UNSETTLED, when: Vec::new() });
                    work.ripens.push(*slot);
                }
            }
        }
    }

    /// A tool that is set to zero for each procedure is not when one begins that reads it.
    pub(super) fn unzeroed(&mut self) {
        let model = self.model;
        let mut all: Vec<(usize, usize, usize)> = Vec::new();
        for (item, tool) in &self.tools {
            let zero = model.items.get(*item).and_then(|thing| thing.ready.zeroed.as_ref());
            let Some(zero) = zero.filter(|zero| zero.each_procedure) else { continue };
            let slot = self.slots.get(&(*item, None, zero.handling));
            all.extend(slot.map(|slot| (*tool, *slot, unzeroed(zero))));
        }
        all.sort_unstable();
        for node in &self.out.card.nodes {
            let Act::Measure(measure) = &node.act else { continue };
            let known = all.iter().find(|(tool, _, _)| measure.tool == Some(*tool));
            let Some((_, slot, state)) = known else { continue };
            if let Some(frame) = self.out.card.frames.get_mut(node.frame)
                && !frame.unzeroes.contains(&(*slot, *state))
            {
                frame.unzeroes.push((*slot, *state));
            }
        }
    }

    /// Whether a verb takes a tool out of its normal state: connects it, switches it on.
    fn begins(&self, thing: &Item, verb: &str) -> bool {
        self.leads(thing, verb, |from, to| from.contains(&0) && to != 0)
    }

    /// Whether a verb takes a tool back into its normal state: takes it off.
    fn ends(&self, thing: &Item, verb: &str) -> bool {
        self.leads(thing, verb, |_, to| to == 0)
    }

    fn leads(&self, thing: &Item, verb: &str, is: impl Fn(&[usize], usize) -> bool) -> bool {
        let handlings = thing.handlings.iter().filter_map(|known| self.model.handlings.get(*known));
        let mut verbs = handlings.flat_map(|known| &known.verbs);
        verbs.any(|(name, from, to)| name == verb && is(from, *to))
    }

    /// Whether a measurement begins late enough: `after 10 s`.
    fn waits(&mut self, clauses: &[Clause], seconds: &Exact) -> bool {
        let file = self.file();
        clauses.iter().any(|clause| match clause {
            Clause::After(amount) => {
                let after =
                    resolve::amount(file, amount, Kind::DURATION, "a time to wait", true, &mut Vec::new());
                after.is_some_and(|after| *seconds <= after)
            }
            _ => false,
        })
    }
}

/// The state in which a tool is not set to zero.
fn unzeroed(zero: &Zeroing) -> usize {
    1_usize.saturating_sub(zero.zeroed)
}
