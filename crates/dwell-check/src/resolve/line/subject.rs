//! Whom a line speaks of: a verb or a state of the item, in those of its handlings that the line may mean.

use dwell_syntax::tree::Name;

use super::Owner;
use crate::model::{Handling, Subject};
use crate::names::or_all;
use crate::resolve::known::of_handlings;
use crate::trouble::Trouble;

impl Owner<'_> {
    /// A verb or a state. Where one word is both, the state is meant: it lasts.
    pub(super) fn subject(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<Subject> {
        if let Some((handling, state)) = self.known_state(name) {
            return Some(Subject::State(handling, state));
        }
        if self.has_verb(&name.text) {
            return Some(Subject::Verb(name.text.clone()));
        }
        self.not_found(
            name,
            "a verb or a state of this item",
            |handling| {
                handling.states.iter().chain(handling.verbs.iter().map(|(verb, ..)| verb)).cloned().collect()
            },
            troubles,
        );
        None
    }

    pub(super) fn verb(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<String> {
        if self.has_verb(&name.text) {
            return Some(name.text.clone());
        }
        self.not_found(
            name,
            "a verb of this item",
            |handling| handling.verbs.iter().map(|(verb, ..)| verb.clone()).collect(),
            troubles,
        );
        None
    }

    pub(super) fn state(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<(usize, usize)> {
        let found = self.known_state(name);
        if found.is_none() {
            self.not_found(name, "a state of this item", |handling| handling.states.clone(), troubles);
        }
        found
    }

    fn known_state(&self, name: &Name) -> Option<(usize, usize)> {
        let (handlings, first) = self.spoken_of();
        let (place, state) = of_handlings(self.model, handlings, |handling| {
            handling.states.iter().position(|state| *state == name.text)
        })?;
        Some((first + place, state))
    }

    fn has_verb(&self, verb: &str) -> bool {
        let (handlings, _) = self.spoken_of();
        of_handlings(self.model, handlings, |handling| handling.has_verb(verb).then_some(())).is_some()
    }

    /// The handlings that a line may speak of, and the place of the first among the item's.
    fn spoken_of(&self) -> (&[usize], usize) {
        match self.only {
            None => (self.handlings, 0),
            Some(only) => (self.handlings.get(only..=only).unwrap_or(&[]), only),
        }
    }

    /// Tells of a name that no handling has; not where no handling is known.
    fn not_found(
        &self,
        name: &Name,
        what: &'static str,
        words: impl Fn(&Handling) -> Vec<String>,
        troubles: &mut Vec<Trouble>,
    ) {
        let (handlings, _) = self.spoken_of();
        let known: Vec<&Handling> =
            handlings.iter().filter_map(|handling| self.model.handlings.get(*handling)).collect();
        if known.is_empty() {
            return;
        }
        let words: Vec<String> = known.into_iter().flat_map(words).collect();
        troubles.push(Trouble::NotFound {
            place: self.place(name.span),
            name: name.text.clone(),
            what,
            near: or_all(&name.text, words.iter().map(String::as_str)),
            elsewhere: None,
        });
    }
}
