//! What stands at a byte of a file, in plain types: for hover, the cursor, and whoever asks what a name means.

use super::{Key, Resolved, World};
use crate::ide::mentions::{Role, What};
use crate::ide::view::View;
use dwell_check::finding::Place;
use dwell_check::model::Thing;
use dwell_syntax::tree::Span;

/// A name and what it means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Meaning {
    /// Where it stands in this file; a path with its quotes.
    pub span: Span,
    /// The name.
    pub name: String,
    /// What it does there.
    pub role: Role,
    /// What it is.
    pub what: What,
    /// The declared thing or kind, by its place in the model.
    pub thing: Option<Thing>,
    /// Where it is declared, by the file's place in the program of the view: several for a verb that leads from several
    /// states, or is one of several handlings; none for what is not known.
    pub declared: Vec<Place>,
}

/// The name at a byte of the view's file, with what it means; at both of its edges too. None on words of the language,
/// blanks, signs, numbers, comments, and in texts outside braces.
pub fn meaning(view: &View, at: usize) -> Option<Meaning> {
    let world = World::of(view, &[]);
    let found = world.at(view.file(), at)?;
    let declared = found.keys.iter().flat_map(|key| world.declared_at(*key));
    let declared = declared.map(|(file, span)| Place { file, span }).collect();
    let scope = view.checked.model.scopes.get(view.file());
    let named = found.keys.iter().any(|key| matches!(key, Key::Thing { .. } | Key::Kind(_)));
    let thing = scope.filter(|_| named).and_then(|scope| scope.names.get(found.mention.name)).copied();
    Some(Meaning {
        span: found.mention.span,
        name: found.mention.name.to_owned(),
        role: found.mention.role,
        what: found.what,
        thing,
        declared,
    })
}

impl<'a> World<'a> {
    /// The name at a byte of a file; one that the byte lies in before one that ends there.
    pub(crate) fn at(&self, file: usize, at: usize) -> Option<Resolved<'a>> {
        let all = self.resolved(file);
        let mut touching: Vec<Resolved<'a>> = all
            .into_iter()
            .filter(|known| known.mention.span.start <= at && at <= known.mention.span.end)
            .collect();
        touching.sort_by_key(|known| known.mention.span.end <= at);
        touching.into_iter().next()
    }
}
