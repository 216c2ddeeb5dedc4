//! The names in the lines of handlings, items, quantities and tools: whose verbs and states they are.

use super::{Role, Sort, Spot, Walk, What, Whose};
use dwell_syntax::tree::{Ability, AccuracyPart, Effect, Line, LineKind, Name, StateOf, When};

impl<'a> Walk<'a> {
    /// The lines of a declaration; the verbs and states in front are of `whose`.
    pub(super) fn lines(&mut self, lines: &'a [Line], whose: Whose<'a>) {
        for Line { kind, when, span } in lines {
            self.parts.push(*span);
            self.line(kind, whose);
            self.when(when);
        }
    }

    fn line(&mut self, kind: &'a LineKind, whose: Whose<'a>) {
        match kind {
            LineKind::Brings(subject, effects) => {
                self.note(subject, Role::Refers, Sort::Subject(whose));
                self.effects(effects);
            }
            LineKind::Needs(verb, states) => {
                self.verbs(verb, whose);
                states.iter().for_each(|state| self.state_of(state));
            }
            LineKind::Moves { subject, what, gain, steps } => {
                self.verbs(subject, whose);
                self.refers_to_all(what, What::Quantity);
                for amount in gain.iter().flat_map(|(one, other)| [one, other]).chain(steps) {
                    self.amount(amount);
                }
            }
            LineKind::Lasts { state, duration, after } => {
                self.note(state, Role::Refers, Sort::State(whose));
                self.amount(duration);
                self.verbs(after, whose);
            }
            LineKind::Play { verb, told: _ } | LineKind::SignedFor { verb, persons: _ } => {
                self.verbs([verb], whose);
            }
            LineKind::MayStay(states) => {
                for state in states {
                    self.note(state, Role::Refers, Sort::State(whose));
                }
            }
            LineKind::Torque(spec) => self.refers(spec, What::Spec),
            LineKind::CheckedBy { verb, by } => {
                self.verbs([verb], whose);
                self.refers_to_all(by, What::Spec);
            }
            LineKind::Never(_, band) | LineKind::Impedance(band) => self.band(band),
            LineKind::Means(_, amount) => amount.iter().for_each(|amount| self.amount(amount)),
            LineKind::IsFold(formula) => self.formula(formula),
            LineKind::Measures(ability) | LineKind::Sets(ability) => self.ability(ability),
            LineKind::Zeroed { after: _, what } => {
                // As `measure` and `procedure` they are the words of the language, not verbs.
                if matches!(what.text.as_str(), "measure" | "procedure") {
                    self.note(what, Role::Refers, Sort::Fixed(What::Word));
                } else {
                    self.verbs([what], whose);
                }
            }
            LineKind::WarmsUp(amount) | LineKind::Settles(amount) | LineKind::Reaches(amount) => {
                self.amount(amount)
            }
            LineKind::Extends { by, at } => {
                [by].into_iter().chain(at).for_each(|amount| self.amount(amount));
            }
            LineKind::Waive { rule, because: _ } => self.rule(rule),
            LineKind::Located(_)
            | LineKind::Positive(_)
            | LineKind::Negative(_)
            | LineKind::Limits { at_least: _ }
            | LineKind::Fits(_)
            | LineKind::Calibrated(_) => {}
        }
    }

    fn verbs(&mut self, verbs: impl IntoIterator<Item = &'a Name>, whose: Whose<'a>) {
        for verb in verbs {
            self.note(verb, Role::Refers, Sort::Verb(whose));
        }
    }

    fn ability(&mut self, ability: &'a Ability) {
        let Ability { kind, range, resolution, accuracy, needs } = ability;
        self.refers(kind, What::Quantity);
        range.iter().for_each(|band| self.band(band));
        resolution.iter().for_each(|amount| self.amount(amount));
        for part in accuracy {
            match part {
                AccuracyPart::Fixed(amount) | AccuracyPart::OfReading(amount) => self.amount(amount),
                AccuracyPart::Digits(_) => {}
            }
        }
        needs.iter().for_each(|state| self.state_of(state));
    }

    /// `when charging is single`.
    pub(super) fn when(&mut self, when: &'a [When]) {
        for When { name, values, span } in when {
            self.parts.push(*span);
            self.refers(name, What::Variant);
            for value in values {
                self.note(value, Role::Refers, Sort::Value(name));
            }
        }
    }

    /// What comes about: hazards and states.
    pub(super) fn effects(&mut self, effects: &'a [Effect]) {
        for effect in effects {
            match effect {
                Effect::Hazard(hazard) => self.refers(hazard, What::Hazard),
                Effect::State(state) => self.state_of(state),
            }
        }
    }

    /// `engine is stopped`.
    pub(super) fn state_of(&mut self, state: &'a StateOf) {
        let StateOf { item, at, state, span } = state;
        self.parts.push(*span);
        self.refers(item, What::Item);
        if let Some(at) = at {
            self.note(at, Role::Refers, Sort::Place(Spot::Item(item)));
        }
        self.note(state, Role::Refers, Sort::State(Whose::Item(item)));
    }

    pub(super) fn rule(&mut self, rule: &'a Name) {
        self.note(rule, Role::Refers, Sort::Fixed(What::Rule));
    }
}
