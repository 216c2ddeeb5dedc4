//! Cautions: shown where they stand, and shown again in each step before the first exposure that they cover.

use super::turn::Turn;
use crate::prompt::CautionWords;
use dwell_card::graph::Act;
use dwell_record::What;
use dwell_record::event::Caution;

impl Turn<'_> {
    /// Shows the caution of a node.
    pub(super) fn show_caution(&mut self, at: usize) {
        let Some(Act::Caution { hazard, level, text }) = self.card.nodes.get(at).map(|node| &node.act) else {
            return;
        };
        let hazard = self.card.hazards.get(*hazard).map(|hazard| hazard.name.clone()).unwrap_or_default();
        let text = self.view().spoken(text);
        self.state.shown.insert(at);
        let words = CautionWords { level: level.word(), hazard: hazard.clone(), text: text.clone() };
        if self.state.before.contains(&words) {
            return;
        }
        self.state.before.push(words);
        let level = level.word().to_owned();
        self.happened(Some(self.state.at), What::CautionShown(Caution { level, hazard, text }));
    }

    /// The block of these cautions ends; they go on only while their hazard lasts.
    pub(super) fn uncover(&mut self, cautions: &[usize]) {
        for at in cautions {
            if self.state.cautions.remove(at) && self.hazard_of(*at).is_some_and(|hazard| self.lasts(hazard))
            {
                self.state.lasting.insert(*at);
            }
        }
    }

    /// After work: cautions that only went on with their hazard end with it.
    pub(super) fn end_lasting(&mut self) {
        let mut lasting = std::mem::take(&mut self.state.lasting);
        lasting.retain(|at| self.hazard_of(*at).is_some_and(|hazard| self.lasts(hazard)));
        self.state.lasting = lasting;
    }

    /// The cautions before a prompt: those just shown, and those in reach that cover what one is exposed to and have not been
    /// shown in this step.
    pub(super) fn cautions_before(&mut self, hazards: &[usize]) -> Vec<CautionWords> {
        let frame = self.card.nodes.get(self.state.at).map(|node| node.frame);
        let reach: Vec<usize> = self.state.cautions.union(&self.state.lasting).copied().collect();
        for at in reach {
            let here = self.card.nodes.get(at).map(|node| node.frame) == frame;
            let Some(hazard) = self.hazard_of(at) else { continue };
            let exposed = hazards.contains(&hazard) || self.lasts(hazard);
            if here && exposed && !self.state.shown.contains(&at) {
                self.show_caution(at);
            }
        }
        self.state.before.clone()
    }

    fn hazard_of(&self, at: usize) -> Option<usize> {
        match self.card.nodes.get(at).map(|node| &node.act) {
            Some(Act::Caution { hazard, .. }) => Some(*hazard),
            _ => None,
        }
    }

    /// Whether something is, or may be, in a state with this hazard.
    fn lasts(&self, hazard: usize) -> bool {
        self.card
            .slots
            .iter()
            .zip(&self.state.slots)
            .any(|(slot, now)| slot.hazards.iter().any(|(state, other)| *other == hazard && now.has(*state)))
    }
}
