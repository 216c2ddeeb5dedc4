//! What one file sees: its own names, those of the files that it uses directly, the prelude's, and the kinds.

use std::collections::HashMap;

use dwell_quantity::Kind;
use dwell_syntax::tree::Name;

use crate::finding::Place;
use crate::model::{Scope, Thing};
use crate::program::{Program, SourceFile};
use crate::trouble::Trouble;

/// A declared name and the thing it names.
pub(crate) type Named = (Name, Thing);

/// What a name means so far, and where it was declared; kinds are declared nowhere.
struct Seen {
    thing: Thing,
    place: Option<Place>,
}

/// The scope of every file. `declared` has the names that each file declares, by its place in the program. A name that
/// a file declares while it is taken already is reported there; one that two used files declare, at the later `use`.
pub(crate) fn scopes(program: &Program, declared: &[Vec<Named>], troubles: &mut Vec<Trouble>) -> Vec<Scope> {
    (0..program.files.len()).map(|file| scope(program, declared, file, troubles)).collect()
}

fn scope(program: &Program, declared: &[Vec<Named>], file: usize, troubles: &mut Vec<Trouble>) -> Scope {
    let mut seen: HashMap<String, Seen> = Kind::all()
        .map(|kind| (kind.name().to_owned(), Seen { thing: Thing::Kind(kind), place: None }))
        .collect();
    for (other, names) in declared.iter().enumerate().take(1).filter(|(other, _)| *other != file) {
        for (name, thing) in names {
            let place = Some(Place { file: other, span: name.span });
            seen.insert(name.text.clone(), Seen { thing: *thing, place });
        }
    }
    for (used, at) in used_once(program, file) {
        for (name, thing) in declared.get(used).into_iter().flatten() {
            let place = Place { file: used, span: name.span };
            match seen.get(&name.text) {
                None => {
                    seen.insert(name.text.clone(), Seen { thing: *thing, place: Some(place) });
                }
                Some(Seen { place: Some(first), .. })
                    if first.file != 0 && strangers(program, first.file, used) =>
                {
                    let place = Place { file, span: at };
                    troubles.push(Trouble::DeclaredTwice { place, name: name.text.clone(), first: *first });
                }
                // Reported where the used file declares it.
                Some(_) => {}
            }
        }
    }
    for (name, thing) in declared.get(file).into_iter().flatten() {
        let place = Place { file, span: name.span };
        let before = seen.get(&name.text);
        if let Some(before) = before {
            let first = before.place.unwrap_or(place);
            troubles.push(Trouble::DeclaredTwice { place, name: name.text.clone(), first });
            if before.place.is_some_and(|first| first.file == file) {
                continue;
            }
        }
        seen.insert(name.text.clone(), Seen { thing: *thing, place: Some(place) });
    }
    Scope { names: seen.into_iter().map(|(name, seen)| (name, seen.thing)).collect() }
}

/// The files that a file uses, each once, with the place of its first `use`; never itself.
fn used_once(program: &Program, file: usize) -> Vec<(usize, dwell_syntax::tree::Span)> {
    let mut once: Vec<(usize, dwell_syntax::tree::Span)> = Vec::new();
    for (used, span) in program.files.get(file).map_or(&[][..], |source| &source.uses) {
        if *used != file && !once.iter().any(|(known, _)| known == used) {
            once.push((*used, *span));
        }
    }
    once
}

/// Whether neither of two different files uses the other; else a clash of their names is reported in one of them.
fn strangers(program: &Program, one: usize, other: usize) -> bool {
    let uses = |from: usize, to: usize| {
        let source: Option<&SourceFile> = program.files.get(from);
        source.is_some_and(|source| source.uses.iter().any(|(used, _)| *used == to))
    };
    one != other && !uses(one, other) && !uses(other, one)
}
