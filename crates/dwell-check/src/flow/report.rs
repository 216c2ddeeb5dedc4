//! What the walk found, each thing once, with the places and the way that a reader needs.

pub(super) mod coming;
mod needs;
mod readings;
mod signed;

use super::effect::Fault;
use super::explore::Reached;
use super::vehicles::Vehicles;
use super::witness::{Trail, witness};
use crate::finding::Place;
use crate::lower::Lowered;
use crate::trouble::Trouble;
use dwell_card::graph::{Act, Outcome, Work};
use dwell_card::vehicle::Required;
use dwell_card::words::as_written;
use std::collections::HashSet;

/// The verb that makes a bolt, a nut or a clamp tight.
const TIGHTEN: &str = "tighten";

/// The findings of the walk, in the order found.
#[derive(Default)]
pub(super) struct Report {
    found: Vec<Found>,
    /// The nodes of work that had something to do on some way, or could not be done there.
    worked: HashSet<usize>,
}

/// One finding, where the walk found it, and the vehicles for which it did.
struct Found {
    key: (Fault, Place),
    trouble: Option<Trouble>,
    entries: Vec<(usize, Vehicles)>,
    vehicles: Vec<Vehicles>,
}

impl Report {
    /// Adds a fault unless the same thing was said of the same place before.
    pub(super) fn add(&mut self, fault: Fault, node: usize, lowered: &Lowered, trail: &Trail<'_>) {
        let place = lowered.places.get(node).copied().unwrap_or_default();
        let key = match &fault {
            Fault::Owed { frame, slot, .. } => {
                (Fault::Owed { frame: *frame, slot: *slot, outcome: Outcome::Passed }, Place::default())
            }
            Fault::Unmet { required, .. } => (Fault::Unmet { need: 0, required: required.clone() }, place),
            Fault::Unsigned { node } => {
                (Fault::Unsigned { node: 0 }, lowered.places.get(*node).copied().unwrap_or_default())
            }
            Fault::Stale { .. } => (Fault::Stale { readings: Vec::new() }, place),
            other => (other.clone(), place),
        };
        let entry = (trail.last, trail.vehicles.clone());
        if let Some(known) = self.found.iter_mut().find(|known| known.key == key) {
            known.entries.push(entry);
            return;
        }
        let chosen = trail.chosen();
        let trouble = Said { lowered, trail, node, place, chosen: &chosen }.trouble(fault);
        self.found.push(Found { key, trouble, entries: vec![entry], vehicles: Vec::new() });
    }

    /// The walk is over: which vehicles come to what was found.
    pub(super) fn reached_by(&mut self, entries: &[Reached], all: &Vehicles) {
        if self.found.is_empty() {
            return;
        }
        let ends = self.found.iter().flat_map(|found| &found.entries).map(|(entry, _)| *entry);
        let come = coming::coming(entries, ends, all);
        let stopped = |entry: usize| entries.get(entry).is_some_and(|entry| entry.state.stopped);
        for found in &mut self.found {
            // A way on which nobody stops is not told as one that only a stop makes possible for other vehicles.
            let first = found.entries.first().is_some_and(|(entry, _)| stopped(*entry));
            let alike = found.entries.iter().filter(|(entry, _)| stopped(*entry) == first);
            for (entry, part) in alike {
                let come = come.get(*entry).into_iter().flatten();
                found.vehicles.extend(come.filter_map(|vehicles| vehicles.both(part)));
            }
        }
    }

    /// A report in which nothing was found, of a walk on which these nodes had something to do.
    pub(super) fn nothing(worked: HashSet<usize>) -> Report {
        Report { found: Vec::new(), worked }
    }

    /// The nodes of work that had something to do.
    pub(super) fn all_worked(&self) -> &HashSet<usize> {
        &self.worked
    }

    /// Whether nothing was found on any way.
    pub(super) fn is_empty(&self) -> bool {
        self.found.is_empty()
    }

    /// Work had something to do, or could not be done.
    pub(super) fn worked(&mut self, node: usize) {
        self.worked.insert(node);
    }

    /// The lines of the procedure's own `restore` that are reached and on no way have anything to put back. A line that is
    /// written out for each place is one line.
    fn untouched(&self, lowered: &Lowered, reached: &[bool], troubles: &mut Vec<Trouble>) {
        let nodes = lowered.card.nodes.iter().enumerate();
        let lines = nodes.filter_map(|(at, node)| match &node.act {
            Act::Work(work) if work.if_owed && node.frame == 0 => {
                Some((at, work, lowered.places.get(at).copied()?))
            }
            _ => None,
        });
        let lines: Vec<(usize, &Work, Place)> = lines.collect();
        let mut said: Vec<Place> = Vec::new();
        for (at, work, place) in &lines {
            let useful = lines.iter().any(|(other, _, there)| there == place && self.worked.contains(other));
            if useful || reached.get(*at) != Some(&true) || said.contains(place) {
                continue;
            }
            said.push(*place);
            let slot = work.own.first().and_then(|slot| lowered.card.slots.get(*slot));
            let item = slot.map(|slot| slot.label.clone()).unwrap_or_default();
            troubles.push(Trouble::RestoredUntouched { place: *place, item });
        }
    }

    /// All that was found; a witness names the variants only where they make the difference.
    pub(super) fn into_troubles(
        self,
        lowered: &Lowered,
        all: &Vehicles,
        reached: &[bool],
        troubles: &mut Vec<Trouble>,
    ) {
        self.untouched(lowered, reached, troubles);
        for mut found in self.found {
            let Some(mut trouble) = found.trouble.take() else { continue };
            if let Some(witness) = trouble.witness_mut() {
                let told: Vec<String> = (0..lowered.card.axes.len())
                    .filter(|axis| matters(*axis, &found.vehicles, all))
                    .filter_map(|axis| witness.variants.get(axis))
                    .map(|(name, value)| format!("{} {value}", name.replace('-', " ")))
                    .collect();
                if !told.is_empty() {
                    let plain = witness.says.trim_end_matches('.');
                    witness.says = match plain.strip_suffix(" on every way through") {
                        Some(plain) => format!("{plain} with {}.", told.join(", ")),
                        None => format!("{plain}, with {}.", told.join(", ")),
                    };
                }
            }
            if !troubles.contains(&trouble) {
                troubles.push(trouble);
            }
        }
    }
}

/// Whether another value of this variant would have made a difference.
fn matters(axis: usize, vehicles: &[Vehicles], all: &Vehicles) -> bool {
    let Some(values) = all.of(axis) else { return false };
    vehicles.iter().any(|set| !set.with(axis, values.clone()).covered(vehicles))
}

struct Said<'a> {
    lowered: &'a Lowered,
    trail: &'a Trail<'a>,
    node: usize,
    place: Place,
    chosen: &'a [usize],
}

impl Said<'_> {
    fn trouble(&self, fault: Fault) -> Option<Trouble> {
        let lowered = self.lowered;
        let place = self.place;
        let witness = || Some(witness(self.trail, self.chosen, lowered));
        Some(match fault {
            Fault::Unready { ready } => Trouble::ToolUnready {
                place,
                tool: lowered.slot_items.get(ready.slot).copied()?,
                what: ready.what,
                since: self.changed(ready.slot),
                witness: witness(),
            },
            Fault::Unmet { required, .. } if self.only_unsettled(&required) => Trouble::Unsettled {
                place,
                item: lowered.card.slots.get(required.slot)?.label.clone(),
                state: self.settled(&required),
                since: self.changed(required.slot),
                witness: witness(),
            },
            Fault::Unmet { need, required } => self.unmet(need, &required),
            Fault::CalledUnready { required, .. } => self.called_unready(&required),
            Fault::NotEnsured { frame } => self.not_ensured(frame)?,
            Fault::NotLeft { frame, slot } => self.not_left(frame, slot),
            Fault::Wrong { slot } => self.wrong(slot),
            Fault::Kept { keep, slot } => self.kept_broken(keep, slot)?,
            Fault::Owed { frame, slot, outcome } => self.owed(frame, slot, outcome),
            Fault::NoRecheck { reading } => self.no_recheck(reading)?,
            Fault::Unsigned { node } => self.unsigned(node)?,
            Fault::Unchecked { check } => self.unchecked(check)?,
            Fault::Stale { readings } => self.stale(&readings)?,
            Fault::AsFoundLost { reading } => self.as_found_lost(reading)?,
            Fault::NotConnected { tool, slot } => {
                let connected = lowered.connected.get(&slot)?;
                let now = self.trail.state().slot(slot).iter().find(|state| !connected.contains(state))?;
                Trouble::ToolNotConnected {
                    place,
                    tool: lowered.card.tools.get(tool)?.label.clone(),
                    state: lowered.card.slots.get(slot)?.states.get(now).cloned().unwrap_or_default(),
                    witness: witness(),
                }
            }
            Fault::Exposed { hazard, slot_state } => self.exposed(hazard, slot_state)?,
            Fault::Unhandled => {
                Trouble::OutUnhandled { place, what: self.judged_words(), witness: witness() }
            }
            Fault::PassedWhileOut { judge } => Trouble::PassedWhileOut {
                place,
                judged: judge
                    .or_else(|| self.trail.last_out(lowered))
                    .and_then(|judge| lowered.places.get(judge))
                    .copied()
                    .unwrap_or(place),
                witness: witness(),
            },
            Fault::OutOfReach { with } => self.out_of_reach(with)?,
            Fault::Uncovered { limit } => {
                let spec = lowered.card.limits.get(limit)?;
                let mut axes: Vec<usize> = spec
                    .check
                    .iter()
                    .flat_map(|choice| &choice.when)
                    .chain(spec.rows.iter().flat_map(|group| &group.when))
                    .filter_map(|guard| match guard {
                        dwell_card::vehicle::Guard::Variant { axis, .. } => Some(*axis),
                        dwell_card::vehicle::Guard::State { .. } => None,
                    })
                    .collect();
                axes.sort_unstable();
                axes.dedup();
                let variants = axes.iter().filter_map(|axis| self.variant(*axis)).collect();
                Trouble::VariantUncovered { place, spec: spec.name.clone(), used: None, variants }
            }
        })
    }

    /// Whether a measurement only lacks that something settles: it is there, and moves no more in a while.
    fn only_unsettled(&self, required: &Required) -> bool {
        let node = self.lowered.card.nodes.get(self.node);
        let slot = self.lowered.card.slots.get(required.slot);
        matches!(node.map(|node| &node.act), Some(Act::Measure(_)))
            && slot.is_some_and(|slot| slot.handling == "settling")
            && self.trail.state().touched.contains(&required.slot)
    }

    /// The name and the state of what has to settle, where it is there once.
    fn settled(&self, required: &Required) -> Option<(String, String)> {
        let slot = self.lowered.card.slots.get(required.slot).filter(|slot| slot.at.is_none())?;
        let [state] = required.states.as_slice() else { return None };
        Some((slot.item.clone(), slot.states.get(*state)?.clone()))
    }

    fn variant(&self, axis: usize) -> Option<(String, String)> {
        let known = self.lowered.card.axes.get(axis)?;
        Some((known.name.clone(), known.values.get(*self.chosen.get(axis)?)?.clone()))
    }

    fn state_words(&self, slot: usize, state: usize) -> String {
        match self.lowered.card.slots.get(slot) {
            Some(known) => {
                let state = known.states.get(state).map_or("", String::as_str);
                let be = crate::lower::be(&known.label);
                format!("the {} {be} {}", known.label, state.replace('-', " "))
            }
            None => String::new(),
        }
    }

    fn frame_place(&self) -> Place {
        let frame = self.lowered.card.nodes.get(self.node).map_or(0, |node| node.frame);
        self.lowered.frame_places.get(frame).copied().unwrap_or(self.place)
    }

    fn frame_title(&self) -> String {
        let frame = self.lowered.card.nodes.get(self.node).map_or(0, |node| node.frame);
        self.lowered.card.frames.get(frame).map(|frame| frame.title.clone()).unwrap_or_default()
    }

    /// Where the slot was changed last on the way here.
    fn changed(&self, slot: usize) -> Option<Place> {
        let node = self.trail.last_change(slot)?;
        self.lowered.places.get(node).copied()
    }

    fn wrong(&self, slot: usize) -> Trouble {
        let lowered = self.lowered;
        let known = lowered.card.slots.get(slot);
        let now = self.trail.state().slot(slot);
        let Some(Act::Work(work)) = lowered.card.nodes.get(self.node).map(|node| &node.act) else {
            return Trouble::Unreachable { place: self.place, what: String::new() };
        };
        let from: Vec<usize> = work
            .moves
            .iter()
            .filter(|step| step.slot == slot)
            .flat_map(|step| step.from.iter().copied())
            .collect();
        let name =
            |state: &usize| known.and_then(|known| known.states.get(*state)).cloned().unwrap_or_default();
        let state =
            now.iter().find(|state| !from.contains(state)).map(|state| name(&state)).unwrap_or_default();
        let from = from.iter().map(name).collect::<Vec<_>>().join(" or ");
        let verb = work.verb.clone().unwrap_or_default();
        let item = known.map(|known| known.label.clone()).unwrap_or_default();
        let since = self.changed(slot);
        let witness = Some(witness(self.trail, self.chosen, lowered));
        let renewed = known.is_some_and(|known| known.states.iter().any(|state| state == "new"));
        if renewed && verb == TIGHTEN {
            return Trouble::SingleUseRefitted { place: self.place, verb, item, off: since, witness };
        }
        Trouble::WrongState { place: self.place, verb, item, state, from, since, witness }
    }

    fn owed(&self, frame: usize, slot: usize, outcome: Outcome) -> Trouble {
        let lowered = self.lowered;
        let known = lowered.card.slots.get(slot);
        let entry = self
            .trail
            .state()
            .frames
            .iter()
            .rev()
            .find(|opened| opened.frame == frame)
            .and_then(|opened| opened.entry.get(slot).copied())
            .unwrap_or_default();
        let now = self.trail.state().slot(slot);
        let name = |state: usize| {
            known
                .and_then(|known| known.states.get(state))
                .map(|state| state.replace('-', " "))
                .unwrap_or_default()
        };
        let should = entry.iter().next().unwrap_or(0);
        let state = now.iter().find(|state| !entry.has(*state)).unwrap_or(0);
        let changed = self.trail.last_change(slot);
        let end = self.trail.last_end(lowered);
        let word = match outcome {
            Outcome::Passed => "passed",
            Outcome::Failed => "failed",
            Outcome::Unfinished => "unfinished",
            Outcome::Referred => "referred",
        };
        let place = changed.and_then(|node| lowered.places.get(node)).copied().unwrap_or(self.place);
        let item = known.map(|known| known.label.clone()).unwrap_or_default();
        let end = end.and_then(|node| lowered.places.get(node)).copied().unwrap_or(self.place);
        let verb = verb_back(lowered, slot, state, should);
        let (state, outcome) = (name(state), word.to_owned());
        let witness = Some(witness(self.trail, self.chosen, lowered));
        if should == 0 && tightened(lowered, slot) {
            let called = known.map(|known| known.item.clone()).unwrap_or_default();
            return Trouble::FastenerLeftLoose { place, item, name: called, state, end, outcome, witness };
        }
        let should = name(should);
        Trouble::NotRestored { place, item, state, should, end, outcome, verb, witness }
    }

    fn exposed(&self, hazard: usize, slot_state: Option<(usize, usize)>) -> Option<Trouble> {
        let lowered = self.lowered;
        let known = lowered.card.hazards.get(hazard)?;
        let this = lowered.card.nodes.get(self.node)?;
        let late = lowered.card.nodes.iter().enumerate().skip(self.node).find(|(_, node)| {
            node.frame == this.frame
                && node.step == this.step
                && matches!(node.act, Act::Caution { hazard: of, .. } if of == hazard)
        });
        let (from, source) = match slot_state {
            Some((slot, state)) => {
                (self.state_words(slot, state), lowered.hazard_of_state.get(&(slot, state, hazard)).copied())
            }
            None => {
                let says = match &this.act {
                    Act::Work(work) => as_written(work.says.trim_end_matches('.'), &lowered.card),
                    _ => String::new(),
                };
                (says, lowered.hazard_of_node.get(&(self.node, hazard)).copied())
            }
        };
        Some(Trouble::Exposed {
            place: self.place,
            hazard: known.name.clone(),
            text: known.text.clone(),
            level: known.level,
            from,
            source,
            late: late.and_then(|(node, _)| lowered.places.get(node)).copied(),
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }

    fn judged_words(&self) -> String {
        let last = self.trail.last_judge(self.lowered);
        match last.and_then(|node| self.lowered.card.nodes.get(node)).map(|node| &node.act) {
            Some(Act::Judge(judge)) => judge.condition.says.clone(),
            _ => String::new(),
        }
    }
}

/// Whether a thing is in its normal state once it is tightened.
fn tightened(lowered: &Lowered, slot: usize) -> bool {
    let verbs = lowered.verbs.get(slot).map(Vec::as_slice).unwrap_or_default();
    verbs.iter().any(|(verb, _, leads)| verb == TIGHTEN && *leads == 0)
}

/// The statement that leads a thing from one state to another: its verb and its name.
fn verb_back(lowered: &Lowered, slot: usize, from: usize, to: usize) -> Option<String> {
    let verbs = lowered.verbs.get(slot)?;
    let (verb, _, _) = verbs.iter().find(|(_, starts, leads)| *leads == to && starts.contains(&from))?;
    let known = lowered.card.slots.get(slot)?;
    Some(format!("{verb} {}", known.item))
}
