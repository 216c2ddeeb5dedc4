//! Readings: measured with a tool, read from the vehicle, or computed.

use super::{Lowerer, words};
use crate::finding::Place;
use crate::model::{QuantityRef, Thing};
use crate::trouble::Trouble;
use crate::{names, resolve};
use dwell_card::graph::{Act, Measure};
use dwell_card::limit::{Fold, Formula, Reading};
use dwell_card::number::Range;
use dwell_card::vehicle::Required;
use dwell_quantity::Kind;
use dwell_syntax::tree;

/// A fold in the tree and on the card.
pub(crate) fn fold(fold: tree::Fold) -> Fold {
    match fold {
        tree::Fold::Lowest => Fold::Lowest,
        tree::Fold::Highest => Fold::Highest,
        tree::Fold::Mean => Fold::Mean,
        tree::Fold::Spread => Fold::Spread,
        tree::Fold::Sum => Fold::Sum,
        tree::Fold::Furthest => Fold::Furthest,
        tree::Fold::Last => Fold::Last,
    }
}

impl<'a> Lowerer<'a> {
    pub(super) fn measure(&mut self, measure: &'a tree::Measure, place: Place) {
        if measure.again {
            return self.measure_again(measure, place);
        }
        self.fitting_at(measure);
        let manner = self.manner(&measure.clauses, place);
        let tool = measure.with.as_ref().and_then(|name| self.tool_named(name));
        let mut readings = Vec::new();
        let mut names_said = Vec::new();
        let mut needs: Vec<(Required, String, Place)> = Vec::new();
        for new in &measure.readings {
            let named = new.kind.as_ref().unwrap_or(&new.name);
            let Some(quantity) = resolve::quantity(self.model, self.file(), named, self.troubles) else {
                continue;
            };
            if let Some(tool) = &measure.with {
                self.tool_measures(tool, quantity, &mut needs);
            }
            let taken = self.readings_for(&new.name, quantity, tool, manner.each);
            self.quantity_needs(quantity, &mut needs);
            readings.extend(taken);
            names_said.push(words::plain(&new.name.text));
        }
        if readings.is_empty() {
            return;
        }
        let tool_label = tool.and_then(|tool| self.out.card.tools.get(tool)).map(|tool| tool.label.clone());
        let says = words::measure(&names_said, tool_label.as_deref(), &manner.words);
        let says = if self.is_repeated() { words::again(&says) } else { says };
        let text = self.spoken_if(measure.text.as_ref());
        let (ready, leaves) = self.read_with(tool, &measure.clauses);
        let act = Measure {
            readings,
            says,
            text,
            tool,
            times: manner.times,
            take: manner.take.unwrap_or(Fold::Last),
            over: manner.over,
            sampling: manner.sampling,
            needs: needs.iter().map(|(required, _, _)| required.clone()).collect(),
            ready,
            leaves,
            expected: None,
        };
        let node = self.add(Act::Measure(act), place);
        for (at, (_, by, declared)) in needs.into_iter().enumerate() {
            self.out.needed_by.insert((node, at), (by, declared));
        }
        for new in &measure.readings {
            if let Some(frame) = self.frame() {
                frame.measured.insert(new.name.text.clone(), node);
            }
        }
        if let Some(until) = manner.until {
            self.until(until, node);
        }
    }

    /// `measure toe again`: the same tool, the same way; in a `for each`, at the place in hand.
    fn measure_again(&mut self, measure: &tree::Measure, place: Place) {
        let names: Vec<&tree::Name> = measure.readings.iter().map(|new| &new.name).collect();
        self.again(&names, place);
    }

    /// Measures each of these again, those that were taken together in one node.
    pub(super) fn again(&mut self, names: &[&tree::Name], place: Place) {
        let mut done: Vec<(usize, Vec<usize>)> = Vec::new();
        for name in names {
            let known = self.frames.last().and_then(|frame| {
                Some((*frame.measured.get(&name.text)?, frame.readings.get(&name.text)?.clone()))
            });
            let Some((node, all)) = known else {
                self.unknown_reading(name);
                continue;
            };
            let here = self.here(&all);
            match done.iter_mut().find(|(first, _)| *first == node) {
                Some((_, readings)) => readings.extend(here),
                None => done.push((node, here)),
            }
        }
        for (first, readings) in done {
            let Some(Act::Measure(before)) = self.act_mut(first).cloned() else { continue };
            let needed: Vec<_> = (0..before.needs.len())
                .filter_map(|at| Some((at, self.out.needed_by.get(&(first, at))?.clone())))
                .collect();
            let said: Vec<String> = readings
                .iter()
                .filter_map(|reading| self.out.card.readings.get(*reading))
                .map(|reading| words::plain(&reading.name))
                .collect();
            let says = if readings.len() == before.readings.len() {
                words::again(&before.says)
            } else {
                words::measure_again(&said)
            };
            let node = self.add(Act::Measure(Measure { readings, says, ..before }), place);
            for (at, by) in needed {
                self.out.needed_by.insert((node, at), by);
            }
        }
    }

    /// The readings of a row that are meant here: the one of the place in hand, or all.
    pub(super) fn here(&self, all: &[usize]) -> Vec<usize> {
        let bound = self.frames.last().map(|frame| frame.bound.as_slice()).unwrap_or_default();
        let fits = |reading: &usize| match self.reading_at.get(*reading) {
            Some(Some((set, value))) => bound.iter().all(|(other, here)| other != set || here == value),
            _ => true,
        };
        all.iter().copied().filter(fits).collect()
    }

    /// The readings of a name: one, one at the place in hand, or one for each place.
    pub(super) fn readings_for(
        &mut self,
        name: &tree::Name,
        quantity: QuantityRef,
        tool: Option<usize>,
        each: bool,
    ) -> Vec<usize> {
        let positions = match quantity {
            QuantityRef::Declared(place) => {
                self.model.quantities.get(place).and_then(|quantity| quantity.at_each)
            }
            QuantityRef::Kind(_) => None,
        };
        let bound = self.frames.last().and_then(|frame| match positions {
            Some(set) => frame.bound.iter().rev().find(|(known, _)| *known == set).copied(),
            None => frame.bound.last().copied(),
        });
        let places: Vec<Option<(usize, usize)>> = match (positions, bound) {
            (_, Some(bound)) => vec![Some(bound)],
            (Some(set), None) => {
                let count = self.model.positions.get(set).map_or(0, |set| set.values.len());
                (0..count).map(|value| Some((set, value))).collect()
            }
            (None, None) => vec![None],
        };
        if each && positions.is_none() && bound.is_none() {
            let place = self.place(name.span);
            self.cannot(
                place,
                format!("`{}` has no value at each place", name.text),
                "describe a quantity `at each …` and measure that",
            );
        }
        places.into_iter().map(|at| self.reading(name, quantity, tool, at)).collect()
    }

    /// One reading, added when it is first met.
    pub(super) fn reading(
        &mut self,
        name: &tree::Name,
        quantity: QuantityRef,
        tool: Option<usize>,
        at: Option<(usize, usize)>,
    ) -> usize {
        let known =
            self.frames.last().and_then(|frame| frame.readings.get(&name.text)).cloned().unwrap_or_default();
        let same = known.iter().find(|reading| self.reading_at.get(**reading) == Some(&at));
        if let Some(reading) = same.copied() {
            let taken = self.frames.last().is_some_and(|frame| frame.measured.contains_key(&name.text));
            if taken && !self.is_repeated() {
                let place = self.place(name.span);
                self.cannot(
                    place,
                    format!("`{}` was measured before", name.text),
                    format!("write `measure {} again`, or give another way another name", name.text),
                );
            }
            return reading;
        }
        let kind = self.model.kind(quantity);
        let ability = tool
            .and_then(|tool| self.out.card.tools.get(tool))
            .and_then(|tool| {
                tool.measures.iter().find(|ability| Some(ability.kind.as_str()) == kind.map(Kind::name))
            })
            .cloned();
        let unit = ability.as_ref().map(|ability| ability.unit.clone());
        let decimals = ability.as_ref().and_then(|ability| ability.resolution.as_ref()).and_then(|step| {
            match dwell_quantity::lookup(unit.as_deref()?) {
                dwell_quantity::Lookup::Unit(unit) => Some(words::decimals_of(&step.0, unit)),
                _ => None,
            }
        });
        let place_name =
            at.and_then(|(set, value)| self.model.positions.get(set)?.values.get(value).cloned());
        let (positive, negative) = match quantity {
            QuantityRef::Declared(place) => {
                self.model.quantities.get(place).map(|known| known.signs.clone()).unwrap_or_default()
            }
            QuantityRef::Kind(_) => (None, None),
        };
        let reading = self.out.card.readings.len();
        self.out.card.readings.push(Reading {
            name: name.text.clone(),
            at: place_name,
            frame: self.frames.last().map_or(0, |frame| frame.index),
            quantity: self.model.quantity_name(quantity).to_owned(),
            kind: kind.map(|kind| kind.name().to_owned()).unwrap_or_default(),
            unit: unit.unwrap_or_else(|| {
                kind.map(|kind| kind.usual_unit().symbol().to_owned()).unwrap_or_default()
            }),
            decimals: decimals.unwrap_or(0),
            possible: None,
            tool,
            formula: None,
            positive,
            negative,
        });
        self.reading_at.push(at);
        self.reading_quantity.push(quantity);
        if let Some(frame) = self.frame() {
            frame.readings.entry(name.text.clone()).or_default().push(reading);
        }
        reading
    }

    pub(super) fn quantity_needs(
        &mut self,
        quantity: QuantityRef,
        needs: &mut Vec<(Required, String, Place)>,
    ) {
        let mut now = quantity;
        while let QuantityRef::Declared(place) = now {
            let Some(declared) = self.model.quantities.get(place) else { return };
            for (state, when, written) in &declared.needs {
                let guards = self.guards(when, *written);
                for slot in self.slots_of_state(*state, *written) {
                    let by = format!("to measure {}", words::plain(&declared.name));
                    let required = Required { slot, states: vec![state.state], when: guards.clone() };
                    needs.push((required, by, *written));
                }
            }
            now = declared.parent;
        }
    }

    /// `read … from "…"`: a value that the vehicle shows.
    pub(super) fn read(
        &mut self,
        name: &tree::Name,
        kind: Option<&tree::Name>,
        from: &tree::Text,
        expected: Option<&tree::Band>,
        place: Place,
    ) {
        let named = kind.unwrap_or(name);
        let Some(quantity) = resolve::quantity(self.model, self.file(), named, self.troubles) else { return };
        let bound = self.frames.last().and_then(|frame| frame.bound.last().copied());
        let reading = self.reading(name, quantity, None, bound);
        let file = self.file();
        let band = expected.and_then(|band| resolve::band(self.model, file, band, quantity, self.troubles));
        if let (Some(band), Some(known)) = (&band, self.out.card.readings.get_mut(reading)) {
            known.unit = band.unit.symbol().to_owned();
            known.decimals = band.decimals;
        }
        let act = Measure {
            readings: vec![reading],
            says: format!("Read {} from {}.", words::plain(&name.text), from.text),
            text: None,
            tool: None,
            times: 1,
            take: Fold::Last,
            over: None,
            sampling: None,
            needs: Vec::new(),
            ready: Vec::new(),
            leaves: Vec::new(),
            expected: band.map(|band| Range::from(&band.band)),
        };
        let node = self.add(Act::Measure(act), place);
        if let Some(frame) = self.frame() {
            frame.measured.insert(name.text.clone(), node);
        }
    }

    /// What a `let` is of: as it is declared, or else what comes out; told where neither is known or the two do not go together.
    pub(super) fn declared_as(
        &mut self,
        name: &tree::Name,
        kind: Option<&tree::Name>,
        result: Option<QuantityRef>,
        is: &str,
    ) -> Option<QuantityRef> {
        let declared =
            kind.and_then(|kind| resolve::quantity(self.model, self.file(), kind, self.troubles)).or(result);
        let Some(quantity) = declared else {
            let place = self.place(name.span);
            self.cannot(
                place,
                format!("it is not known what kind of quantity `{}` {is}", name.text),
                format!("say it: `let {}: KIND = …`", name.text),
            );
            return None;
        };
        if let (Some(kind), Some(result)) = (kind, result)
            && !self.may_be_declared(result, quantity)
        {
            self.mismatch(self.place(kind.span), None, quantity, result);
        }
        Some(quantity)
    }

    /// `let`: a formula that always follows the latest readings.
    pub(super) fn formula(&mut self, name: &tree::Name, kind: Option<&tree::Name>, value: &tree::Expr) {
        let Some((formula, result)) = self.expression(value) else { return };
        let Some(quantity) = self.declared_as(name, kind, result, "is") else { return };
        let bound = self.frames.last().and_then(|frame| frame.bound.last().copied());
        let reading = self.reading(name, quantity, None, bound);
        let manner = self.shown_like(&formula, quantity);
        if let Some(known) = self.out.card.readings.get_mut(reading) {
            known.formula = Some(formula);
            if let Some((unit, decimals)) = manner {
                known.unit = unit;
                known.decimals = decimals;
            }
        }
    }

    /// The unit and the decimals of what a formula is made of, where its value can be shown in that unit.
    fn shown_like(&self, formula: &Formula, quantity: QuantityRef) -> Option<(String, u32)> {
        let kind = self.model.kind(quantity)?;
        let parts = super::decide::readings_of(formula);
        let parts: Vec<&Reading> =
            parts.into_iter().filter_map(|part| self.out.card.readings.get(part)).collect();
        let fits = |part: &&&Reading| {
            matches!(dwell_quantity::lookup(&part.unit),
                dwell_quantity::Lookup::Unit(unit) if unit.measures(kind) && !unit.symbol().is_empty())
        };
        let unit = parts.iter().find(fits)?.unit.clone();
        let decimals = parts.iter().filter(|part| part.unit == unit).map(|part| part.decimals).max()?;
        Some((unit, decimals))
    }

    /// A formula may be declared to be what its kind can become: total toe of toe, a difference of two angles.
    pub(super) fn may_be_declared(&self, result: QuantityRef, declared: QuantityRef) -> bool {
        match (self.model.kind(result), self.model.kind(declared)) {
            (Some(result), Some(declared)) => result.may_be_declared(declared),
            _ => true,
        }
    }

    pub(super) fn unknown_reading(&mut self, name: &tree::Name) {
        let known = self.frames.last().map(|frame| {
            let all = frame.readings.keys().chain(frame.questions.keys()).map(String::as_str);
            names::near(&name.text, all)
        });
        let elsewhere: Option<Thing> =
            self.model.scopes.get(self.file()).and_then(|scope| scope.names.get(&name.text)).copied();
        let place = self.place(name.span);
        self.troubles.push(Trouble::NotFound {
            place,
            name: name.text.clone(),
            what: "a reading",
            near: known.unwrap_or_default(),
            elsewhere,
        });
    }
}
