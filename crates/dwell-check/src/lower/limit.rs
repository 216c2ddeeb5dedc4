//! Limits and tools on the card, and whether a tool can take or set what is asked of it.

use super::{Lowerer, words};
use crate::finding::Place;
use crate::model::{self, QuantityRef, ResolvedBand, Spec, Thing};
use crate::names;
use crate::trouble::Trouble;
use dwell_card::graph::Leverage;
use dwell_card::limit::{Ability, Choice, Formula, Limit, Row, RowGroup, Tool};
use dwell_card::number::{Num, Range};
use dwell_card::vehicle::Required;
use dwell_quantity::{Band, band_shown};
use dwell_syntax::tree;

impl<'a> Lowerer<'a> {
    /// The spec or table that a name means, or a trouble.
    pub(super) fn spec_named(&mut self, name: &tree::Name) -> Option<usize> {
        let found = names::look_up(self.model, self.file(), name, "a spec", |thing| {
            matches!(thing, Thing::Spec(_) | Thing::Table(_))
        });
        match found {
            Ok(Thing::Spec(spec) | Thing::Table(spec)) => {
                self.uses_spec(spec, self.place(name.span));
                Some(spec)
            }
            Ok(_) => None,
            Err(trouble) => {
                self.troubles.push(trouble);
                None
            }
        }
    }

    /// The spec or table that something is judged by, or aims at; or a trouble.
    pub(super) fn judging_spec(&mut self, name: &tree::Name) -> Option<usize> {
        let spec = self.spec_named(name)?;
        let known = self.model.specs.get(spec)?;
        if known.stages.is_empty() {
            return Some(spec);
        }
        self.cannot(
            self.place(name.span),
            format!("`{}` says in which stages something is tightened; no reading is judged by it", known.name),
            "judge by a spec with `check`; what was tightened in stages is judged by the tools it was done with",
        );
        None
    }

    /// The spec on the card, for the places in hand.
    pub(super) fn limit(&mut self, spec: usize, place: Place) -> Option<usize> {
        let known: &'a Spec = self.model.specs.get(spec)?;
        let bound = self.frames.last().map(|frame| frame.bound.clone()).unwrap_or_default();
        if let Some(limit) = self.limits.get(&(spec, bound.clone())) {
            return Some(*limit);
        }
        let check = self.choices(&known.check, place);
        let adjust = self.choices(&known.adjust, place);
        let first = known.check.first().or(known.adjust.first()).map(|band| &band.limit);
        let first =
            first.or_else(|| known.rows.as_ref().and_then(|rows| Some(&rows.groups.first()?.1.first()?.1)));
        let unit = first.map_or_else(|| known.kind.usual_unit(), |band| band.unit);
        let all = known.check.iter().chain(&known.adjust);
        let decimals =
            all.map(|band| band.limit.decimals).max().or(first.map(|band| band.decimals)).unwrap_or(0);
        let rows = known.rows.as_ref().map(|rows| self.rows(rows, place)).unwrap_or_default();
        let limit = self.out.card.limits.len();
        self.out.card.limits.push(Limit {
            name: known.name.clone(),
            kind: known.kind.name().to_owned(),
            unit: unit.symbol().to_owned(),
            decimals,
            check,
            adjust,
            not_adjustable: known.not_adjustable.is_some(),
            source: known.source.clone(),
            condition: known.condition.clone(),
            withdrawn: Self::withdrawn(known.withdrawn.as_ref()),
            rows,
            linear: known.rows.as_ref().is_some_and(|rows| rows.linear),
        });
        self.limits.insert((spec, bound), limit);
        self.out.limit_specs.insert(limit, spec);
        Some(limit)
    }

    fn choices(&mut self, bands: &'a [model::SpecBand], place: Place) -> Vec<Choice> {
        let here: Vec<&model::SpecBand> = bands.iter().filter(|band| self.fits_here(&band.when)).collect();
        here.into_iter()
            .map(|band| Choice {
                when: self.guards(&band.when, place),
                band: Range::from(&band.limit.band),
                written: band.limit.written.clone(),
                target: band.limit.target.clone().map(Num),
            })
            .collect()
    }

    fn rows(&mut self, rows: &'a model::Rows, place: Place) -> Vec<RowGroup> {
        let mut groups = Vec::new();
        for (when, list) in &rows.groups {
            if !self.fits_here(when) {
                continue;
            }
            let rows = list
                .iter()
                .map(|(key, band)| Row {
                    key: Range::from(&key.band),
                    band: Range::from(&band.band),
                    written: format!("at {}: {}", key.written, band.written),
                })
                .collect();
            groups.push(RowGroup { when: self.guards(when, place), rows });
        }
        groups
    }

    /// A band that stands where it is used.
    pub(super) fn limit_on_the_spot(&mut self, band: &ResolvedBand, quantity: QuantityRef) -> usize {
        let limit = self.out.card.limits.len();
        self.out.card.limits.push(Limit {
            name: band.written.clone(),
            kind: self.model.kind(quantity).map(|kind| kind.name().to_owned()).unwrap_or_default(),
            unit: band.unit.symbol().to_owned(),
            decimals: band.decimals,
            check: vec![Choice {
                when: Vec::new(),
                band: Range::from(&band.band),
                written: band.written.clone(),
                target: band.target.clone().map(Num),
            }],
            adjust: Vec::new(),
            not_adjustable: false,
            source: None,
            condition: None,
            withdrawn: None,
            rows: Vec::new(),
            linear: false,
        });
        limit
    }

    /// A reading that no tool gives a unit to is asked for in the unit of its limit.
    pub(super) fn show_as(&mut self, value: &Formula, limit: usize) {
        let Formula::Latest(reading) = value else { return };
        let Some(known) = self.out.card.limits.get(limit) else { return };
        let (unit, decimals) = (known.unit.clone(), known.decimals);
        if let Some(reading) = self.out.card.readings.get_mut(*reading)
            && reading.tool.is_none()
        {
            reading.unit = unit;
            reading.decimals = decimals;
        }
    }

    /// The tool that a name means, on the card; or a trouble.
    pub(super) fn tool_named(&mut self, name: &tree::Name) -> Option<usize> {
        let found =
            names::look_up(self.model, self.file(), name, "a tool", |thing| matches!(thing, Thing::Tool(_)));
        let item = match found {
            Ok(Thing::Tool(item)) => item,
            Ok(_) => return None,
            Err(trouble) => {
                self.troubles.push(trouble);
                return None;
            }
        };
        if let Some(tool) = self.tools.get(&item) {
            return Some(*tool);
        }
        let known = self.model.items.get(item)?;
        let can = known.tool.as_ref()?;
        let slots: Vec<usize> =
            (0..known.ready.declared).filter_map(|handling| self.slot(item, None, handling)).collect();
        self.connecting(&slots);
        let ability = |ability: &model::Ability| Ability {
            quantity: self.model.quantity_name(ability.quantity).to_owned(),
            kind: ability.kind.name().to_owned(),
            unit: ability.unit.symbol().to_owned(),
            range: Range::from(&ability.range),
            resolution: ability.resolution.clone().map(Num),
            accuracy: ability.accuracy.clone().map(Num),
            accuracy_of_reading: ability.accuracy_of_reading.clone().map(Num),
        };
        let tool = self.out.card.tools.len();
        self.out.card.tools.push(Tool {
            name: known.name.clone(),
            label: known.label.clone(),
            slots,
            measures: can.measures.iter().map(ability).collect(),
            sets: can.sets.iter().map(ability).collect(),
            impedance: can.impedance.clone(),
            calibrated_months: can.calibrated_months,
        });
        self.tools.insert(item, tool);
        Some(tool)
    }

    /// Which of these slots of a tool say whether it hangs on what it measures, and in which states it does: those that its
    /// verb `connect` leads to. A switch of the tool has none.
    fn connecting(&mut self, slots: &[usize]) {
        for slot in slots {
            let verbs = self.out.verbs.get(*slot).into_iter().flatten();
            let connected: Vec<usize> =
                verbs.filter(|(verb, _, _)| verb == "connect").map(|(_, _, to)| *to).collect();
            if !connected.is_empty() {
                self.out.connected.insert(*slot, connected);
            }
        }
    }

    /// Can the tool measure that quantity, and what does it need for it?
    pub(super) fn tool_measures(
        &mut self,
        name: &tree::Name,
        quantity: QuantityRef,
        needs: &mut Vec<(Required, String, Place)>,
    ) {
        let Some(thing) = self.tool_of(name) else { return };
        let Some(can) = &thing.tool else { return };
        let may = |ability: &&model::Ability| self.model.may_meet(quantity, ability.quantity);
        if let Some(ability) = can.measures.iter().find(may) {
            let what = words::plain(self.model.quantity_name(quantity));
            let by = format!("to measure {what} with the {}", thing.label);
            return needs.extend(self.ability_needs(ability, &by));
        }
        let trouble = Trouble::ToolCannotMeasure {
            place: self.place(name.span),
            tool: thing.label.clone(),
            tool_place: thing.place,
            quantity: words::quantity(self.model, quantity),
            can: can
                .measures
                .iter()
                .map(|ability| self.model.quantity_name(ability.quantity).to_owned())
                .collect(),
        };
        self.troubles.push(trouble);
    }

    /// How a tool must be set before it measures or is set: each state with who needs it, and where that is said.
    fn ability_needs(&mut self, ability: &'a model::Ability, by: &str) -> Vec<(Required, String, Place)> {
        let mut all = Vec::new();
        for (state, when, written) in &ability.needs {
            let when = self.guards(when, *written);
            for slot in self.slots_of_state(*state, *written) {
                let required = Required { slot, states: vec![state.state], when: when.clone() };
                all.push((required, by.to_owned(), *written));
            }
        }
        all
    }

    /// What the tools of a tightening need to be set.
    pub(super) fn set_needs(&mut self, with: &[tree::Name]) -> Vec<(Required, String, Place)> {
        let mut all = Vec::new();
        for name in with {
            let Some(thing) = self.tool_of(name) else { continue };
            for ability in thing.tool.iter().flat_map(|can| &can.sets) {
                all.extend(self.ability_needs(ability, &format!("to set the {}", thing.label)));
            }
        }
        all
    }

    /// Can the tool be set to that limit?
    pub(super) fn tool_sets(&mut self, name: &tree::Name, limit: usize, leverage: Option<&Leverage>) {
        let Some(thing) = self.tool_of(name) else { return };
        let Some(can) = &thing.tool else { return };
        let Some(limit_here) = self.out.card.limits.get(limit) else { return };
        let Some(ability) = can.sets.iter().find(|ability| ability.kind.name() == limit_here.kind) else {
            if can.sets.is_empty() && can.measures.is_empty() {
                return;
            }
            let trouble = Trouble::ToolCannotMeasure {
                place: self.place(name.span),
                tool: thing.label.clone(),
                tool_place: thing.place,
                quantity: limit_here.kind.clone(),
                can: can.sets.iter().map(|ability| ability.kind.name().to_owned()).collect(),
            };
            return self.troubles.push(trouble);
        };
        let spec = self.out.limit_specs.get(&limit).and_then(|spec| self.model.specs.get(*spec));
        let set = |band: Band| leverage.map_or(band.clone(), |leverage| leverage.setting(&band));
        let outside = limit_here
            .check
            .iter()
            .enumerate()
            .find(|(_, choice)| !reachable(&set(choice.band.band()), &ability.range));
        if let Some((at, choice)) = outside {
            let band_place = spec.and_then(|spec| spec.check.get(at)).map(|band| band.limit.place);
            let trouble = Trouble::ToolOutOfRange {
                place: self.place(name.span),
                tool: thing.label.clone(),
                tool_place: ability.place,
                range: ability.written.clone(),
                band: set_in_words(&choice.band.band(), &choice.written, leverage, ability),
                band_place: band_place.unwrap_or(self.place(name.span)),
            };
            self.troubles.push(trouble);
        }
    }

    /// A torque is set, and no tool is named that could tell one. Tools that tell something else are told as such.
    pub(super) fn torque_has_tool(
        &mut self,
        with: &[tree::Name],
        limit: usize,
        item: &str,
        place: Place,
        declared: Option<Place>,
    ) {
        let Some(limit) = self.out.card.limits.get(limit).filter(|limit| limit.kind == "torque") else {
            return;
        };
        let torque = match limit.check.as_slice() {
            [only] => only.written.clone(),
            _ => "a torque".to_owned(),
        };
        self.no_torque_tool(with, torque, item, place, declared);
    }

    /// The same for a torque in words.
    pub(super) fn no_torque_tool(
        &mut self,
        with: &[tree::Name],
        torque: String,
        item: &str,
        place: Place,
        declared: Option<Place>,
    ) {
        let can = |thing: &model::Item| {
            thing.tool.as_ref().is_some_and(|can| !can.sets.is_empty() || !can.measures.is_empty())
        };
        if !with.iter().filter_map(|name| self.tool_of(name)).any(can) {
            self.troubles.push(Trouble::NoTorqueTool { place, item: item.to_owned(), torque, declared });
        }
    }

    pub(super) fn tool_of(&self, name: &tree::Name) -> Option<&'a model::Item> {
        match self.model.scopes.get(self.file())?.names.get(&name.text)? {
            Thing::Tool(item) => self.model.items.get(*item),
            _ => None,
        }
    }

    /// Is every band of a spec inside the range of the tool that takes the reading?
    pub(super) fn judged_range(&mut self, value: &Formula, spec: usize) {
        let Some(known) = self.model.specs.get(spec) else { return };
        for band in known.check.iter().chain(&known.adjust) {
            if self.fits_here(&band.when) && !self.spot_range(value, &band.limit) {
                return;
            }
        }
    }

    /// Is the band inside the range of the tool that takes the reading? `false` after a trouble.
    pub(super) fn spot_range(&mut self, value: &Formula, limit: &ResolvedBand) -> bool {
        let Formula::Latest(reading) = value else { return true };
        let Some(known) = self.out.card.readings.get(*reading) else { return true };
        let Some(tool) = known.tool.and_then(|tool| self.out.card.tools.get(tool)) else { return true };
        let thing = self.model.items.iter().find(|item| item.tool.is_some() && item.name == tool.name);
        let Some(thing) = thing else { return true };
        let is = self.reading_quantity.get(*reading).copied();
        let ability = thing.tool.as_ref().and_then(|can| {
            can.measures.iter().find(|ability| is.is_some_and(|is| self.model.may_meet(is, ability.quantity)))
        });
        let Some(ability) = ability else { return true };
        if reachable(&limit.band, &ability.range) {
            return true;
        }
        let node = self.frames.last().and_then(|frame| frame.measured.get(&known.name)).copied();
        let place = node.and_then(|node| self.out.places.get(node)).copied().unwrap_or(limit.place);
        let range = if ability.written.is_empty() {
            band_shown(&ability.range, ability.unit, ability.kind, ability.decimals)
        } else {
            ability.written.clone()
        };
        let trouble = Trouble::ToolOutOfRange {
            place,
            tool: thing.label.clone(),
            tool_place: ability.place,
            range,
            band: limit.written.clone(),
            band_place: limit.place,
        };
        if !self.troubles.contains(&trouble) {
            self.troubles.push(trouble);
        }
        false
    }
}

/// Whether every end that a band has lies in the range.
pub(super) fn reachable(band: &Band, range: &Band) -> bool {
    [&band.low, &band.high].into_iter().flatten().all(|end| range.contains(&end.value))
}

/// A torque as written, and what the wrench with its adapter would have to be set to.
pub(super) fn set_in_words(
    band: &Band,
    written: &str,
    leverage: Option<&Leverage>,
    ability: &model::Ability,
) -> String {
    let Some(leverage) = leverage else { return written.to_owned() };
    let setting = leverage.setting(band);
    let words = band_shown(&setting, ability.unit, ability.kind, ability.decimals.max(1));
    format!("{words} (for {written} with the adapter)")
}
