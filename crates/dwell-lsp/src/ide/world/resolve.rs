//! From the sort of a name to what it stands for: things, verbs and states of handlings, values, places, names of a procedure.

use super::{Key, Resolved, Seen, World, what};
use crate::ide::mentions::{Local, Mention, Sort, Spot, What, Whose, answers, locals, performed, steps};
use dwell_syntax::tree::{Choice, DeclarationKind, Handling, Name, Procedure};
use std::collections::HashSet;

impl<'a> World<'a> {
    /// A name of a file with what it means.
    pub(super) fn resolve(&self, file: usize, mention: Mention<'a>) -> Resolved<'a> {
        let (name, procedure) = (mention.name, mention.declaration);
        let local = |what| (what, vec![Key::Local { file, procedure, name }]);
        let (what, keys) = match mention.sort {
            Sort::Thing(what) => self.thing(file, name, what),
            Sort::Verb(whose) => (What::Verb, self.verbs(file, whose, name)),
            Sort::State(whose) => (What::State, self.state(file, whose, name)),
            Sort::Subject(whose) => match self.state(file, whose, name) {
                none if none.is_empty() => (What::Verb, self.verbs(file, whose, name)),
                state => (What::State, state),
            },
            Sort::Value(of) => self.value(file, of, name),
            Sort::Place(spot) => self.place(file, spot, name),
            Sort::ItemOrPlace(spot) => match self.seen(file, name) {
                Some(_) => self.thing(file, name, What::Item),
                None => self.place(file, spot, name),
            },
            Sort::Local(what) => local(what),
            Sort::Missing(what) => (what, Vec::new()),
            Sort::Like | Sort::Kept => {
                let (_, quantity) = self.thing(file, name, What::Quantity);
                let (what, mut keys) = local(What::Reading);
                keys.extend(quantity);
                (what, keys)
            }
            Sort::Answer(question) => self.answer(file, procedure, question, name),
            Sort::Step => {
                let all = self.procedure(file, procedure).map(steps).unwrap_or_default();
                let known = all.iter().any(|step| step.text == name);
                let key = known.then_some(Key::Step { file, procedure, name });
                (What::Step, key.into_iter().collect())
            }
            Sort::CaseName => self.case_name(file, procedure, name),
            Sort::CaseValue(of) => self.case_value(file, procedure, of, name),
            Sort::Fixed(What::File) => {
                let used = self.uses(file).find(|(_, at)| *at == Some(mention.span));
                (What::File, used.map(|(file, _)| Key::File(file)).into_iter().collect())
            }
            Sort::Fixed(what) => (what, Vec::new()),
        };
        Resolved { mention, what, keys }
    }

    fn thing(&self, file: usize, name: &'a str, expected: What) -> (What, Vec<Key<'a>>) {
        match self.seen(file, name) {
            Some(Seen::Declared(file, _, kind)) => {
                (what(kind).unwrap_or(expected), vec![Key::Thing { file, name }])
            }
            Some(Seen::Kind) => (What::Kind, vec![Key::Kind(name)]),
            None => (expected, Vec::new()),
        }
    }

    /// The handlings that are meant, each with the file that declares it.
    pub(super) fn handlings(&self, file: usize, whose: Whose<'a>) -> Vec<(usize, &'a Handling)> {
        let named = |file: usize, name: &Name| match self.seen(file, &name.text) {
            Some(Seen::Declared(file, _, DeclarationKind::Handling(handling))) => Some((file, handling)),
            _ => None,
        };
        match whose {
            Whose::Nobody => Vec::new(),
            Whose::Handling(name) => named(file, name).into_iter().collect(),
            Whose::Handlings(names) => names.iter().filter_map(|name| named(file, name)).collect(),
            Whose::Item(name) => match self.seen(file, &name.text) {
                Some(Seen::Declared(at, _, DeclarationKind::Item(item))) => {
                    item.handlings.iter().filter_map(|name| named(at, name)).collect()
                }
                Some(Seen::Declared(at, _, DeclarationKind::Tool(tool))) => {
                    tool.handlings.iter().filter_map(|name| named(at, name)).collect()
                }
                _ => Vec::new(),
            },
        }
    }

    fn verbs(&self, file: usize, whose: Whose<'a>, name: &'a str) -> Vec<Key<'a>> {
        let has = |handling: &Handling| {
            handling.transitions.iter().any(|known| known.verb.as_ref().is_some_and(|verb| verb.text == name))
        };
        let all = self.handlings(file, whose).into_iter().filter(|(_, handling)| has(handling));
        all.map(|(file, handling)| Key::Verb { file, handling: &handling.name.text, name }).collect()
    }

    fn state(&self, file: usize, whose: Whose<'a>, name: &'a str) -> Vec<Key<'a>> {
        let has = |handling: &Handling| handling.states.iter().any(|state| state.text == name);
        let first = self.handlings(file, whose).into_iter().find(|(_, handling)| has(handling));
        first
            .map(|(file, handling)| Key::State { file, handling: &handling.name.text, name })
            .into_iter()
            .collect()
    }

    /// A value of a variant or of positions, or a state of an item.
    fn value(&self, file: usize, of: &'a Name, name: &'a str) -> (What, Vec<Key<'a>>) {
        let (what, choice, file) = match self.seen(file, &of.text) {
            Some(Seen::Declared(file, _, DeclarationKind::Variant(choice))) => (What::Value, choice, file),
            Some(Seen::Declared(file, _, DeclarationKind::Positions(choice))) => (What::Place, choice, file),
            _ => return (What::State, self.state(file, Whose::Item(of), name)),
        };
        (what, of_choice(file, choice, name))
    }

    fn place(&self, file: usize, spot: Spot<'a>, name: &'a str) -> (What, Vec<Key<'a>>) {
        let positions = |file: usize, set: &Name| match self.seen(file, &set.text) {
            Some(Seen::Declared(file, _, DeclarationKind::Positions(choice))) => Some((file, choice)),
            _ => None,
        };
        let found = match spot {
            Spot::Item(item) => match self.seen(file, &item.text) {
                Some(Seen::Declared(at, _, DeclarationKind::Item(item))) => {
                    item.at_each.as_ref().and_then(|set| positions(at, set))
                }
                _ => None,
            },
            Spot::Reading(quantity, bound) => {
                let of_quantity = match quantity.and_then(|quantity| self.seen(file, &quantity.text)) {
                    Some(Seen::Declared(at, _, DeclarationKind::Quantity(quantity))) => {
                        quantity.at_each.as_ref().and_then(|set| positions(at, set))
                    }
                    _ => None,
                };
                of_quantity.or_else(|| positions(file, bound?))
            }
        };
        (What::Place, found.map(|(file, choice)| of_choice(file, choice, name)).unwrap_or_default())
    }

    /// A procedure of a file.
    fn procedure(&self, file: usize, declaration: usize) -> Option<&'a Procedure> {
        match &self.content(file)?.tree.declarations.get(declaration)?.kind {
            DeclarationKind::Procedure(procedure) => Some(procedure),
            _ => None,
        }
    }

    fn own(&self, file: usize, procedure: usize, name: &str) -> Option<Local<'a>> {
        let all = locals(self.procedure(file, procedure)?);
        all.into_iter().find(|local| local.name.text == name)
    }

    /// A variant; a name of the procedure, or of one that it performs; or something that is needed.
    fn case_name(&self, file: usize, procedure: usize, name: &'a str) -> (What, Vec<Key<'a>>) {
        if let Some(Seen::Declared(at, _, DeclarationKind::Variant(_))) = self.seen(file, name) {
            return (What::Variant, vec![Key::Thing { file: at, name }]);
        }
        match self.performed_own(file, procedure, name) {
            Some((what, file, procedure)) => (what, vec![Key::Local { file, procedure, name }]),
            None => self.thing(file, name, What::Item),
        }
    }

    /// A name of a procedure's own, or else of those that it performs, the nearest in the text first: what it is, the file
    /// and the declaration. Kept in a list, so that a long chain of procedures needs no deep stack.
    fn performed_own(&self, file: usize, procedure: usize, name: &str) -> Option<(What, usize, usize)> {
        let mut done = HashSet::new();
        let mut ahead = vec![(file, procedure)];
        while let Some((file, procedure)) = ahead.pop() {
            if !done.insert((file, procedure)) {
                continue;
            }
            if let Some(local) = self.own(file, procedure, name) {
                return Some((local.what, file, procedure));
            }
            let next = self.procedure(file, procedure).map(performed).unwrap_or_default();
            let next = next.into_iter().rev().filter_map(|next| match self.seen(file, &next.text)? {
                Seen::Declared(file, procedure, DeclarationKind::Procedure(_)) => Some((file, procedure)),
                Seen::Declared(..) | Seen::Kind => None,
            });
            ahead.extend(next);
        }
        None
    }

    fn case_value(&self, file: usize, procedure: usize, of: &'a Name, name: &'a str) -> (What, Vec<Key<'a>>) {
        match self.case_name(file, procedure, &of.text) {
            (What::Question, keys) => match keys.as_slice() {
                [Key::Local { file, procedure, name: question }] => {
                    self.answer(*file, *procedure, question, name)
                }
                _ => (What::Answer, Vec::new()),
            },
            _ => self.value(file, of, name),
        }
    }

    /// An answer of a question; yes and no are words of the language where it has no others.
    fn answer(
        &self,
        file: usize,
        procedure: usize,
        question: &'a str,
        name: &'a str,
    ) -> (What, Vec<Key<'a>>) {
        let known = self.procedure(file, procedure).map(|node| answers(node, question)).unwrap_or_default();
        if known.is_empty() && matches!(name, "yes" | "no") {
            return (What::Word, Vec::new());
        }
        let known = known.iter().any(|answer| answer.text == name);
        let key = known.then_some(Key::Answer { file, procedure, question, name });
        (What::Answer, key.into_iter().collect())
    }
}

fn of_choice<'a>(file: usize, choice: &'a Choice, name: &'a str) -> Vec<Key<'a>> {
    let known = choice.values.iter().any(|value| value.text == name);
    known.then_some(Key::Value { file, choice: &choice.name.text, name }).into_iter().collect()
}
