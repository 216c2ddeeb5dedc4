//! What a verb or a state brings: hazards, and states of other items.

use dwell_syntax::tree::{Effect as Written, Name};

use super::{Lines, Owner};
use crate::finding::Place;
use crate::model::{Brings, Effect, StateRef, Subject, Thing, When};
use crate::names::look_up;
use crate::resolve::known::told;
use crate::trouble::{Trouble, Unproved};

impl Owner<'_> {
    pub(super) fn brings(
        &self,
        subject: &Name,
        effects: &[Written],
        when: &[When],
        lines: &mut Lines,
        troubles: &mut Vec<Trouble>,
    ) {
        let Some(subject) = self.subject(subject, troubles) else { return };
        for effect in effects {
            let Some((effect, place)) = self.effect(effect, &subject, troubles) else { continue };
            lines.brings.push(Brings { subject: subject.clone(), effect, when: when.to_vec(), place });
        }
    }

    fn effect(
        &self,
        written: &Written,
        subject: &Subject,
        troubles: &mut Vec<Trouble>,
    ) -> Option<(Effect, Place)> {
        match written {
            Written::Hazard(name) => {
                let fits = |thing| matches!(thing, Thing::Hazard(_));
                match told(look_up(self.model, self.file, name, "a hazard", fits), troubles)? {
                    Thing::Hazard(hazard) => Some((Effect::Hazard(hazard), self.place(name.span))),
                    _ => None,
                }
            }
            Written::State(asked) => {
                let state = crate::resolve::state(self.model, self.file, asked, troubles)?;
                let place = self.place(asked.span);
                if matches!(subject, Subject::State(..)) {
                    let what = format!(
                        "nothing here can bring about that {} is {}",
                        asked.item.text, asked.state.text
                    );
                    let help = "a state brings hazards only: say which verb brings this about".to_owned();
                    troubles.push(Trouble::NotExecutable { place, what, help });
                    return None;
                }
                if self.is_proved(state) {
                    troubles.push(Trouble::ProofMissing {
                        place,
                        state: format!("{} is {}", asked.item.text, asked.state.text),
                        how: Unproved::Brought,
                        related: None,
                        witness: None,
                    });
                }
                Some((Effect::State(state), place))
            }
        }
    }

    /// Whether only a measurement leads to a state.
    fn is_proved(&self, state: StateRef) -> bool {
        let item = self.model.items.get(state.item);
        let handling = item.and_then(|item| self.model.handlings.get(*item.handlings.get(state.handling)?));
        handling.is_some_and(|handling| handling.proved(state.state))
    }
}
