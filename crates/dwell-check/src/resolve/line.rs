//! Lines that items, handlings and tools share: what a verb or a state brings, needs, moves, and how long it lasts.

use dwell_quantity::Kind;
use dwell_syntax::tree::{self, Effect as Written, Line, LineKind, Name, StateOf};

use super::known::{of_handlings, told};
use crate::finding::Place;
use crate::model::{Brings, Effect, Handling, Item, Model, Moves, Needs, StateRef, Subject, Thing, When};
use crate::names::{look_up, or_all};
use crate::trouble::Trouble;

/// Whose lines are read: an item with its handlings, and how many of them a line may speak of.
pub(super) struct Owner<'a> {
    pub(super) model: &'a Model,
    pub(super) file: usize,
    /// The item, by its place in the model.
    pub(super) item: usize,
    /// The handlings of the item.
    pub(super) handlings: &'a [usize],
    /// For the lines of a handling: which of the item's it is.
    pub(super) only: Option<usize>,
}

/// What the lines of an item do.
#[derive(Default)]
pub(super) struct Lines {
    brings: Vec<Brings>,
    needs: Vec<Needs>,
    moves: Vec<Moves>,
    lasts: Vec<(StateRef, dwell_quantity::Exact, Option<String>)>,
    may_stay: Vec<(usize, usize)>,
}

impl Lines {
    /// Adds them to the item.
    pub(super) fn add_to(self, item: &mut Item) {
        item.brings.extend(self.brings);
        item.needs.extend(self.needs);
        item.moves.extend(self.moves);
        item.lasts.extend(self.lasts);
        item.may_stay.extend(self.may_stay);
    }
}

impl Owner<'_> {
    /// Reads one line that speaks of verbs and states; `false` for a line of another sort.
    pub(super) fn line(&self, line: &Line, lines: &mut Lines, troubles: &mut Vec<Trouble>) -> bool {
        let when = super::when(self.model, self.file, &line.when, troubles);
        match &line.kind {
            LineKind::Brings(subject, effects) => self.brings(subject, effects, &when, lines, troubles),
            LineKind::Needs(Some(verb), states) => {
                if let Some(verb) = self.verb(verb, troubles) {
                    for (state, place) in needed(self.model, self.file, states, troubles) {
                        lines.needs.push(Needs { verb: verb.clone(), state, when: when.clone(), place });
                    }
                }
            }
            LineKind::Moves { subject: Some(verb), what, .. } => {
                self.moves(verb, what, line, lines, troubles)
            }
            LineKind::Lasts { state, duration, after } => {
                self.lasts(state, duration, after.as_ref(), lines, troubles);
            }
            LineKind::MayStay(states) => {
                let found = states.iter().filter_map(|name| self.state(name, troubles));
                lines.may_stay.extend(found);
            }
            _ => return false,
        }
        true
    }

    fn brings(
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
                let state = super::state(self.model, self.file, asked, troubles)?;
                let place = self.place(asked.span);
                if let Some(help) = self.not_brought(state, subject, asked) {
                    let what = format!(
                        "nothing here can bring about that {} is {}",
                        asked.item.text, asked.state.text
                    );
                    troubles.push(Trouble::NotExecutable { place, what, help });
                    return None;
                }
                Some((Effect::State(state), place))
            }
        }
    }

    /// Why a state cannot be brought about here, as what to do instead.
    fn not_brought(&self, state: StateRef, subject: &Subject, asked: &StateOf) -> Option<String> {
        if matches!(subject, Subject::State(..)) {
            return Some("a state brings hazards only: say which verb brings this about".to_owned());
        }
        let item = self.model.items.get(state.item)?;
        let handling = self.model.handlings.get(*item.handlings.get(state.handling)?)?;
        handling.proved(state.state).then(|| {
            format!(
                "`{}` is a state that only a measurement proves: let an `expect … proves {} is {}` bring it about",
                asked.state.text, asked.item.text, asked.state.text
            )
        })
    }

    fn moves(&self, verb: &Name, what: &[Name], line: &Line, lines: &mut Lines, troubles: &mut Vec<Trouble>) {
        if let Some(when) = line.when.first() {
            troubles.push(Trouble::NotExecutable {
                place: self.place(when.span),
                what: "what a verb moves cannot depend on a condition".to_owned(),
                help: "leave it out: what may have moved is measured again".to_owned(),
            });
        }
        let Some(verb) = self.verb(verb, troubles) else { return };
        for name in what {
            if let Some(quantity) = super::quantity(self.model, self.file, name, troubles) {
                lines.moves.push(Moves { verb: verb.clone(), quantity, place: self.place(name.span) });
            }
        }
    }

    fn lasts(
        &self,
        state: &Name,
        duration: &tree::Amount,
        after: Option<&Name>,
        lines: &mut Lines,
        troubles: &mut Vec<Trouble>,
    ) {
        let found = self.state(state, troubles);
        let seconds =
            super::amount(self.file, duration, Kind::DURATION, "a time for `lasts`", true, troubles);
        let after = match after {
            None => Some(None),
            Some(verb) => self.verb(verb, troubles).map(Some),
        };
        if let (Some((handling, state)), Some(seconds), Some(after)) = (found, seconds, after) {
            let state = StateRef { item: self.item, at: None, handling, state };
            lines.lasts.push((state, seconds, after));
        }
    }

    /// A verb or a state. Where one word is both, the state is meant: it lasts.
    fn subject(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<Subject> {
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

    fn verb(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<String> {
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

    fn state(&self, name: &Name, troubles: &mut Vec<Trouble>) -> Option<(usize, usize)> {
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

    fn place(&self, span: tree::Span) -> Place {
        Place { file: self.file, span }
    }
}

/// The states after `needs`, each with its place.
pub(super) fn needed(
    model: &Model,
    file: usize,
    states: &[StateOf],
    troubles: &mut Vec<Trouble>,
) -> Vec<(StateRef, Place)> {
    states
        .iter()
        .filter_map(|asked| {
            Some((super::state(model, file, asked, troubles)?, Place { file, span: asked.span }))
        })
        .collect()
}

/// The positions after `at each`.
pub(super) fn positions(
    model: &Model,
    file: usize,
    name: Option<&Name>,
    troubles: &mut Vec<Trouble>,
) -> Option<usize> {
    let fits = |thing| matches!(thing, Thing::Positions(_));
    match told(look_up(model, file, name?, "a set of positions", fits), troubles)? {
        Thing::Positions(positions) => Some(positions),
        _ => None,
    }
}

/// Tells of a line that has no place in what it stands in.
pub(super) fn misplaced(file: usize, line: &Line, owner: &str, troubles: &mut Vec<Trouble>) {
    troubles.push(Trouble::NotExecutable {
        place: Place { file, span: line.span },
        what: format!("this line says nothing in {owner}"),
        help:
            "the reference lists which lines go where; a `needs` or `moves` in an item begins with its verb"
                .to_owned(),
    });
}
