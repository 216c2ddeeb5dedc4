//! Items: how they are handled, where they are, and what their lines say; the lines of their handlings hold for them.

use dwell_quantity::Kind;
use dwell_syntax::tree::{DeclarationKind, Line, LineKind, Name};

use super::Site;
use super::known::told;
use super::line::{Lines, Owner, misplaced, positions};
use crate::finding::Place;
use crate::model::{Item, Model, Thing};
use crate::names::look_up;
use crate::trouble::Trouble;

/// Looks up the handlings and positions of items and tools. Where a handling is not found, the item has none at all, so
/// that its states are not told of again.
pub(super) fn shells(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (names, at_each) = match site.kind {
            DeclarationKind::Item(node) => (&node.handlings, node.at_each.as_ref()),
            DeclarationKind::Tool(node) => (&node.handlings, None),
            _ => continue,
        };
        let found: Vec<Option<usize>> =
            names.iter().map(|name| handling(model, site.file, name, troubles)).collect();
        let handlings = found.into_iter().collect::<Option<Vec<usize>>>().unwrap_or_default();
        let at_each = positions(model, site.file, at_each, troubles);
        if let Some(item) = item_of(model, site.thing) {
            item.handlings = handlings;
            item.at_each = at_each;
        }
    }
}

/// Fills in the lines of every item and tool.
pub(super) fn lines(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    of_handlings(sites, model, troubles);
    for site in sites {
        let written = match site.kind {
            DeclarationKind::Item(node) => &node.lines,
            DeclarationKind::Tool(node) => &node.lines,
            _ => continue,
        };
        let (Thing::Item(place) | Thing::Tool(place)) = site.thing else { continue };
        own_lines(site.file, place, written, model, troubles);
    }
}

/// The lines of handlings, once for each item that has the handling. They are told of once, where they stand.
fn of_handlings(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    for site in sites {
        let (DeclarationKind::Handling(node), Thing::Handling(handling)) = (site.kind, site.thing) else {
            continue;
        };
        let written: Vec<&Line> = node.lines.iter().filter(|line| !elsewhere(line)).collect();
        if written.is_empty() {
            continue;
        }
        let alone = [handling];
        let owner = Owner { model, file: site.file, item: usize::MAX, handlings: &alone, only: Some(0) };
        for line in &written {
            if !owner.line(line, &mut Lines::default(), troubles) {
                misplaced(site.file, line, "a handling", troubles);
            }
        }
        for place in 0..model.items.len() {
            let handlings = model.items.get(place).map_or_else(Vec::new, |item| item.handlings.clone());
            let mut lines = Lines::default();
            for only in
                handlings.iter().enumerate().filter(|(_, has)| **has == handling).map(|(only, _)| only)
            {
                let owner =
                    Owner { model, file: site.file, item: place, handlings: &handlings, only: Some(only) };
                for line in &written {
                    owner.line(line, &mut lines, &mut Vec::new());
                }
            }
            if let Some(item) = model.items.get_mut(place) {
                lines.add_to(item);
            }
        }
    }
}

/// Whether a line of a handling is looked at elsewhere: which states may stay, and what is waived.
fn elsewhere(line: &Line) -> bool {
    matches!(line.kind, LineKind::MayStay(_) | LineKind::Waive { .. })
}

fn own_lines(file: usize, place: usize, written: &[Line], model: &mut Model, troubles: &mut Vec<Trouble>) {
    let Some(item) = model.items.get(place) else { return };
    let handlings = item.handlings.clone();
    let is_tool = item.tool.is_some();
    let (mut lines, mut located, mut torque, mut fits) = (Lines::default(), None, None, Vec::new());
    for line in written {
        let owner = Owner { model, file, item: place, handlings: &handlings, only: None };
        match &line.kind {
            LineKind::Waive { .. } => {}
            LineKind::Located(text) => located = Some(text.text.clone()),
            LineKind::Fits(text) => fits.push(text.text.clone()),
            LineKind::Torque(name) if !is_tool => torque = torque_spec(model, file, name, troubles),
            LineKind::Measures(_)
            | LineKind::Sets(_)
            | LineKind::Calibrated(_)
            | LineKind::WarmsUp(_)
            | LineKind::Settles(_)
            | LineKind::Zeroed { .. }
            | LineKind::Impedance(_)
            | LineKind::Reaches(_)
            | LineKind::Extends { .. }
                if is_tool => {}
            _ => {
                if !owner.line(line, &mut lines, troubles) {
                    misplaced(file, line, if is_tool { "a tool" } else { "an item" }, troubles);
                }
            }
        }
    }
    if let Some(item) = model.items.get_mut(place) {
        lines.add_to(item);
        item.located = located;
        item.torque = torque;
        item.fits = fits;
    }
}

/// The spec that a tightening follows, which must be one of torque.
fn torque_spec(model: &Model, file: usize, name: &Name, troubles: &mut Vec<Trouble>) -> Option<usize> {
    let Thing::Spec(place) =
        told(look_up(model, file, name, "a spec", |thing| matches!(thing, Thing::Spec(_))), troubles)?
    else {
        return None;
    };
    let spec = model.specs.get(place)?;
    if spec.kind != Kind::TORQUE {
        troubles.push(Trouble::KindMismatch {
            place: Place { file, span: name.span },
            other: Some(spec.place),
            first: format!("`{}` ({})", spec.name, spec.kind),
            second: "a tightening (torque)".to_owned(),
            why: spec.kind.why_not(Kind::TORQUE).map(str::to_owned),
        });
        return None;
    }
    Some(place)
}

fn handling(model: &Model, file: usize, name: &Name, troubles: &mut Vec<Trouble>) -> Option<usize> {
    let fits = |thing| matches!(thing, Thing::Handling(_));
    match told(look_up(model, file, name, "a handling", fits), troubles)? {
        Thing::Handling(handling) => Some(handling),
        _ => None,
    }
}

fn item_of(model: &mut Model, thing: Thing) -> Option<&mut Item> {
    match thing {
        Thing::Item(place) | Thing::Tool(place) => model.items.get_mut(place),
        _ => None,
    }
}
