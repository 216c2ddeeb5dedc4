//! The card of a procedure as a page, also while its text has errors: then as far as it can be read, and it says which lines
//! are wrong.

use super::blocks;
use super::vehicle::{lowered_as_it_is, lowered_with, place};
use super::view::{View, short};
use dwell_card::graph::Way;
use dwell_check::finding::{Level, Place};
use dwell_check::lower::Lowered;
use dwell_check::program::Content;
use dwell_page::{Pieces, Vehicle, pieces};
use dwell_syntax::lines::Lines;
use dwell_syntax::tree::{DeclarationKind, Procedure, Span};
use std::collections::BTreeSet;

/// The most times that lines are left out to come to a text that can be read.
const MOST_TRIES: usize = 4;
/// The most mistakes that are told.
const MOST_TROUBLES: usize = 8;

/// What is asked for.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Wanted {
    /// The byte at which the cursor stands; none where it stands in another file.
    pub at: Option<usize>,
    /// The procedure to show where the cursor stands in none.
    pub procedure: Option<String>,
    /// The chosen variants and values. What the card does not know is left out.
    pub variants: Vec<(String, String)>,
}

/// A page with what an editor needs to go along with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Page {
    /// The name of the procedure.
    pub procedure: String,
    /// All procedures of the file, each with the place of its name.
    pub procedures: Vec<(String, Span)>,
    /// The page; none where nothing of the procedure can be read.
    pub pieces: Option<Pieces>,
    /// How far it is what the text says.
    pub state: State,
    /// What is wrong: the line, from 0, where it is in this file; and in words.
    pub troubles: Vec<(Option<usize>, String)>,
    /// The variants of the card.
    pub variants: Vec<Variant>,
    /// For each node that stands on the page the text that it comes from.
    pub places: Vec<(usize, Span)>,
    /// The node of the card that the cursor stands in.
    pub here: Option<usize>,
    /// The box of the chart that the cursor stands in, by its node.
    pub here_in_ways: Option<usize>,
}

/// How far a page is what its text says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum State {
    /// All of it: there is a card, and it can be carried out.
    Whole,
    /// All of it, but an error is open, so that there is no card to carry out.
    Errors,
    /// Without lines that cannot be read.
    Partly,
    /// Nothing of it can be read.
    Unreadable,
}

/// A variant that can be chosen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variant {
    /// Its name.
    pub name: String,
    /// Its values.
    pub values: Vec<String>,
    /// The one that is shown; none for all of them.
    pub chosen: Option<String>,
}

/// The page of the procedure at the cursor, else of the one that is named, else of the first of the file; nothing where it
/// declares none.
pub fn page(view: &View, wanted: &Wanted) -> Option<Page> {
    let all: Vec<&Procedure> = procedures(view);
    let named = |name: &String| all.iter().copied().find(|known| known.name.text == *name);
    let here = wanted.at.and_then(|at| blocks::procedure(view, at));
    let procedure =
        here.or_else(|| wanted.procedure.as_ref().and_then(named)).or_else(|| all.first().copied())?;
    let (state, lowered) = read(view, procedure);
    let mut page = Page {
        procedure: procedure.name.text.clone(),
        procedures: all.iter().map(|known| (known.name.text.clone(), known.name.span)).collect(),
        pieces: None,
        state,
        troubles: if state == State::Whole { Vec::new() } else { troubles(view, procedure) },
        variants: Vec::new(),
        places: Vec::new(),
        here: None,
        here_in_ways: None,
    };
    let Some(lowered) = lowered else { return Some(page) };
    let vehicle = Vehicle::as_far_as_known(&lowered.card, &wanted.variants);
    let made = pieces(&lowered.card, &vehicle);
    let axes = lowered.card.axes.iter().enumerate().map(|(at, axis)| Variant {
        name: axis.name.clone(),
        values: axis.values.clone(),
        chosen: vehicle.value(at).and_then(|value| axis.values.get(value).cloned()),
    });
    page.variants = axes.collect();
    let (on_card, in_ways) = (stand_on(&made.card), stand_on(&made.ways));
    let places = |nodes: &BTreeSet<usize>| -> Vec<(usize, Span)> {
        let own = |node: &usize| place(&lowered, *node).filter(|place| place.file == view.file());
        nodes.iter().filter_map(|node| Some((*node, own(node)?.span))).collect()
    };
    if let Some(at) = wanted.at.filter(|_| here.is_some()) {
        let at = first_letter(view.text(), at);
        let all = places(&(0..lowered.card.nodes.len()).collect());
        page.here = nearest(&lowered, &all, &on_card, at);
        page.here_in_ways = nearest(&lowered, &all, &in_ways, at);
    }
    page.places = places(&on_card.union(&in_ways).copied().collect());
    page.pieces = Some(made);
    Some(page)
}

fn procedures(view: &View) -> Vec<&Procedure> {
    let declared = view.source().into_iter().flat_map(|source| &source.tree.declarations);
    let procedures = declared.filter_map(|one| match &one.kind {
        DeclarationKind::Procedure(procedure) => Some(procedure.as_ref()),
        _ => None,
    });
    procedures.collect()
}

/// The procedure as far as it can be read. A line in it that cannot be read is left out, for what the parser makes of it may
/// have swallowed the line below.
fn read(view: &View, procedure: &Procedure) -> (State, Option<Lowered>) {
    let own = Place { file: view.file(), span: procedure.name.span };
    let compiled = view.checked.procedures.iter().find(|known| known.place == own);
    if let Some(compiled) = compiled.filter(|compiled| compiled.card.is_some()) {
        return (State::Whole, lowered_as_it_is(view, compiled));
    }
    if let Some(lowered) = without_what_is_torn(view, procedure) {
        return (State::Partly, Some(lowered));
    }
    match compiled.and_then(|compiled| lowered_as_it_is(view, compiled)) {
        Some(lowered) => (State::Errors, Some(lowered)),
        None => (State::Unreadable, None),
    }
}

/// The procedure without the lines of it that cannot be read; nothing where all can be, or where that does not help.
fn without_what_is_torn(view: &View, procedure: &Procedure) -> Option<Lowered> {
    let declared = view.source()?.tree.declarations.iter().map(|one| one.span);
    let declared = declared.into_iter().find(|span| span.holds(procedure.name.span))?;
    let mut text = view.text().to_owned();
    for _ in 0..MOST_TRIES {
        let read = Content::of(text.clone());
        let spans: Vec<Span> = read.slips.iter().map(|slip| slip.span).collect();
        if !spans.iter().any(|span| span.start >= declared.start && span.start <= declared.end) {
            return None;
        }
        text = without_lines(&text, &spans);
        if let Some((_, lowered)) = lowered_with(view, &procedure.name, text.clone()) {
            return Some(lowered);
        }
    }
    None
}

/// The text with blanks for what stands on the lines of these spans; braces that are closed or opened on other lines stay. So
/// all that follows stays at its place, and inside what it was inside of.
fn without_lines(text: &str, spans: &[Span]) -> String {
    let lines = Lines::of(text);
    let of = |span: &Span| lines.line(span.start)..=lines.line(span.end.max(span.start + 1) - 1);
    let bad: BTreeSet<usize> = spans.iter().flat_map(of).collect();
    let mut out = String::with_capacity(text.len());
    for (number, line) in text.split_inclusive('\n').enumerate() {
        if !bad.contains(&number) {
            out.push_str(line);
            continue;
        }
        let whole = line.matches('{').count() == line.matches('}').count();
        for letter in line.chars() {
            match letter {
                '\n' | '\r' => out.push(letter),
                '{' | '}' if !whole => out.push(letter),
                _ => out.extend(std::iter::repeat_n(' ', letter.len_utf8())),
            }
        }
    }
    out
}

/// What is wrong, but for what is wrong in another procedure of the file.
fn troubles(view: &View, procedure: &Procedure) -> Vec<(Option<usize>, String)> {
    let declared = view.source().into_iter().flat_map(|source| &source.tree.declarations);
    let others = declared.filter(|one| match &one.kind {
        DeclarationKind::Procedure(other) => other.name.span != procedure.name.span,
        _ => false,
    });
    let others: Vec<Span> = others.map(|one| one.span).collect();
    let elsewhere =
        |place: &Place| place.file == view.file() && others.iter().any(|span| span.holds(place.span));
    let errors = view.checked.findings.iter().filter(|finding| finding.level == Level::Error);
    let errors = errors.filter(|finding| !elsewhere(&finding.place));
    let told = errors.filter_map(|finding| {
        let source = view.other(finding.place.file)?;
        let line = source.lines.line(finding.place.span.start);
        Some(if finding.place.file == view.file() {
            (Some(line), finding.message.clone())
        } else {
            (None, format!("{}, line {}: {}", short(&source.path), line + 1, finding.message))
        })
    });
    told.take(MOST_TROUBLES).collect()
}

/// The nodes that stand on a page.
fn stand_on(html: &str) -> BTreeSet<usize> {
    let places = html.split("data-node=\"").skip(1);
    places.filter_map(|rest| rest.split_once('"')?.0.parse().ok()).collect()
}

/// The first letter of the line, for a byte that stands before it.
fn first_letter(text: &str, at: usize) -> usize {
    let (before, after) = text.split_at_checked(at).unwrap_or((text, ""));
    let start = before.rfind('\n').map_or(0, |end| end + 1);
    let blank = before.get(start..).is_some_and(|line| line.trim().is_empty());
    let blanks = after.len() - after.trim_start_matches([' ', '\t']).len();
    if blank { at + blanks } else { at }
}

/// The node on a page that a byte stands in: of a node that is not told, the next one that is. Else the last one before it.
fn nearest(lowered: &Lowered, all: &[(usize, Span)], shown: &BTreeSet<usize>, at: usize) -> Option<usize> {
    let inside = all.iter().filter(|(_, span)| span.start <= at && at <= span.end);
    let mut inside: Vec<&(usize, Span)> = inside.collect();
    inside.sort_by_key(|(node, span)| (span.end - span.start, !shown.contains(node), *node));
    let next = |node: usize| {
        let next = &lowered.card.nodes.get(node)?.next;
        let first = [Way::Yes, Way::Then].iter().find_map(|way| next.get(way));
        first.or_else(|| next.values().next()).copied()
    };
    for (node, span) in inside {
        let mut on = Some(*node);
        for _ in 0..all.len() {
            let Some(here) = on else { break };
            let within = all.iter().any(|(known, part)| *known == here && span.holds(*part));
            match here {
                _ if !within => break,
                _ if shown.contains(&here) => return Some(here),
                _ => on = next(here),
            }
        }
    }
    let before = all.iter().filter(|(node, span)| span.start <= at && shown.contains(node));
    before.max_by_key(|(node, span)| (span.start, std::cmp::Reverse(*node))).map(|(node, _)| *node)
}

#[cfg(test)]
mod tests;
