//! Lines that items, handlings and tools share: what a verb or a state brings, needs, moves, and how long it lasts.

mod brings;
mod gain;
mod subject;

use dwell_quantity::Kind;
use dwell_syntax::tree::{self, Line, LineKind, Name, StateOf};

use super::known::told;
use crate::finding::Place;
use crate::model::{Brings, CheckedBy, Item, Model, Moves, Needs, Play, SignedFor, StateRef, Thing};
use crate::names::look_up;
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
    plays: Vec<Play>,
    checked: Vec<CheckedBy>,
    signed: Vec<SignedFor>,
    lasts: Vec<(StateRef, dwell_quantity::Exact, Option<String>)>,
    may_stay: Vec<(usize, usize)>,
}

impl Lines {
    /// Adds them to the item.
    pub(super) fn add_to(self, item: &mut Item) {
        item.brings.extend(self.brings);
        item.needs.extend(self.needs);
        item.moves.extend(self.moves);
        item.plays.extend(self.plays);
        item.checked.extend(self.checked);
        item.signed.extend(self.signed);
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
            LineKind::Moves { subject: Some(verb), what, gain, steps } => {
                self.moves(verb, what, gain.as_ref().zip(steps.as_ref()), line, lines, troubles)
            }
            LineKind::Lasts { state, duration, after } => {
                self.lasts(state, duration, after.as_ref(), lines, troubles);
            }
            LineKind::Play { verb, told } => {
                self.unconditional(
                    line,
                    "that a verb has play",
                    "leave it out: play is there at all times",
                    troubles,
                );
                if let Some(text) = told.as_ref().filter(|text| text.text.contains(['{', '}'])) {
                    troubles.push(Trouble::NotExecutable {
                        place: self.place(text.span),
                        what: "no value can be shown here: the text belongs to the thing, not to a procedure"
                            .to_owned(),
                        help: "say it without braces".to_owned(),
                    });
                }
                if let Some(verb) = self.verb(verb, troubles) {
                    let told = told.as_ref().map(|text| text.text.clone());
                    lines.plays.push(Play { verb, told, place: self.place(line.span) });
                }
            }
            LineKind::CheckedBy { verb, by } => self.checked(verb, by, line, lines, troubles),
            LineKind::SignedFor { verb, persons } => {
                self.unconditional(
                    line,
                    "whether somebody signs",
                    "leave it out: say it for every case",
                    troubles,
                );
                if let Some(verb) = self.verb(verb, troubles) {
                    let place = self.place(line.span);
                    lines.signed.push(SignedFor { verb, persons: *persons, place });
                }
            }
            LineKind::MayStay(states) => {
                let found = states.iter().filter_map(|name| self.state(name, troubles));
                lines.may_stay.extend(found);
            }
            _ => return false,
        }
        true
    }

    fn moves(
        &self,
        verb: &Name,
        what: &[Name],
        gain: Option<(&(tree::Amount, tree::Amount), &tree::Amount)>,
        line: &Line,
        lines: &mut Lines,
        troubles: &mut Vec<Trouble>,
    ) {
        self.unconditional(
            line,
            "what a verb moves",
            "leave it out: what may have moved is measured again",
            troubles,
        );
        let Some(verb) = self.verb(verb, troubles) else { return };
        for name in what {
            if let Some(quantity) = super::quantity(self.model, self.file, name, troubles) {
                let kind = self.model.kind(quantity);
                let step = gain
                    .zip(kind)
                    .and_then(|((gain, steps), kind)| gain::one_step(self.file, kind, gain, steps, troubles));
                lines.moves.push(Moves { verb: verb.clone(), quantity, step, place: self.place(name.span) });
            }
        }
    }

    /// Tells of a condition where there can be none.
    fn unconditional(&self, line: &Line, what: &str, help: &str, troubles: &mut Vec<Trouble>) {
        if let Some(when) = line.when.first() {
            troubles.push(Trouble::NotExecutable {
                place: self.place(when.span),
                what: format!("{what} cannot depend on a condition"),
                help: help.to_owned(),
            });
        }
    }

    fn checked(&self, verb: &Name, by: &[Name], line: &Line, lines: &mut Lines, troubles: &mut Vec<Trouble>) {
        self.unconditional(
            line,
            "by what something is checked",
            "leave it out: the spec can have a band for each case",
            troubles,
        );
        let Some(verb) = self.verb(verb, troubles) else { return };
        let fits = |thing| matches!(thing, Thing::Spec(_) | Thing::Table(_));
        for name in by {
            let found = told(look_up(self.model, self.file, name, "a spec", fits), troubles);
            if let Some(Thing::Spec(spec) | Thing::Table(spec)) = found {
                lines.checked.push(CheckedBy { verb: verb.clone(), spec, place: self.place(name.span) });
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
