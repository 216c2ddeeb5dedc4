//! Spans: what is held just now, and what is done when it is lost.

use super::turn::Turn;
use crate::refusal::Refusal;
use dwell_card::graph::{Act, Hold, Way};
use dwell_card::meaning::lost;
use dwell_record::What;
use dwell_record::event::{Lost, Words};

/// Something that is held just now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Keeping {
    /// The item or the quantity, by its name in the text.
    pub name: String,
    /// Its place, for one of a row.
    pub place: Option<String>,
    /// What is held, "The engine speed stays 2500 ± 300 rpm."
    pub says: String,
    /// What more is told.
    pub text: Option<String>,
}

impl Turn<'_> {
    fn hold_at(&self, at: usize) -> Result<&Hold, Refusal> {
        match self.card.nodes.get(at).map(|node| &node.act) {
            Some(Act::Hold(hold)) => Ok(hold),
            _ => Err(Refusal::BrokenCard(format!("node {at} holds nothing"))),
        }
    }

    /// A span begins.
    pub(super) fn hold(&mut self, hold: &Hold) {
        let at = self.state.at;
        self.state.holds.retain(|known| *known != at);
        self.state.holds.push(at);
        let more = self.view().spoken_if(hold.text.as_ref());
        let text = match more {
            Some(more) => format!("{} {more}", hold.says),
            None => hold.says.clone(),
        };
        self.happened(Some(at), What::Keeping(Words { text }));
    }

    /// A span ends, as it should or because what was held is lost.
    pub(super) fn release(&mut self, at: usize, is_lost: bool) -> Result<(), Refusal> {
        let was_told = self.last.is_some_and(|(_, way)| way == Way::Lost);
        let hold = self.hold_at(at)?.clone();
        self.state.holds.retain(|known| *known != at);
        if !is_lost {
            let text = format!("No longer to be held: {}", hold.says);
            self.happened(Some(self.state.at), What::Released(Words { text }));
            return Ok(());
        }
        if !was_told {
            self.note_lost(&hold, false);
        }
        let before = self.state.slots.clone();
        let (after, told) = lost(&hold, &self.state.slots);
        self.state.clocks.follow(&self.card.slots, &self.state.slots, &after);
        self.state.moved(after, told.into_iter());
        self.by_hand(&before);
        self.end_lasting();
        Ok(())
    }

    /// The technician says that what is held is lost.
    pub(super) fn lose(&mut self) -> Result<(), Refusal> {
        let node = self.node()?;
        let Some(to) = node.next.get(&Way::Lost).and_then(|to| self.card.nodes.get(*to)) else {
            return Err(Refusal::NothingHeld);
        };
        let Act::Release { hold, .. } = &to.act else {
            return Err(Refusal::BrokenCard("what is lost leads nowhere".into()));
        };
        let hold = self.hold_at(*hold)?.clone();
        self.note_lost(&hold, true);
        self.state.leave_measurement();
        self.state.signed.clear();
        self.take(Way::Lost)
    }

    fn note_lost(&mut self, hold: &Hold, told: bool) {
        let (name, place, says) = (hold.name.clone(), hold.at.clone(), hold.says.clone());
        self.happened(Some(self.state.at), What::Lost(Lost { name, place, says, told }));
    }

    /// The spans of a frame end with its work.
    pub(super) fn end_holds(&mut self, frame: usize) {
        let nodes = &self.card.nodes;
        self.state.holds.retain(|hold| nodes.get(*hold).is_some_and(|node| node.frame != frame));
    }
}
