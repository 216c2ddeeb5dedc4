//! Readings that are decided or passed on although something has moved them, and those whose value as found is lost.

use super::Said;
use crate::flow::effect::reach;
use crate::flow::witness::witness;
use crate::trouble::Trouble;
use dwell_card::graph::Act;
use dwell_card::words::as_written;
use dwell_quantity::{Kind, Unit, band_shown};

impl Said<'_> {
    /// The procedure passes on a reading that was moved after it was judged.
    pub(super) fn no_recheck(&self, reading: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let mover = self.trail.last_mover(reading, lowered)?;
        let measured = self.trail.last_measure(reading, lowered)?;
        Some(Trouble::NoRecheck {
            place: lowered.places.get(mover).copied()?,
            reading: lowered.card.readings.get(reading)?.name.clone(),
            measured: lowered.places.get(measured).copied()?,
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }

    /// The procedure passes, and nothing was judged after something that must be checked.
    pub(super) fn unchecked(&self, check: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let known = lowered.checks.get(check)?;
        let done = self.trail.last_to_check(check, lowered)?;
        let Some(Act::Work(work)) = lowered.card.nodes.get(done).map(|node| &node.act) else { return None };
        Some(Trouble::NotCheckedAfter {
            place: lowered.places.get(done).copied()?,
            verb: work.verb.clone()?,
            item: lowered.card.slots.get(known.slot)?.label.clone(),
            spec: known.spec_name.clone(),
            declared: known.declared,
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }

    /// Something is decided by readings that were moved since they were taken.
    pub(super) fn stale(&self, readings: &[usize]) -> Option<Trouble> {
        let lowered = self.lowered;
        let mut names: Vec<String> = Vec::new();
        for reading in readings {
            let name = lowered.card.readings.get(*reading)?.name.clone();
            if !names.contains(&name) {
                names.push(name);
            }
        }
        let reading = *readings.first()?;
        let mover = self.trail.last_mover(reading, lowered)?;
        let measured = self.trail.last_measure(reading, lowered)?;
        Some(Trouble::StaleReading {
            place: self.place,
            readings: names,
            measured: lowered.places.get(measured).copied()?,
            moved: lowered.places.get(mover).copied()?,
            action: self.action(mover)?,
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }

    /// A reading is adjusted whose value as found nobody can know any more.
    pub(super) fn as_found_lost(&self, reading: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let mover = self.trail.first_mover(reading, lowered)?;
        let measured = self.trail.last_measure(reading, lowered)?;
        Some(Trouble::AsFoundLost {
            place: lowered.places.get(mover).copied()?,
            reading: lowered.card.readings.get(reading)?.name.clone(),
            measured: lowered.places.get(measured).copied()?,
            adjusted: self.place,
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }

    /// A tool cannot be set to all that a band may be worked out to.
    pub(super) fn out_of_reach(&self, with: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let Some(Act::Work(work)) = lowered.card.nodes.get(self.node).map(|node| &node.act) else {
            return None;
        };
        let known = work.worked_out.as_ref()?;
        let tool = lowered.set_with.get(&self.node)?.get(with)?;
        let unit = Unit::all().find(|unit| unit.symbol() == known.unit)?;
        let kind = Kind::named(&known.kind)?;
        let reach = reach(lowered, self.node, known, self.trail.state())?;
        let reach = band_shown(&reach, unit, kind, known.decimals);
        let adapter = work.leverage.as_ref().map_or("", |_| " at the wrench with its adapter");
        Some(Trouble::ToolOutOfRange {
            place: tool.place,
            tool: tool.tool.clone(),
            tool_place: tool.tool_place,
            range: tool.written.clone(),
            band: format!("`{}`, which can come to {reach}{adapter},", known.name),
            band_place: tool.band_place,
        })
    }

    /// What is done at a node, in words.
    fn action(&self, node: usize) -> Option<String> {
        match self.lowered.card.nodes.get(node).map(|node| &node.act) {
            Some(Act::Work(work)) => Some(as_written(work.says.trim_end_matches('.'), &self.lowered.card)),
            _ => None,
        }
    }
}
