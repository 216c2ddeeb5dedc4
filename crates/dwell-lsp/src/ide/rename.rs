//! A name written anew everywhere that it is named: what may be renamed, to what, and the edits in every file.

mod fresh;
#[cfg(test)]
mod tests;

use super::layout::Edit;
use super::mentions::{Role, Sort, What};
use super::view::{View, short};
use super::world::{Further, Key, Resolved, World};
use dwell_check::program::Content;
use dwell_syntax::lex::{TokenKind, lex};
use dwell_syntax::tree::Span;
use dwell_syntax::words::Word;
use rayon::iter::{IntoParallelIterator, ParallelIterator};
use std::collections::{BTreeMap, HashSet};

/// The name at a byte, if it can be renamed: where it stands and what it is.
///
/// # Errors
/// A sentence for the writer: why nothing here can be renamed.
pub fn prepare(view: &View, at: usize) -> Result<(Span, String), String> {
    let world = World::of(view, &[]);
    let found = named(&world, view, at)?;
    let all = everywhere(&world);
    renamable(&world, &found, &meant(&all, &found))?;
    Ok((found.mention.span, found.mention.name.to_owned()))
}

/// The edits that write `new` for the name at a byte, for each file in order of place: in this file, in those that it uses,
/// and in the others. Of a text only what stands between braces is a name. None where the name is that already.
///
/// # Errors
/// A sentence for the writer: why it cannot be renamed, or not so.
pub fn rename(
    view: &View,
    at: usize,
    new: &str,
    further: &[Further<'_>],
) -> Result<BTreeMap<String, Vec<Edit>>, String> {
    let world = World::of(view, further);
    let found = named(&world, view, at)?;
    let all = everywhere(&world);
    let keys = meant(&all, &found);
    renamable(&world, &found, &keys)?;
    let old = found.mention.name;
    if new == old {
        return Ok(BTreeMap::new());
    }
    fresh::well_formed(new, keys.iter().any(|key| matches!(key, Key::Verb { .. })))?;
    for key in &keys {
        fresh::not_taken(&world, *key, new, &all)?;
    }
    let mut edits: BTreeMap<String, Vec<Edit>> = BTreeMap::new();
    let mut touched: HashSet<usize> = HashSet::new();
    for (file, known) in &all {
        if known.keys.iter().any(|key| keys.contains(key)) {
            touched.insert(*file);
            let edit = Edit { span: known.mention.span, text: written(known, &keys, new) };
            edits.entry(world.path(*file).to_owned()).or_default().push(edit);
        }
    }
    let declared: Vec<usize> = keys.iter().filter_map(|key| key.file()).collect();
    for file in 0..world.count() {
        let concerned = touched.contains(&file) || declared.iter().any(|at| world.sees(file, *at));
        if let (true, Some(content)) = (concerned, world.content(file)) {
            let own = of_file(&all, file);
            nothing_unread(&world, file, content, old, own)?;
            nothing_caught(&world, file, content, new, own)?;
        }
    }
    Ok(edits)
}

/// What stands there afterwards. A reading that is named like its quantity keeps the other of the two.
fn written(known: &Resolved<'_>, keys: &HashSet<Key<'_>>, new: &str) -> String {
    let old = known.mention.name;
    let has = |local: bool| {
        known.keys.iter().any(|key| matches!(key, Key::Local { .. }) == local && keys.contains(key))
    };
    match known.mention.sort {
        Sort::Like if has(true) && !has(false) => format!("{new}: {old}"),
        Sort::Like if has(false) && !has(true) => format!("{old}: {new}"),
        _ => new.to_owned(),
    }
}

/// Every name of every file, file after file.
fn everywhere<'a>(world: &World<'a>) -> Vec<(usize, Resolved<'a>)> {
    let each = (0..world.count()).into_par_iter().map(|file| world.resolved(file)).collect::<Vec<_>>();
    let each = each.into_iter().enumerate();
    each.flat_map(|(file, all)| all.into_iter().map(move |known| (file, known))).collect()
}

/// Those of one file.
fn of_file<'n, 'a>(all: &'n [(usize, Resolved<'a>)], file: usize) -> &'n [(usize, Resolved<'a>)] {
    let from = all.partition_point(|(of, _)| *of < file);
    let to = all.partition_point(|(of, _)| *of <= file);
    all.get(from..to).unwrap_or_default()
}

fn named<'a>(world: &World<'a>, view: &View, at: usize) -> Result<Resolved<'a>, String> {
    world.at(view.file(), at).ok_or_else(|| {
        "nothing here has a name of its own: put the cursor on the name of a thing, a step, a reading"
            .to_owned()
    })
}

/// All that has to get the new name together with what was asked for: a verb in each of the handlings that one thing has it
/// from, a quantity and the reading that is kept by its name.
fn meant<'a>(all: &[(usize, Resolved<'a>)], found: &Resolved<'a>) -> HashSet<Key<'a>> {
    let asked = found.keys.iter().copied();
    let mut keys: HashSet<Key<'a>> = match found.mention.sort {
        Sort::Like => asked.filter(|key| matches!(key, Key::Local { .. })).collect(),
        _ => asked.collect(),
    };
    loop {
        let before = keys.len();
        for (_, known) in all {
            let joined = known.keys.len() > 1 && !matches!(known.mention.sort, Sort::Like);
            if joined && known.keys.iter().any(|key| keys.contains(key)) {
                keys.extend(&known.keys);
            }
        }
        if keys.len() == before {
            return keys;
        }
    }
}

/// Whether what is named is the writer's to rename.
fn renamable(world: &World<'_>, found: &Resolved<'_>, keys: &HashSet<Key<'_>>) -> Result<(), String> {
    let name = found.mention.name;
    let fixed = match found.what {
        What::Unit => {
            Some(format!("`{name}` is a unit: it is not renamed, its amount is written in another one"))
        }
        What::Rule => Some(format!("`{name}` is a rule of the checker: its name is the same everywhere")),
        What::Outcome | What::Word => Some(format!("`{name}` is a word of the language here")),
        What::File => {
            Some("a file is renamed where it lies; then its `use` lines are written anew".to_owned())
        }
        What::Kind => Some(format!("`{name}` is a kind of quantity that the language knows")),
        _ if name.bytes().all(|byte| byte.is_ascii_digit()) => {
            Some(format!("`{name}` is a number: it is changed where it is declared"))
        }
        _ if keys.is_empty() => {
            Some(format!("nothing that is visible here declares `{name}`: declare it first, or correct it"))
        }
        _ => None,
    };
    if let Some(why) = fixed {
        return Err(why);
    }
    for key in keys {
        if let Key::Kind(kind) = key {
            return Err(format!(
                "`{kind}` is a kind of quantity that the language knows, and what is kept is named by it"
            ));
        }
        if key.file().is_some_and(|file| world.is_prelude(file)) {
            return Err(format!(
                "`{name}` comes with the program: declare one of your own under the name that you want"
            ));
        }
    }
    Ok(())
}

/// Whether every word of that name in a file could be read: one in a text with a slip may be meant too.
fn nothing_unread(
    world: &World<'_>,
    file: usize,
    content: &Content,
    old: &str,
    own: &[(usize, Resolved<'_>)],
) -> Result<(), String> {
    if content.slips.is_empty() || Word::of(old).is_some() {
        return Ok(());
    }
    let known: HashSet<Span> = own.iter().map(|(_, known)| known.mention.span).collect();
    let unread = lex(&content.text).tokens.into_iter().find(|token| {
        matches!(token.kind, TokenKind::Word | TokenKind::LineWord)
            && content.text.get(token.span.start..token.span.end) == Some(old)
            && !known.contains(&token.span)
    });
    let Some(unread) = unread else { return Ok(()) };
    let (line, _) = content.lines.place(&content.text, unread.span.start);
    Err(format!(
        "`{old}` stands in line {line} of {}, which cannot be read: mend that line first",
        short(world.path(file))
    ))
}

/// Whether no name that means nothing yet would mean the renamed thing afterwards.
fn nothing_caught(
    world: &World<'_>,
    file: usize,
    content: &Content,
    new: &str,
    own: &[(usize, Resolved<'_>)],
) -> Result<(), String> {
    let is_caught = |known: &Resolved<'_>| {
        known.keys.is_empty() && known.mention.name == new && !matches!(known.mention.sort, Sort::Fixed(_))
    };
    let caught = own.iter().find(|(_, known)| is_caught(known));
    let Some((_, caught)) = caught else { return Ok(()) };
    let (line, _) = content.lines.place(&content.text, caught.mention.span.start);
    Err(format!(
        "`{new}` stands in line {line} of {} already, where nothing declares it: it would mean this from then on",
        short(world.path(file))
    ))
}

/// Whether a mention declares something.
fn declares(known: &Resolved<'_>) -> bool {
    known.mention.role == Role::Declares
}
