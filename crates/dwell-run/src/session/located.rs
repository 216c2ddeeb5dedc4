//! Where things are to be found: told once, with the first that touches them.

use super::turn::Turn;
use crate::prompt::Located;

impl Turn<'_> {
    /// Where to find the things of these slots, as far as that is known and was not told before in this job. A thing that is there
    /// more than once is told of once.
    pub(super) fn located(&mut self, slots: &[usize]) -> Vec<Located> {
        let mut all = Vec::new();
        for slot in slots.iter().filter_map(|slot| self.card.slots.get(*slot)) {
            let Some(at) = &slot.located else { continue };
            if self.state.located.insert(slot.item.clone()) {
                let place = slot.at.as_ref().map(|place| format!(" ({place})")).unwrap_or_default();
                let label = slot.label.strip_suffix(&place).unwrap_or(&slot.label).to_owned();
                all.push(Located { label, at: at.clone() });
            }
        }
        all
    }
}
