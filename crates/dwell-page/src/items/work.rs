//! Work by hand: the instruction, the band to set to, what the wrench is set to with its adapter, where the thing is.

use super::{Writer, anchor};
use crate::bands::{may_be, to_set};
use crate::outline::Line;
use crate::words::{text, unit_named};
use dwell_card::graph::Work;
use dwell_quantity::{Kind, band_fully_shown};
use maud::{Markup, html};

impl Writer<'_> {
    /// Work by hand, its cautions before it.
    pub(super) fn work(&mut self, line: &Line, work: &Work) -> Markup {
        let exposes = work.exposes(&self.card.slots);
        let cautions = self.cautions_for(&exposes);
        self.note_exposure(work, &exposes);
        let limit = work.limit.and_then(|limit| self.card.limits.get(limit));
        let bands = limit.map(|limit| to_set(self.card, self.vehicle, limit)).unwrap_or_default();
        let located = self.locate(work);
        html! {
            (cautions)
            li.do data-node=(line.node) id=(anchor(line.node)) {
                (self.no(line.node)) (self.when(line.node)) span.tick {} (text(&work.says, self.card))
                @if work.if_owed { span.faint { " If it is not so already." } }
                @if let Some(more) = &work.text { div.more { (text(more, self.card)) } }
                @for (when, words) in &bands {
                    div.band {
                        @if !when.is_empty() { (when) ": " }
                        "to " strong { (words.ends) }
                        @let more: Vec<&String> = words.written.iter().chain(&words.others).collect();
                        @for more in more { " (" (more) ")" }
                    }
                }
                @for setting in self.settings(work) { div.band { "with the adapter, set to " strong { (setting) } } }
                @if let Some(worked_out) = &work.worked_out {
                    div.band { "to " (worked_out.written) ", worked out: " span.write {} " " (worked_out.unit) }
                }
                @if let Some(how) = limit.and_then(|limit| limit.condition.as_ref()) { div.more { (how) } }
                @for place in located { div.more { (place) } }
                (self.arms(line))
            }
        }
    }

    /// What the wrench is set to with its adapter: never a looser band than the one at the fastener.
    fn settings(&self, work: &Work) -> Vec<String> {
        let limit = work.limit.and_then(|limit| self.card.limits.get(limit));
        let (Some(leverage), Some(limit)) = (&work.leverage, limit) else { return Vec::new() };
        let Some(tool) = self.card.tools.get(leverage.tool) else { return Vec::new() };
        let ability = tool.sets.iter().find(|ability| ability.kind == limit.kind);
        let measure = ability.and_then(|ability| unit_named(&ability.unit)).zip(Kind::named(&limit.kind));
        let Some((unit, kind)) = measure else { return Vec::new() };
        let list = if limit.adjust.is_empty() { &limit.check } else { &limit.adjust };
        let all = may_be(self.vehicle, list).into_iter().map(|choice| {
            let band = leverage.setting(&choice.band.band());
            format!("{} at the {}", band_fully_shown(&band, unit, kind, limit.decimals), tool.label)
        });
        all.collect()
    }

    /// Where the things are that are touched for the first time.
    fn locate(&mut self, work: &Work) -> Vec<String> {
        let touched = work.own.iter().copied().chain(work.moves.iter().map(|moved| moved.slot));
        let mut all = Vec::new();
        for slot in touched.filter_map(|slot| self.card.slots.get(slot)) {
            let Some(place) = &slot.located else { continue };
            let label = slot.label.split(" (").next().unwrap_or(&slot.label);
            if self.located.insert(slot.item.clone()) {
                all.push(format!("{label}: {place}"));
            }
        }
        all
    }

    /// What one is exposed to after the work, as far as paper can tell: too much rather than too little.
    fn note_exposure(&mut self, work: &Work, exposes: &[usize]) {
        if self.deep == 0 {
            let slots = work.moves.iter().filter_map(|moved| Some((moved, self.card.slots.get(moved.slot)?)));
            for (moved, slot) in slots {
                let left =
                    slot.hazards.iter().filter(|(state, _)| moved.from.contains(state) && *state != moved.to);
                for (_, hazard) in left {
                    self.exposed.remove(hazard);
                }
            }
        }
        let states = |hazard: &&usize| {
            self.card.slots.iter().any(|slot| slot.hazards.iter().any(|(_, known)| known == *hazard))
        };
        self.exposed.extend(exposes.iter().filter(states));
    }
}
