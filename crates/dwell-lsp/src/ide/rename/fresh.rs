//! Whether a name can be given: that it is one, and that nothing has it that is seen where it would stand.

use super::declares;
use crate::ide::mentions::{What, locals, steps};
use crate::ide::view::short;
use crate::ide::world::{Key, Resolved, Seen, World, what};
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::parse::parse;
use dwell_syntax::tree::{DeclarationKind, Name, Part, StatementKind};
use dwell_syntax::words::Word;

/// Whether this is a name, and for a verb one that a statement can begin with.
pub(super) fn well_formed(new: &str, verb: bool) -> Result<(), String> {
    if new.is_empty() {
        return Err("a name has at least one letter".to_owned());
    }
    if Word::of(new).is_some() {
        return Err(format!("`{new}` is a word of the language: choose another name"));
    }
    let is_unit = lex(&format!("1 {new}")).tokens.iter().any(|token| {
        token.kind == TokenKind::Unit && (token.span.start, token.span.end) == (2, 2 + new.len())
    });
    if is_unit {
        return Err(format!("`{new}` is a unit: choose another name"));
    }
    if new.chars().any(char::is_uppercase) {
        return Err(format!(
            "names are written small, with `-` between their words: `{}`",
            new.to_lowercase().replace([' ', '_'], "-")
        ));
    }
    let parsed = parse(&format!("item {new}: x\n"));
    let reads = match parsed.tree.declarations.as_slice() {
        [one] => matches!(&one.kind, DeclarationKind::Item(item) if item.name.text == new),
        _ => false,
    };
    if !reads || !parsed.slips.is_empty() || !parsed.trivia.comments.is_empty() {
        return Err(format!(
            "`{new}` is no name: a name begins with a letter and has letters, digits and `-` between them"
        ));
    }
    if verb && !begins_a_statement(new) {
        return Err(format!("`{new}` is too near to a word that begins a statement: choose another verb"));
    }
    Ok(())
}

/// Whether a text reads as a verb with its item.
fn begins_a_statement(verb: &str) -> bool {
    let parsed = parse(&format!("procedure p {{\nstep s {{\n{verb} thing\n}}\n}}\n"));
    let Some(DeclarationKind::Procedure(procedure)) = parsed.tree.declarations.first().map(|one| &one.kind)
    else {
        return false;
    };
    parsed.slips.is_empty()
        && procedure.parts.iter().any(|part| {
            match part {
            Part::Step(step) => step.block.statements.iter().any(|statement| {
                matches!(&statement.kind, StatementKind::Handle(handle) if handle.verb.text == verb)
            }),
            _ => false,
        }
        })
}

/// Whether nothing has the name already that could be meant where the renamed thing is named.
pub(super) fn not_taken(
    world: &World<'_>,
    key: Key<'_>,
    new: &str,
    all: &[(usize, Resolved<'_>)],
) -> Result<(), String> {
    match key {
        Key::Thing { file, name } => {
            let is_procedure =
                matches!(world.seen(file, name), Some(Seen::Declared(_, _, DeclarationKind::Procedure(_))));
            for seer in (0..world.count()).filter(|seer| world.sees(*seer, file)) {
                thing(world, seer, new)?;
                own(world, seer, None, new, is_procedure)?;
            }
        }
        Key::Local { file, procedure, .. } => {
            thing(world, file, new)?;
            own(world, file, Some(procedure), new, true)?;
            // The cases of procedures that perform this one name it too.
            for (at, known) in all.iter().filter(|(_, known)| known.keys.contains(&key)) {
                thing(world, *at, new)?;
                own(world, *at, Some(known.mention.declaration), new, false)?;
            }
        }
        Key::Step { file, procedure, .. } => own(world, file, Some(procedure), new, true)?,
        Key::Answer { .. } | Key::Verb { .. } | Key::State { .. } | Key::Value { .. } => {
            member(world, key, new, all)?;
        }
        Key::Kind(_) | Key::File(_) => {}
    }
    Ok(())
}

/// A thing that a file sees.
fn thing(world: &World<'_>, file: usize, new: &str) -> Result<(), String> {
    match world.seen(file, new) {
        None => Ok(()),
        Some(Seen::Kind) => Err(format!("`{new}` is a kind of quantity: choose another name")),
        Some(Seen::Declared(at, _, kind)) => {
            let whose = if world.is_prelude(at) {
                "that comes with the program".to_owned()
            } else {
                format!("declared in {}", short(world.path(at)))
            };
            Err(format!("`{new}` is taken: {} {whose} has that name", said(what(kind))))
        }
    }
}

/// The names that procedures of a file give themselves: of one of them, or of all.
fn own(
    world: &World<'_>,
    file: usize,
    only: Option<usize>,
    new: &str,
    also_steps: bool,
) -> Result<(), String> {
    let Some(content) = world.content(file) else { return Ok(()) };
    for (place, declaration) in content.tree.declarations.iter().enumerate() {
        let DeclarationKind::Procedure(procedure) = &declaration.kind else { continue };
        if only.is_some_and(|only| only != place) {
            continue;
        }
        let local = locals(procedure).into_iter().map(|local| local.name);
        let steps = steps(procedure).into_iter().filter(|_| also_steps);
        if let Some(taken) = local.chain(steps).find(|name: &&Name| name.text == new) {
            let (line, _) = content.lines.place(&content.text, taken.span.start);
            return Err(format!(
                "`{new}` is taken: the procedure {} names something so in line {line} of {}",
                procedure.name.text,
                short(world.path(file))
            ));
        }
    }
    Ok(())
}

/// A verb, a state, a value or an answer beside this one: of the same list, or of another handling of the same thing.
fn member(world: &World<'_>, key: Key<'_>, new: &str, all: &[(usize, Resolved<'_>)]) -> Result<(), String> {
    let beside = |other: Key<'_>| match (key, other) {
        (
            Key::Answer { file, procedure, question, .. },
            Key::Answer { file: f, procedure: p, question: q, .. },
        ) => (file, procedure, question) == (f, p, q),
        (Key::Value { file, choice, .. }, Key::Value { file: f, choice: c, .. }) => (file, choice) == (f, c),
        (
            Key::Verb { file, handling, .. } | Key::State { file, handling, .. },
            Key::Verb { file: f, handling: h, .. } | Key::State { file: f, handling: h, .. },
        ) => world.shared(file, handling).contains(&(f, h)),
        _ => false,
    };
    let taken = all.iter().any(|(_, known)| {
        declares(known) && known.mention.name == new && known.keys.iter().any(|other| beside(*other))
    });
    if taken {
        return Err(format!("`{new}` is taken: it stands beside this one already"));
    }
    Ok(())
}

/// What something is, with its article.
fn said(what: Option<What>) -> &'static str {
    match what {
        Some(What::Handling) => "a handling",
        Some(What::Item) => "an item",
        Some(What::Tool) => "a tool",
        Some(What::Quantity) => "a quantity",
        Some(What::Spec) => "a spec",
        Some(What::Table) => "a table",
        Some(What::Series) => "a series",
        Some(What::Hazard) => "a hazard",
        Some(What::Variant) => "a variant",
        Some(What::Positions) => "a set of positions",
        Some(What::Procedure) => "a procedure",
        _ => "something",
    }
}
