//! Work that is set to a band that is worked out: `tighten nut to preload-limit`, where `let preload-limit = … .. …` says it.

use super::Lowerer;
use super::decide::followed;
use crate::finding::Place;
use crate::model::Item;
use crate::trouble::Trouble;
use dwell_card::graph::{Act, End, Outcome, Way, Work, WorkedOut};
use dwell_quantity::{Band, Kind};
use dwell_syntax::tree::{Handle, Name, To};

/// A tool that is set to a band that is worked out: what it can be set to, to be held against all that the band can come to.
#[derive(Clone, Debug)]
pub struct SetWith {
    /// What people call it.
    pub tool: String,
    /// Where it is named here.
    pub place: Place,
    /// Where it is said what it can be set to.
    pub tool_place: Place,
    /// Its range, in base units, and as written.
    pub range: Band,
    /// The range as written.
    pub written: String,
    /// Where the band is.
    pub band_place: Place,
}

impl SetWith {
    /// Whether both say the same of the same tool, wherever that stands.
    pub(super) fn sets_what(&self, other: &SetWith) -> bool {
        let SetWith { tool, place: _, tool_place: _, range, written, band_place: _ } = self;
        *tool == other.tool && *range == other.range && *written == other.written
    }
}

impl<'a> Lowerer<'a> {
    /// The name of a band that is worked out, where a handle is set to one.
    pub(super) fn to_computed(&self, handle: &'a Handle) -> Option<&'a Name> {
        match &handle.to {
            Some(To::Name(name)) if self.is_computed(name) => Some(name),
            _ => None,
        }
    }

    /// Whether a name is that of one value of this procedure: nothing is set to it; it is told.
    pub(super) fn set_to_one_value(&mut self, name: &Name) -> bool {
        let is = self.frames.last().is_some_and(|frame| frame.readings.contains_key(&name.text));
        if is {
            let value = &name.text;
            self.cannot(
                self.place(name.span),
                format!("`{value}` is one value, and nothing can be set to one value exactly"),
                format!("make it a limit with two ends: `let limit = {value} - … .. {value} + …`"),
            );
        }
        is
    }

    /// What is set, and whether the tools can be set to such a quantity.
    pub(super) fn set_to_worked_out(
        &mut self,
        handle: &'a Handle,
        name: &Name,
        thing: &Item,
        work: &mut Work,
        place: Place,
    ) {
        let Some(band) = self.frames.last().and_then(|frame| frame.bands.get(&name.text)) else { return };
        let (low, high, written) = (band.low.clone(), band.high.clone(), band.written.clone());
        let (quantity, declared) = (band.quantity, band.place);
        let Some(kind) = self.model.kind(quantity) else { return };
        let ends = [&low, &high].into_iter().flatten().flat_map(|(end, _)| followed(end));
        let readings = ends.filter_map(|reading| self.out.card.readings.get(reading));
        let like = readings.into_iter().find(|reading| reading.kind == kind.name());
        let (unit, decimals) = like.map_or_else(
            || (kind.usual_unit().symbol().to_owned(), 1),
            |reading| (reading.unit.clone(), reading.decimals),
        );
        let name = name.text.clone();
        work.worked_out = Some(WorkedOut {
            name,
            kind: kind.name().to_owned(),
            unit,
            decimals,
            low,
            high,
            written: written.clone(),
        });
        if kind == Kind::TORQUE {
            work.leverage = self.leverage(&handle.with, place);
            self.no_torque_tool(&handle.with, written, &thing.label, place, Some(declared));
        }
        for tool in &handle.with {
            self.sets_kind(tool, kind.name());
        }
    }

    /// The limit in words: `the preload limit (drag + 6 lbf·in .. drag + 10 lbf·in)`.
    pub(super) fn worked_out_in_words(known: &WorkedOut) -> String {
        format!("the {} ({})", super::words::plain(&known.name), known.written)
    }

    /// What the tools of a node can be set to, and what is done where the band has no value: nothing is set, and the procedure
    /// is unfinished. Inside `restore` the rest of it is still done, and what is left there stays as an open list.
    pub(super) fn without_value(&mut self, node: usize, handle: &'a Handle, name: &Name, place: Place) {
        let Some(band) = self.frames.last().and_then(|frame| frame.bands.get(&name.text)) else { return };
        let (quantity, band_place) = (band.quantity, band.place);
        let kind = self.model.kind(quantity);
        for tool in &handle.with {
            let Some(thing) = self.tool_of(tool) else { continue };
            let sets = thing.tool.iter().flat_map(|can| &can.sets);
            let ability = sets.into_iter().find(|ability| Some(ability.kind) == kind);
            let set = ability.map(|ability| SetWith {
                tool: thing.label.clone(),
                place: self.place(tool.span),
                tool_place: ability.place,
                range: ability.range.clone(),
                written: ability.written.clone(),
                band_place,
            });
            self.out.set_with.entry(node).or_default().extend(set);
        }
        let after = std::mem::take(&mut self.loose);
        let in_restore = self.frames.last().is_some_and(|frame| frame.in_restore);
        let says = format!(
            "The {} cannot be worked out: a reading that it follows is missing, or no room is left between its ends.",
            super::words::plain(&name.text)
        );
        let end = End { outcome: Outcome::Unfinished, text: Some(says), refer: None, in_restore };
        self.loose = vec![(node, Way::NoReading)];
        if in_restore {
            self.add_made(Act::End(end), place);
        } else {
            self.end(end, place, true);
        }
        self.loose.extend(after);
    }

    /// Tells of a tool that can be set to something, and not to this kind of quantity.
    fn sets_kind(&mut self, name: &Name, kind: &str) {
        let Some((thing, can)) = self.tool_of(name).and_then(|thing| Some((thing, thing.tool.as_ref()?)))
        else {
            return;
        };
        let nothing = can.sets.is_empty() && can.measures.is_empty();
        if nothing || can.sets.iter().any(|ability| ability.kind.name() == kind) {
            return;
        }
        self.troubles.push(Trouble::ToolCannotMeasure {
            place: self.place(name.span),
            tool: thing.label.clone(),
            tool_place: thing.place,
            quantity: kind.to_owned(),
            can: can.sets.iter().map(|ability| ability.kind.name().to_owned()).collect(),
        });
    }
}
