//! States and conditions of a model in the words of the language.

use dwell_check::model::{Effect, Model, QuantityRef, StateRef, Subject, When};

/// Says what stands in one model.
#[derive(Clone, Copy)]
pub(crate) struct Words<'a>(pub(crate) &'a Model);

impl Words<'_> {
    /// `belt-guard at left is fitted`.
    pub(crate) fn state(self, state: &StateRef) -> String {
        let (name, at, state) = self.state_parts(state);
        format!("{name}{at} is {state}")
    }

    /// Item, ` at place`, state.
    fn state_parts(self, state: &StateRef) -> (String, String, String) {
        let Some(item) = self.0.items.get(state.item) else { return Default::default() };
        let positions = item.at_each.and_then(|positions| self.0.positions.get(positions));
        let at = state.at.and_then(|at| positions?.values.get(at)).map(|at| format!(" at {at}"));
        let handling = item.handlings.get(state.handling).and_then(|place| self.0.handlings.get(*place));
        let word = handling.and_then(|handling| handling.states.get(state.state)).cloned();
        (item.name.clone(), at.unwrap_or_default(), word.unwrap_or_default())
    }

    /// ` when engine-family is k9 and cover is off`; nothing without conditions.
    pub(crate) fn when(self, when: &[When]) -> String {
        let guards: Vec<String> = when
            .iter()
            .map(|one| self.guard(one))
            .map(|(name, values)| format!("{name} is {}", values.join(", ")))
            .collect();
        if guards.is_empty() { String::new() } else { format!(" when {}", guards.join(" and ")) }
    }

    /// What a condition asks about, and the values that it takes.
    pub(crate) fn guard(self, when: &When) -> (String, Vec<String>) {
        let (choice, places) = match when {
            When::Variant(place, values) => (self.0.variants.get(*place), values),
            When::Position(place, values) => (self.0.positions.get(*place), values),
            When::State(states) => {
                let parts: Vec<_> = states.iter().map(|state| self.state_parts(state)).collect();
                let name = parts.first().map(|(name, at, _)| format!("{name}{at}")).unwrap_or_default();
                return (name, parts.into_iter().map(|(_, _, state)| state).collect());
            }
        };
        let values = choice
            .map(|choice| places.iter().filter_map(|place| choice.values.get(*place)).cloned().collect());
        (choice.map(|choice| choice.name.clone()).unwrap_or_default(), values.unwrap_or_default())
    }

    /// All values that what a condition asks about can have.
    pub(crate) fn domain(self, when: &When) -> Vec<String> {
        match when {
            When::Variant(place, _) => self.0.variants.get(*place).map(|choice| choice.values.clone()),
            When::Position(place, _) => self.0.positions.get(*place).map(|choice| choice.values.clone()),
            When::State(states) => states.first().and_then(|state| {
                let item = self.0.items.get(state.item)?;
                let handling = self.0.handlings.get(*item.handlings.get(state.handling)?)?;
                Some(handling.states.clone())
            }),
        }
        .unwrap_or_default()
    }

    /// A hazard or a state that something brings.
    pub(crate) fn effect(self, effect: &Effect) -> String {
        match effect {
            Effect::Hazard(place) => {
                self.0.hazards.get(*place).map(|hazard| format!("hazard {}", hazard.name)).unwrap_or_default()
            }
            Effect::State(state) => self.state(state),
        }
    }

    /// A verb, or a state of the item at that place.
    pub(crate) fn subject(self, item: usize, subject: &Subject) -> String {
        match subject {
            Subject::Verb(verb) => verb.clone(),
            Subject::State(handling, state) => {
                let of = StateRef { item, at: None, handling: *handling, state: *state };
                self.state_parts(&of).2
            }
        }
    }

    /// A quantity by its name.
    pub(crate) fn quantity(self, quantity: QuantityRef) -> String {
        self.0.quantity_name(quantity).to_owned()
    }
}
