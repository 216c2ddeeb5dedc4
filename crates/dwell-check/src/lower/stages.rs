//! A tightening in stages: one instruction for each, with its own band and the tool that it is set with.

#[cfg(test)]
mod tests;

use super::Lowerer;
use super::handle::Gathered;
use super::limit::{reachable, set_in_words};
use super::words;
use crate::finding::Place;
use crate::model::{Ability, Item, Spec, Thing};
use crate::trouble::Trouble;
use dwell_card::graph::{Leverage, Stage};
use dwell_card::limit::{Choice, Limit};
use dwell_card::number::{Num, Range};
use dwell_quantity::Kind;
use dwell_syntax::tree::{Handle, Name, Span, To};

/// What is told before the first stage where the stages are done because they are owed: some may have been done before a stop.
const BEGIN_ANEW: &str = "Where one of the stages was done before, slacken first: the turns would add up.";

impl<'a> Lowerer<'a> {
    /// The spec with stages that a handle follows: after `to`, or the item's own torque.
    pub(super) fn staged_by(&self, handle: &Handle, thing: &Item) -> Option<usize> {
        let spec = match &handle.to {
            Some(To::Name(name)) => match self.model.scopes.get(self.file())?.names.get(&name.text)? {
                Thing::Spec(spec) => *spec,
                _ => return None,
            },
            None if handle.verb.text == "tighten" => thing.torque?,
            _ => return None,
        };
        self.model.specs.get(spec).filter(|known| !known.stages.is_empty()).map(|_| spec)
    }

    /// The nodes of the stages. What the verb brings beside it comes with the last one; the proofs that it ends, the first
    /// `lost` of what is brought, are lost with the first. The tools are those that set each stage.
    pub(super) fn stages(
        &mut self,
        handle: &'a Handle,
        spec: usize,
        places: &[Option<usize>],
        gathered: Gathered,
        lost: usize,
        place: Place,
    ) -> Vec<usize> {
        let Some(known) = self.model.specs.get(spec) else { return Vec::new() };
        let said_at = match &handle.to {
            Some(To::Name(name)) => self.place(name.span),
            _ => place,
        };
        self.uses_spec(spec, said_at);
        let Some(thing) = self.item_named(&handle.item).and_then(|item| self.model.items.get(item)) else {
            return Vec::new();
        };
        let taken: Vec<(&'a Name, String, Option<usize>)> = handle
            .with
            .iter()
            .filter_map(|name| self.taken_along(name).map(|(label, tool)| (name, label, tool)))
            .collect();
        self.no_stage_for(handle, known);
        let where_at = self.where_at(handle, places, thing);
        let of = u32::try_from(known.stages.len()).unwrap_or(u32::MAX);
        let leverage = match known.stages.iter().any(|stage| stage.kind == Kind::TORQUE) {
            true => self.leverage(&handle.with, place),
            false => None,
        };
        let anew = self.frames.last().is_some_and(|frame| frame.in_restore)
            && known.stages.iter().any(|stage| stage.kind == Kind::TURN_ANGLE);
        let mut nodes = Vec::new();
        for (number, (index, step)) in (1..).zip(known.stages.iter().enumerate()) {
            let stage = Stage { number, of };
            let setting =
                self.stage_tool(handle, &thing.label, known, (index, stage), leverage.as_ref(), place);
            let goes_along = |name: &Name| match setting {
                Some(tool) if tool.text == name.text => true,
                _ => self.tool_of(name).is_none_or(is_adapter),
            };
            let along: Vec<&(&Name, String, Option<usize>)> =
                taken.iter().filter(|(name, _, _)| goes_along(name)).collect();
            let with: Vec<String> = along.iter().map(|(_, label, _)| label.clone()).collect();
            let mut work = gathered.work.clone();
            work.tools = along.iter().filter_map(|(_, _, tool)| *tool).collect();
            work.limit = Some(self.stage_limit(spec, known, index, stage));
            work.stage = Some(stage);
            work.leverage = leverage.clone().filter(|_| step.kind == Kind::TORQUE);
            if stage.goes_on() {
                work.brings.truncate(lost);
            }
            if anew && number == 1 {
                let more = work.text.take().map(|text| format!("{BEGIN_ANEW} {text}"));
                work.text = Some(more.unwrap_or_else(|| BEGIN_ANEW.to_owned()));
            }
            let verb = (step.kind != Kind::TURN_ANGLE).then_some(handle.verb.text.as_str());
            let written = &step.limit.written;
            work.says = words::stage(stage, verb, &thing.label, where_at.as_deref(), written, &with);
            nodes.push(self.work(work, gathered.hazards.clone(), gathered.needs.clone(), place));
        }
        nodes
    }

    fn stage_limit(&mut self, spec: usize, known: &Spec, index: usize, stage: Stage) -> usize {
        if let Some(limit) = self.stage_limits.get(&(spec, index)) {
            return *limit;
        }
        let limit = self.out.card.limits.len();
        let bands = known.stages.get(index);
        self.out.card.limits.extend(bands.map(|step| Limit {
            name: format!("{}, stage {} of {}", known.name, stage.number, stage.of),
            kind: step.kind.name().to_owned(),
            unit: step.limit.unit.symbol().to_owned(),
            decimals: step.limit.decimals,
            check: vec![Choice {
                when: Vec::new(),
                band: Range::from(&step.limit.band),
                written: step.limit.written.clone(),
                target: step.limit.target.clone().map(Num),
            }],
            adjust: Vec::new(),
            not_adjustable: false,
            source: known.source.clone(),
            condition: known.condition.clone(),
            withdrawn: Self::withdrawn(known.withdrawn.as_ref()),
            rows: Vec::new(),
            linear: false,
        }));
        self.stage_limits.insert((spec, index), limit);
        limit
    }

    /// The tool that sets a stage: the first one named that can be set to all of its band; or a trouble.
    fn stage_tool(
        &mut self,
        handle: &'a Handle,
        item: &str,
        known: &Spec,
        (index, stage): (usize, Stage),
        leverage: Option<&Leverage>,
        place: Place,
    ) -> Option<&'a Name> {
        let step = known.stages.get(index)?;
        let leverage = leverage.filter(|_| step.kind == Kind::TORQUE);
        let set = leverage.map_or(step.limit.band.clone(), |leverage| leverage.setting(&step.limit.band));
        let said = format!("stage {} of {}", stage.number, stage.of);
        let named: Vec<(&'a Name, &'a Item)> =
            handle.with.iter().filter_map(|name| Some((name, self.tool_of(name)?))).collect();
        let tools: Vec<(&'a Name, &'a Item)> =
            named.into_iter().filter(|(_, thing)| !is_adapter(thing)).collect();
        let able: Vec<(&'a Name, &'a Item, &'a Ability)> = tools
            .iter()
            .flat_map(|(name, thing)| sets(thing).iter().map(|ability| (*name, *thing, ability)))
            .filter(|(_, _, ability)| ability.kind == step.kind)
            .collect();
        if let Some((name, _, _)) = able.iter().find(|(_, _, ability)| reachable(&set, &ability.range)) {
            return Some(name);
        }
        if let Some((name, thing, ability)) = able.first() {
            self.troubles.push(Trouble::ToolOutOfRange {
                place: self.place(name.span),
                tool: thing.label.clone(),
                tool_place: ability.place,
                range: ability.written.clone(),
                band: format!(
                    "{} for {said}",
                    set_in_words(&step.limit.band, &step.limit.written, leverage, ability)
                ),
                band_place: step.limit.place,
            });
            return Some(name);
        }
        let Some(((first, thing), (last, _))) = tools.first().zip(tools.last()) else {
            if step.kind.name() == "torque" {
                self.troubles.push(Trouble::NoTorqueTool {
                    place,
                    item: item.to_owned(),
                    torque: format!("{} in {said}", step.limit.written),
                    declared: Some(step.limit.place),
                });
                return None;
            }
            let what = format!("no tool is named that {said} of `{}` is set with", known.name);
            self.cannot(place, what, format!("name one with `with`: one that sets {}", step.kind));
            return None;
        };
        let labels: Vec<&str> = tools.iter().map(|(_, thing)| thing.label.as_str()).collect();
        let can = tools.iter().flat_map(|(_, thing)| sets(thing));
        self.troubles.push(Trouble::ToolCannotMeasure {
            place: self.place(Span::new(first.span.start, last.span.end)),
            tool: labels.join(" or the "),
            tool_place: thing.place,
            quantity: format!("{} for {said}", step.kind),
            can: can.map(|ability| ability.kind.name().to_owned()).collect(),
        });
        None
    }

    /// Tells of each tool that can set none of the stages.
    fn no_stage_for(&mut self, handle: &Handle, known: &Spec) {
        let mut kinds: Vec<&str> = Vec::new();
        for step in &known.stages {
            if !kinds.contains(&step.kind.name()) {
                kinds.push(step.kind.name());
            }
        }
        for name in &handle.with {
            let Some(thing) = self.tool_of(name).filter(|thing| !is_adapter(thing)) else { continue };
            if sets(thing).iter().any(|ability| kinds.contains(&ability.kind.name())) {
                continue;
            }
            self.troubles.push(Trouble::ToolCannotMeasure {
                place: self.place(name.span),
                tool: thing.label.clone(),
                tool_place: thing.place,
                quantity: kinds.join(" or "),
                can: sets(thing).iter().map(|ability| ability.kind.name().to_owned()).collect(),
            });
        }
    }
}

fn sets(thing: &Item) -> &[Ability] {
    thing.tool.as_ref().map(|can| can.sets.as_slice()).unwrap_or_default()
}

/// Whether a tool neither reads nor sets anything: it is taken along with the others.
fn is_adapter(thing: &Item) -> bool {
    thing.tool.as_ref().is_none_or(|can| can.measures.is_empty() && can.sets.is_empty())
}
