//! What nobody signs for, although somebody must.

use super::Said;
use crate::flow::witness::witness;
use crate::trouble::Trouble;

impl Said<'_> {
    /// Something is done in a step that is not signed as it must be, or that is left before its signatures.
    pub(super) fn unsigned(&self, node: usize) -> Option<Trouble> {
        let lowered = self.lowered;
        let asked = lowered.signatures.get(&node)?;
        let here = lowered.card.nodes.get(node).map(|node| (node.frame, node.step))?;
        let signed = lowered.signing.get(&here).copied().unwrap_or(0);
        Some(Trouble::NotSigned {
            place: lowered.places.get(node).copied()?,
            asked: asked.persons,
            signed,
            step: here.1.and_then(|step| lowered.card.steps.get(step)).map(|step| step.name.clone()),
            declared: asked.declared,
            witness: Some(witness(self.trail, self.chosen, lowered)),
        })
    }
}
