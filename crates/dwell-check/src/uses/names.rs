//! Declared names that nothing in the files checked together mentions.

use crate::finding::Place;
use crate::model::{Model, Thing};
use crate::program::Program;
use crate::trouble::Trouble;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::{Declaration, DeclarationKind, Name, Span};
use std::collections::HashSet;

/// Tells of every name of a checked file that is used nowhere. Procedures are there to be done, not to be named; and a file
/// without procedures that no other checked file uses is a store for files that are not looked at here.
pub(crate) fn unused(program: &Program, model: &Model, troubles: &mut Vec<Trouble>) {
    let used = mentioned(program, model);
    for (file, source) in program.files.iter().enumerate() {
        let has_procedure = source.tree.declarations.iter().any(|known| is_procedure(&known.kind));
        let serves =
            program.files.iter().any(|other| other.root && other.uses.iter().any(|(to, _)| *to == file));
        if !source.root || !(has_procedure || serves) || !source.slips.is_empty() {
            continue;
        }
        let scope = model.scopes.get(file);
        for declaration in &source.tree.declarations {
            let Some(name) = named(&declaration.kind) else { continue };
            let thing = scope.and_then(|scope| scope.names.get(&name.text)).copied();
            let Some(thing) = thing.filter(|thing| !used.contains(thing) && leads_somewhere(*thing)) else {
                continue;
            };
            troubles.push(Trouble::NameUnused {
                place: Place { file, span: name.span },
                name: name.text.clone(),
                what: thing.what(),
            });
        }
    }
}

/// Every thing of a checked file that some file mentions outside its own declaration: any word that means it where it stands. A
/// step or a state of the same name counts too, so that nothing is called unused that is not.
fn mentioned(program: &Program, model: &Model) -> HashSet<Thing> {
    let mut used = HashSet::new();
    let root = |file: usize| program.files.get(file).is_some_and(|source| source.root);
    for (file, source) in program.files.iter().enumerate() {
        // Nobody else sees what a checked file declares.
        if !source.root && !source.uses.iter().any(|(to, _)| root(*to)) {
            continue;
        }
        let Some(scope) = model.scopes.get(file) else { continue };
        for token in lex(&source.text).tokens {
            if !matches!(token.kind, TokenKind::Word | TokenKind::LineWord) {
                continue;
            }
            let word = source.text.get(token.span.start..token.span.end).unwrap_or_default();
            let Some(thing) = scope.names.get(word) else { continue };
            if !used.contains(thing) && !within_its_own(&source.tree.declarations, word, token.span) {
                used.insert(*thing);
            }
        }
    }
    used
}

/// Whether a word stands inside the declaration that it names.
fn within_its_own(declarations: &[Declaration], word: &str, span: Span) -> bool {
    let after = declarations.partition_point(|known| known.span.start <= span.start);
    let owner = after.checked_sub(1).and_then(|at| declarations.get(at));
    owner.is_some_and(|owner| {
        owner.span.holds(span) && named(&owner.kind).is_some_and(|name| name.text == word)
    })
}

fn is_procedure(kind: &DeclarationKind) -> bool {
    matches!(kind, DeclarationKind::Procedure(_))
}

/// A thing whose kind is not known is no longer in the model, and was told of already.
fn leads_somewhere(thing: Thing) -> bool {
    !matches!(
        thing,
        Thing::Quantity(usize::MAX)
            | Thing::Spec(usize::MAX)
            | Thing::Table(usize::MAX)
            | Thing::Series(usize::MAX)
    )
}

/// The name that a declaration gives, if it is one to be used elsewhere.
fn named(kind: &DeclarationKind) -> Option<&Name> {
    kind.name().filter(|_| !is_procedure(kind))
}
