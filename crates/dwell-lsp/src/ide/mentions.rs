//! Every name of a file: where it stands, whether it is declared or only named there, and what sort of name it is.
//!
//! Found from the tree alone, without a look into any other file; what a name then means is worked out by
//! [`World`](super::world::World). Every form of the tree is taken apart by name, so that a new one does not compile until
//! its names are thought of.

mod braces;
mod declaration;
mod formula;
mod lines;
mod locals;
mod procedure;
mod statement;
#[cfg(test)]
mod tests;

pub(crate) use locals::{Local, answers, locals, performed, steps};

use dwell_check::program::Content;
use dwell_syntax::tree::{Name, Span};
use std::collections::HashMap;

/// What a name does where it stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Role {
    /// It is declared here: a thing, a state, a verb, a value, a step, a reading, an answer.
    Declares,
    /// A reading that is known already gets a new value: `measure toe again`.
    Retakes,
    /// Something is named that stands elsewhere.
    Refers,
}

/// What a name can be the name of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
#[allow(missing_docs)]
pub enum What {
    Handling,
    Item,
    Tool,
    Quantity,
    /// A kind of quantity of the closed table.
    Kind,
    Spec,
    Table,
    Series,
    Hazard,
    Variant,
    /// A value of a variant.
    Value,
    Positions,
    /// One of a set of positions.
    Place,
    Procedure,
    Step,
    /// What is measured, read or chosen in a procedure.
    Reading,
    /// `let` with a value.
    Computed,
    /// `let` with a band.
    Limit,
    /// `ask`.
    Question,
    /// One of the answers of a question.
    Answer,
    /// A verb of a handling.
    Verb,
    /// A state of a handling.
    State,
    /// A rule after `waive`.
    Rule,
    /// How something ends.
    Outcome,
    /// A word of the language in the place of a name: `steady`, `lost`.
    Word,
    Unit,
    /// The path after `use`.
    File,
}

/// Of whom a verb or a state is one.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Whose<'a> {
    /// Of the item or tool of that name.
    Item(&'a Name),
    /// Of these handlings.
    Handlings(&'a [Name]),
    /// Of this handling.
    Handling(&'a Name),
    /// Of nobody that is known.
    Nobody,
}

/// Of what a place is one.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Spot<'a> {
    /// Of those that an item is there at.
    Item(&'a Name),
    /// Of those of a reading: of its quantity, or else of the `for each` that it is taken in.
    Reading(Option<&'a Name>, Option<&'a Name>),
}

/// How it is found out what a name means.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Sort<'a> {
    /// Something that is declared in a file, by what the file sees; most likely this.
    Thing(What),
    /// A verb.
    Verb(Whose<'a>),
    /// A state.
    State(Whose<'a>),
    /// A state, or else a verb.
    Subject(Whose<'a>),
    /// A value of the variant, a place of the positions or a state of the item of that name.
    Value(&'a Name),
    /// A place.
    Place(Spot<'a>),
    /// After `measure … at`: an item, or else a place.
    ItemOrPlace(Spot<'a>),
    /// Something of this procedure.
    Local(What),
    /// Something that should be of this procedure and is not.
    Missing(What),
    /// A reading of this procedure that is of the quantity it is named like.
    Like,
    /// The same after `keep`, where it cannot be said of which quantity it is.
    Kept,
    /// An answer of the question of that name.
    Answer(&'a str),
    /// A step of this procedure.
    Step,
    /// What an entry of a case speaks of.
    CaseName,
    /// What it says, of the name before it.
    CaseValue(&'a Name),
    /// Nothing that is declared anywhere.
    Fixed(What),
}

/// A name where it stands.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Mention<'a> {
    /// The name.
    pub(crate) name: &'a str,
    /// Where it stands; a path with its quotes.
    pub(crate) span: Span,
    /// What it does there.
    pub(crate) role: Role,
    /// How to find out what it means.
    pub(crate) sort: Sort<'a>,
    /// The declaration that it stands in, by its place in the tree.
    pub(crate) declaration: usize,
}

/// Every name of a file, in the order of their places. What could not be read has none.
pub(crate) fn mentions(content: &Content) -> Vec<Mention<'_>> {
    let mut all = walked(content).out;
    all.sort_by_key(|mention| (mention.span.start, mention.span.end));
    all
}

/// What stands between the quotes of a text; the one behind may have got lost.
pub(crate) fn between_quotes(text: &str, span: Span) -> Span {
    let inside = text.get(span.start + 1..span.end).unwrap_or_default();
    let length = inside.strip_suffix('"').map_or(inside.len(), str::len);
    Span::new(span.start + 1, span.start + 1 + length)
}

/// What the names of a file stand in: every amount, band, test, line, statement, block, part and declaration, in no order.
pub(crate) fn parts(content: &Content) -> Vec<Span> {
    walked(content).parts
}

fn walked(content: &Content) -> Walk<'_> {
    let mut walk = Walk { text: &content.text, declaration: 0, of: None, out: Vec::new(), parts: Vec::new() };
    for (place, node) in content.tree.declarations.iter().enumerate() {
        walk.declaration = place;
        walk.declared(node);
    }
    walk
}

/// The procedure that a walk is in: its own names.
struct Procedure<'a> {
    locals: HashMap<&'a str, Local<'a>>,
    steps: Vec<&'a str>,
}

/// A walk over one file.
struct Walk<'a> {
    text: &'a str,
    declaration: usize,
    of: Option<Procedure<'a>>,
    out: Vec<Mention<'a>>,
    parts: Vec<Span>,
}

impl<'a> Walk<'a> {
    /// A name; one that got lost is none.
    fn note(&mut self, name: &'a Name, role: Role, sort: Sort<'a>) {
        self.written(&name.text, name.span, role, sort);
    }

    fn written(&mut self, name: &'a str, span: Span, role: Role, sort: Sort<'a>) {
        if !name.is_empty() {
            self.out.push(Mention { name, span, role, sort, declaration: self.declaration });
        }
    }

    fn declares(&mut self, name: &'a Name, what: What) {
        self.note(name, Role::Declares, Sort::Thing(what));
    }

    fn refers(&mut self, name: &'a Name, what: What) {
        self.note(name, Role::Refers, Sort::Thing(what));
    }

    fn refers_to_all(&mut self, names: impl IntoIterator<Item = &'a Name>, what: What) {
        for name in names {
            self.refers(name, what);
        }
    }

    /// What this procedure calls so.
    fn local(&self, name: &str) -> Option<Local<'a>> {
        self.of.as_ref()?.locals.get(name).copied()
    }

    /// A name of this procedure if it has one of that name, else something declared.
    fn local_or(&mut self, name: &'a Name, what: What) {
        let sort = self.local(&name.text).map_or(Sort::Thing(what), |local| Sort::Local(local.what));
        self.note(name, Role::Refers, sort);
    }
}
