//! Several files together: what a name of one of them means, by what that file sees, and where that is declared.
//!
//! The files of a [`View`] come first, in the order of its program; then others that are known by their text alone. What a
//! file sees is settled as the checker settles it (a test holds the two together): its own names, then the prelude's, then
//! the kinds of quantity, then those of the files that it uses directly, in their order.

mod meaning;
mod resolve;
#[cfg(test)]
mod tests;

pub use meaning::{Meaning, meaning};

use super::mentions::{Mention, Role, What, Whose, mentions};
use super::view::View;
use dwell_check::model::{Scope, Thing};
use dwell_check::program::{Content, PRELUDE};
use dwell_syntax::tree::{DeclarationKind, Span};
use std::collections::HashMap;

/// A file that is known by its text alone.
#[derive(Clone, Copy, Debug)]
pub struct Further<'a> {
    /// Its path.
    pub path: &'a str,
    /// What is in it.
    pub content: &'a Content,
    /// The paths of the files that it uses directly, in the order of its `use` lines.
    pub uses: &'a [String],
}

/// What a name stands for: two names with the same key mean the same. Files are by their place in the [`World`].
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Key<'a> {
    /// Something declared.
    Thing { file: usize, name: &'a str },
    /// A verb of a handling.
    Verb { file: usize, handling: &'a str, name: &'a str },
    /// A state of a handling.
    State { file: usize, handling: &'a str, name: &'a str },
    /// A value of a variant or of positions.
    Value { file: usize, choice: &'a str, name: &'a str },
    /// A name of a procedure's own.
    Local { file: usize, procedure: usize, name: &'a str },
    /// An answer of a question of a procedure.
    Answer { file: usize, procedure: usize, question: &'a str, name: &'a str },
    /// A step of a procedure.
    Step { file: usize, procedure: usize, name: &'a str },
    /// A kind of quantity.
    Kind(&'a str),
    /// A file that is used.
    File(usize),
}

impl Key<'_> {
    /// The file that declares it; none for a kind.
    pub(crate) fn file(self) -> Option<usize> {
        match self {
            Key::Thing { file, .. }
            | Key::Verb { file, .. }
            | Key::State { file, .. }
            | Key::Value { file, .. }
            | Key::Local { file, .. }
            | Key::Answer { file, .. }
            | Key::Step { file, .. }
            | Key::File(file) => Some(file),
            Key::Kind(_) => None,
        }
    }
}

/// A name with what it means; no key where that is not known.
#[derive(Clone, Debug)]
pub(crate) struct Resolved<'a> {
    /// The name where it stands.
    pub(crate) mention: Mention<'a>,
    /// What it is.
    pub(crate) what: What,
    /// What it stands for: several for a verb of two handlings, or for a reading that is named like its quantity.
    pub(crate) keys: Vec<Key<'a>>,
}

/// One of the files.
struct Known<'a> {
    path: &'a str,
    content: &'a Content,
    /// The files that it uses, each with the `use` where that is known.
    uses: Vec<(usize, Option<Span>)>,
    /// What it declares: the first declaration of each name.
    names: HashMap<&'a str, usize>,
}

/// What a file sees under a name.
#[derive(Clone, Copy)]
pub(crate) enum Seen<'a> {
    /// A declaration: of which file, which one, and what it declares.
    Declared(usize, usize, &'a DeclarationKind),
    /// A kind of quantity.
    Kind,
}

/// Several files.
pub(crate) struct World<'a> {
    files: Vec<Known<'a>>,
    kinds: Option<&'a Scope>,
}

impl<'a> World<'a> {
    /// The files of a view, and others beside them. A path that the view has already is not taken again.
    pub(crate) fn of(view: &'a View, further: &[Further<'a>]) -> World<'a> {
        let program = &view.checked.program.files;
        let mut files: Vec<Known<'a>> = program
            .iter()
            .map(|source| Known {
                path: &source.path,
                content: &source.content,
                uses: source.uses.iter().map(|(file, span)| (*file, Some(*span))).collect(),
                names: declared(&source.content),
            })
            .collect();
        let mut places: HashMap<&str, usize> =
            files.iter().enumerate().map(|(place, file)| (file.path, place)).collect();
        let more: Vec<&Further<'a>> = further
            .iter()
            .filter(|file| {
                let next = places.len();
                let is_new = !places.contains_key(file.path);
                places.entry(file.path).or_insert(next);
                is_new
            })
            .collect();
        for file in more {
            let uses = file.uses.iter().filter_map(|path| Some((*places.get(path.as_str())?, None)));
            files.push(Known {
                path: file.path,
                content: file.content,
                uses: uses.collect(),
                names: declared(file.content),
            });
        }
        World { files, kinds: view.checked.model.scopes.first() }
    }

    /// How many files there are.
    pub(crate) fn count(&self) -> usize {
        self.files.len()
    }

    pub(crate) fn path(&self, file: usize) -> &'a str {
        self.files.get(file).map_or("", |known| known.path)
    }

    pub(crate) fn content(&self, file: usize) -> Option<&'a Content> {
        self.files.get(file).map(|known| known.content)
    }

    /// Whether a file comes with the program: nothing in it can be changed.
    pub(crate) fn is_prelude(&self, file: usize) -> bool {
        self.path(file) == PRELUDE
    }

    /// Whether one file sees the names of the other.
    pub(crate) fn sees(&self, file: usize, other: usize) -> bool {
        file == other
            || self.is_prelude(other)
            || self.files.get(file).is_some_and(|known| known.uses.iter().any(|(used, _)| *used == other))
    }

    /// The files that a file uses.
    pub(crate) fn uses(&self, file: usize) -> impl Iterator<Item = (usize, Option<Span>)> + '_ {
        self.files.get(file).into_iter().flat_map(|known| known.uses.iter().copied())
    }

    /// What a file sees under a name.
    pub(crate) fn seen(&self, file: usize, name: &str) -> Option<Seen<'a>> {
        let of = |file: usize| {
            let known = self.files.get(file)?;
            let declaration = *known.names.get(name)?;
            let kind = &known.content.tree.declarations.get(declaration)?.kind;
            Some(Seen::Declared(file, declaration, kind))
        };
        let is_kind = |scope: &Scope| matches!(scope.names.get(name), Some(Thing::Kind(_)));
        of(file)
            .or_else(|| of(0))
            .or_else(|| self.kinds.filter(|scope| is_kind(scope)).map(|_| Seen::Kind))
            .or_else(|| self.files.get(file)?.uses.iter().find_map(|(used, _)| of(*used)))
    }

    /// The handlings that some thing has together with this one, itself included: their verbs and states stand side by side.
    pub(crate) fn shared(&self, file: usize, handling: &str) -> Vec<(usize, &'a str)> {
        let mut all = Vec::new();
        for (at, known) in self.files.iter().enumerate() {
            for declaration in &known.content.tree.declarations {
                let names = match &declaration.kind {
                    DeclarationKind::Item(item) => item.handlings.as_slice(),
                    DeclarationKind::Tool(tool) => tool.handlings.as_slice(),
                    _ => continue,
                };
                let of_thing = self.handlings(at, Whose::Handlings(names));
                let of_thing: Vec<(usize, &str)> =
                    of_thing.into_iter().map(|(file, known)| (file, known.name.text.as_str())).collect();
                if of_thing.contains(&(file, handling)) {
                    all.extend(of_thing);
                }
            }
        }
        if let Some(Seen::Declared(file, _, DeclarationKind::Handling(own))) = self.seen(file, handling) {
            all.push((file, &own.name.text));
        }
        all
    }

    /// Every name of a file with what it means.
    pub(crate) fn resolved(&self, file: usize) -> Vec<Resolved<'a>> {
        let Some(content) = self.content(file) else { return Vec::new() };
        mentions(content).into_iter().map(|mention| self.resolve(file, mention)).collect()
    }

    /// Where something is declared: each place of that file, the first one of a name that a procedure gives itself.
    pub(crate) fn declared_at(&self, key: Key<'_>) -> Vec<(usize, Span)> {
        let Some(file) = key.file() else { return Vec::new() };
        if let Key::File(file) = key {
            return vec![(file, Span::default())];
        }
        let all = self.resolved(file);
        let places = all
            .iter()
            .filter(|known| known.mention.role == Role::Declares && known.keys.contains(&key))
            .map(|known| (file, known.mention.span));
        match key {
            Key::Verb { .. } => places.collect(),
            _ => places.take(1).collect(),
        }
    }
}

/// What each name is declared by first.
fn declared(content: &Content) -> HashMap<&str, usize> {
    let mut names = HashMap::new();
    for (place, declaration) in content.tree.declarations.iter().enumerate() {
        if let Some(name) = declaration.kind.name() {
            names.entry(name.text.as_str()).or_insert(place);
        }
    }
    names
}

/// What a declaration declares.
pub(crate) fn what(kind: &DeclarationKind) -> Option<What> {
    Some(match kind {
        DeclarationKind::Use(_) | DeclarationKind::Broken => return None,
        DeclarationKind::Handling(_) => What::Handling,
        DeclarationKind::Item(_) => What::Item,
        DeclarationKind::Quantity(_) => What::Quantity,
        DeclarationKind::Spec(_) => What::Spec,
        DeclarationKind::Table(_) => What::Table,
        DeclarationKind::Series(_) => What::Series,
        DeclarationKind::Tool(_) => What::Tool,
        DeclarationKind::Hazard(_) => What::Hazard,
        DeclarationKind::Variant(_) => What::Variant,
        DeclarationKind::Positions(_) => What::Positions,
        DeclarationKind::Procedure(_) => What::Procedure,
    })
}
