//! The state of the vehicle at a place of a procedure: what each thing may be in, what is owed, which hazards are there.
//!
//! It is what the checker's own analysis holds possible before the statement at the cursor.

use super::block::Block;
use super::blocks;
use super::view::View;
use dwell_card::graph::Act;
use dwell_card::meaning::States;
use dwell_card::vehicle::Level;
use dwell_check::check::Compiled;
use dwell_check::finding::Place;
use dwell_check::flow::{Spot, Standing, standing};
use dwell_check::lower::{Lowered, lower};
use dwell_check::program::Content;
use dwell_check::resolve::resolve;
use dwell_syntax::tree::{DeclarationKind, Name, Procedure, Span};
use std::sync::Arc;

/// The state of the vehicle, once for each group of vehicles for which it is the same.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Here {
    /// The groups; one where no variant makes a difference.
    pub groups: Vec<Group>,
}

/// The state of some vehicles.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Group {
    /// Which, in words: "engine-family k9"; empty for all.
    pub vehicles: String,
    /// Each thing, those first that are not as usual.
    pub things: Vec<Thing>,
    /// The hazards that may be there.
    pub hazards: Vec<Danger>,
}

/// A thing that the procedure touches.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Thing {
    /// What people call it.
    pub label: String,
    /// The item or tool, by its place in the model.
    pub item: usize,
    /// The states that it may be in.
    pub states: Vec<String>,
    /// Whether it is in its normal state.
    pub usual: bool,
    /// What must come yet, where it may not stay so.
    pub owed: Option<Owed>,
}

/// What becomes of something that may not stay as it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Owed {
    /// `restore` puts it back.
    ByRestore,
    /// `restore` does not: it must be put back before.
    Before,
}

/// A hazard that may be there.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Danger {
    /// Its name.
    pub name: String,
    /// Its signal word.
    pub level: Level,
    /// Whether a caution covers it.
    pub covered: bool,
}

/// The state of the vehicle before the statement at a byte; nothing outside of steps, and where nothing leads to.
pub fn here(view: &View, at: usize) -> Option<Here> {
    let (lowered, standing) = stands(view, at)?;
    Some(Here { groups: standing.iter().map(|standing| group(&lowered, standing)).collect() })
}

/// The lowered procedure at a byte, and what stands there.
pub(crate) fn stands(view: &View, at: usize) -> Option<(Lowered, Vec<Standing>)> {
    let procedure = blocks::procedure(view, at)?;
    let (procedure, lowered) = lowered(view, procedure, at)?;
    let spots: Vec<Spot> = places(&procedure, at)
        .into_iter()
        .map(|(span, after)| Spot { nodes: nodes(&lowered, view.file(), span), after })
        .filter(|spot| !spot.nodes.is_empty())
        .collect();
    let standing = standing(&lowered, &spots).into_iter().find(|standing| !standing.is_empty())?;
    Some((lowered, standing))
}

/// What is owed at the end of each step of the procedures of this file that have no hole.
pub(crate) fn at_ends_of_steps(view: &View, compiled: &Compiled) -> Vec<(Span, Here)> {
    let Some(procedure) = blocks::procedure(view, compiled.place.span.start) else { return Vec::new() };
    let Some(lowered) = lowered_as_it_is(view, compiled) else { return Vec::new() };
    let steps: Vec<Span> = blocks::steps(procedure).map(|step| step.span).collect();
    let spots: Vec<Spot> =
        steps.iter().map(|span| Spot { nodes: nodes(&lowered, view.file(), *span), after: true }).collect();
    let standing = standing(&lowered, &spots);
    let all = steps.into_iter().zip(standing);
    all.map(|(span, standing)| {
        (span, Here { groups: standing.iter().map(|standing| group(&lowered, standing)).collect() })
    })
    .collect()
}

/// The procedure lowered as it stands.
pub(crate) fn lowered_as_it_is(view: &View, compiled: &Compiled) -> Option<Lowered> {
    let (program, model) = (&view.checked.program, &view.checked.model);
    let index = model.procedures.iter().position(|head| head.place == compiled.place)?;
    lower(program, model, index, &mut Vec::new())
}

/// The procedure lowered, with its tree: as it stands or, where it cannot be read, without what is being typed on the line.
fn lowered(view: &View, procedure: &Procedure, at: usize) -> Option<(Procedure, Lowered)> {
    let name = &procedure.name;
    let place = Place { file: view.file(), span: name.span };
    let known = view.checked.procedures.iter().find(|compiled| compiled.place == place);
    if let Some(lowered) = known.and_then(|compiled| lowered_as_it_is(view, compiled)) {
        return Some((procedure.clone(), lowered));
    }
    lowered_with(view, name, without_the_line(view.text(), at))
}

/// The procedure of this name with its tree, lowered from another text of the file, in which it stands at the same place.
pub(crate) fn lowered_with(view: &View, name: &Name, text: String) -> Option<(Procedure, Lowered)> {
    let mut program = view.checked.program.clone();
    let source = program.files.get_mut(view.file())?;
    source.content = Arc::new(Content::of(text));
    let declared = source.tree.declarations.iter().find_map(|declared| match &declared.kind {
        DeclarationKind::Procedure(one) if one.name == *name => Some(one.as_ref().clone()),
        _ => None,
    })?;
    let model = resolve(&program, &mut Vec::new());
    let place = Place { file: view.file(), span: name.span };
    let index = model.procedures.iter().position(|head| head.place == place)?;
    Some((declared, lower(&program, &model, index, &mut Vec::new())?))
}

/// The text with blanks for what stands on the line around a byte, up to the next braces.
fn without_the_line(text: &str, at: usize) -> String {
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    let start = before.rfind(['\n', '{', '}']).map_or(0, |place| place + 1);
    let end = after.find(['\n', '{', '}']).map_or(text.len(), |place| at + place);
    let blanks = " ".repeat(end.saturating_sub(start));
    [text.get(..start), Some(blanks.as_str()), text.get(end..)].into_iter().flatten().collect()
}

/// The texts whose nodes tell what is so at a byte, the nearest first, each with whether what is after it is asked.
fn places(procedure: &Procedure, at: usize) -> Vec<(Span, bool)> {
    let mut places = Vec::new();
    for (of, block) in blocks::around(procedure, at).into_iter().rev() {
        let statements = &block.statements;
        let next = statements.iter().filter(|one| one.span.end >= at).map(|one| (one.span, false));
        let before = statements.iter().rev().filter(|one| one.span.end < at).map(|one| (one.span, true));
        // A statement that the byte stands in comes first; else what was before is nearest.
        let (inside, later): (Vec<_>, Vec<_>) = next.partition(|(span, _)| span.start <= at);
        places.extend(inside.into_iter().chain(later.into_iter().take(1)).chain(before.take(1)));
        places.extend(of.map(|statement| (statement.span, false)));
    }
    places.extend(
        blocks::steps(procedure)
            .map(|step| step.span)
            .filter(|span| span.start <= at && at < span.end)
            .map(|span| (span, false)),
    );
    places
}

/// The text of a node; what is performed belongs to the text that performs it.
pub(crate) fn place(lowered: &Lowered, node: usize) -> Option<Place> {
    let mut place = lowered.places.get(node).copied()?;
    let mut frame = lowered.card.nodes.get(node)?.frame;
    while frame != 0 {
        place = lowered.frame_places.get(frame).copied()?;
        frame = lowered.card.frames.get(frame)?.within?;
    }
    Some(place)
}

/// The nodes of a text.
fn nodes(lowered: &Lowered, file: usize, span: Span) -> Vec<usize> {
    let inside = |place: Place| place.file == file && span.holds(place.span);
    (0..lowered.card.nodes.len()).filter(|node| place(lowered, *node).is_some_and(inside)).collect()
}

fn group(lowered: &Lowered, standing: &Standing) -> Group {
    let card = &lowered.card;
    let mut things: Vec<Thing> = card
        .slots
        .iter()
        .zip(&standing.slots)
        .enumerate()
        .map(|(place, (slot, now))| Thing {
            label: slot.label.clone(),
            item: lowered.slot_items.get(place).copied().unwrap_or_default(),
            states: now.iter().filter_map(|state| slot.states.get(state).cloned()).collect(),
            usual: *now == States::only(0),
            owed: standing.owed.contains(&place).then(|| owed(lowered, place, *now)),
        })
        .collect();
    things.sort_by_key(|thing| (thing.owed.is_none(), thing.usual));
    let hazard = |(hazard, covered): &(usize, bool)| {
        let known = card.hazards.get(*hazard)?;
        Some(Danger { name: known.name.clone(), level: known.level, covered: *covered })
    };
    let mut hazards: Vec<Danger> = standing.hazards.iter().filter_map(hazard).collect();
    hazards.sort_by(|one, other| (one.covered, other.level).cmp(&(other.covered, one.level)));
    Group { vehicles: vehicles(lowered, standing), things, hazards }
}

/// Whether a line of `restore` takes a slot out of one of these states.
fn owed(lowered: &Lowered, slot: usize, now: States) -> Owed {
    let puts_back = lowered.card.nodes.iter().any(|node| match &node.act {
        Act::Work(work) if work.if_owed && node.frame == 0 => {
            work.moves.iter().chain(&work.brings).any(|step| {
                step.slot == slot && (step.from.is_empty() || !States::these(&step.from).and(now).is_empty())
            })
        }
        _ => false,
    });
    if puts_back { Owed::ByRestore } else { Owed::Before }
}

/// The vehicles in words.
fn vehicles(lowered: &Lowered, standing: &Standing) -> String {
    let axis = |(axis, values): &(usize, Vec<usize>)| {
        let axis = lowered.card.axes.get(*axis)?;
        let values = values.iter().filter_map(|value| axis.values.get(*value).map(String::as_str));
        Some(format!("{} {}", axis.name, values.collect::<Vec<_>>().join(", ")))
    };
    let sets = standing.vehicles.iter().map(|set| {
        let axes: Vec<String> = set.iter().filter_map(axis).collect();
        axes.join(" with ")
    });
    sets.collect::<Vec<_>>().join("; or ")
}

/// The state of the vehicle as it is shown.
pub fn shown(here: &Here) -> Vec<Block> {
    let mut blocks = vec![Block::Title("Before this:".to_owned())];
    for group in &here.groups {
        if !group.vehicles.is_empty() {
            blocks.push(Block::Prose(format!("With {}:", group.vehicles)));
        }
        let changed: Vec<&Thing> = group.things.iter().filter(|thing| !thing.usual).collect();
        let width =
            |text: fn(&Thing) -> String| changed.iter().map(|thing| text(thing).chars().count()).max();
        let (label, states) = (|thing: &Thing| thing.label.clone(), words as fn(&Thing) -> String);
        let (wide, wider) = (width(label).unwrap_or_default(), width(states).unwrap_or_default());
        let line = |thing: &&Thing| {
            let owed = match thing.owed {
                Some(Owed::ByRestore) => "owed, restore puts it back",
                Some(Owed::Before) => "owed, restore does not put it back",
                None => "",
            };
            format!("{:wide$}  {:wider$}  {owed}", thing.label, words(thing)).trim_end().to_owned()
        };
        if !changed.is_empty() {
            blocks.push(Block::Drawn(changed.iter().map(line).collect::<Vec<_>>().join("\n")));
        }
        let usual: Vec<String> = group
            .things
            .iter()
            .filter(|thing| thing.usual)
            .map(|thing| format!("{} {}", thing.label, words(thing)))
            .collect();
        if !usual.is_empty() {
            blocks.push(Block::Prose(format!("As usual: {}.", usual.join(", "))));
        }
        blocks.extend(group.hazards.iter().map(|hazard| {
            let covered = if hazard.covered { "covered by a caution" } else { "no caution covers it" };
            Block::Prose(format!("{}: {} ({covered}).", hazard.level.word(), plain(&hazard.name)))
        }));
    }
    blocks
}

/// The states of a thing: "out or tight".
fn words(thing: &Thing) -> String {
    thing.states.iter().map(|state| plain(state)).collect::<Vec<_>>().join(" or ")
}

/// A name with blanks for its hyphens.
fn plain(name: &str) -> String {
    name.replace('-', " ")
}

#[cfg(test)]
mod tests;
