//! Declared quantities: of what kind, within which span, what they need and what they move.

use dwell_quantity::{Band, Kind};
use dwell_syntax::tree::{self, DeclarationKind, Expr, Fold, Line, LineKind, Name, NeverSide};

use super::Site;
use super::known::{quantity, told};
use super::line::{misplaced, needed, positions};
use crate::finding::Place;
use crate::model::{Model, Quantity, QuantityRef, Thing};
use crate::names::look_up;
use crate::trouble::Trouble;

/// Works out what each quantity is one of. One whose kind cannot be known keeps its name but leads nowhere.
pub(super) fn kinds(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    let mut parents = vec![None; model.quantities.len()];
    for (site, place, node) in quantities(sites) {
        if let Some(parent) = parents.get_mut(place) {
            *parent = quantity(model, site.file, &node.kind, troubles);
        }
    }
    for (site, place, node) in quantities(sites) {
        match kind_of(place, &parents) {
            Some((parent, kind)) => {
                let at_each = positions(model, site.file, node.at_each.as_ref(), troubles);
                if let Some(quantity) = model.quantities.get_mut(place) {
                    quantity.parent = parent;
                    quantity.kind = kind;
                    quantity.at_each = at_each;
                }
            }
            None => {
                if first_of_circle(place, &parents) {
                    troubles.push(Trouble::NotExecutable {
                        place: Place { file: site.file, span: node.kind.span },
                        what: format!("the quantity `{}` is said to be one of itself", node.name.text),
                        help: "name the kind of quantity that it is, such as length or dc-voltage".to_owned(),
                    });
                }
                hide(model, Thing::Quantity(place), Thing::Quantity(usize::MAX));
            }
        }
    }
}

/// Fills in the lines of every quantity, those it is one of first, so that what holds for them holds for it.
pub(super) fn lines(sites: &[Site<'_>], model: &mut Model, troubles: &mut Vec<Trouble>) {
    let mut order: Vec<_> =
        quantities(sites).map(|(site, place, node)| (depth(model, place), site, place, node)).collect();
    order.sort_by_key(|(depth, ..)| *depth);
    for (_, site, place, node) in order {
        if !leads_somewhere(model, site.file, &node.name) {
            continue;
        }
        let Some(own) = model.quantities.get(place) else { continue };
        let filled = fill(model, site.file, own, node, troubles);
        if let Some(quantity) = model.quantities.get_mut(place) {
            *quantity = filled;
        }
    }
}

/// Lets a name lead to another thing in every file that sees it.
pub(super) fn hide(model: &mut Model, from: Thing, to: Thing) {
    for thing in model.scopes.iter_mut().flat_map(|scope| scope.names.values_mut()) {
        if *thing == from {
            *thing = to;
        }
    }
}

/// Whether a name still leads to the quantity, spec, table or series that it was declared for: its kind is known.
pub(super) fn leads_somewhere(model: &Model, file: usize, name: &Name) -> bool {
    match model.scopes.get(file).and_then(|scope| scope.names.get(&name.text)) {
        Some(Thing::Quantity(place)) => *place < model.quantities.len(),
        Some(Thing::Spec(place) | Thing::Table(place)) => *place < model.specs.len(),
        Some(Thing::Series(place)) => *place < model.series.len(),
        _ => true,
    }
}

fn quantities<'a>(sites: &'a [Site<'a>]) -> impl Iterator<Item = (Site<'a>, usize, &'a tree::Quantity)> + 'a {
    sites.iter().filter_map(|site| match (site.kind, site.thing) {
        (DeclarationKind::Quantity(node), Thing::Quantity(place)) => Some((*site, place, node)),
        _ => None,
    })
}

/// What a quantity is one of, and the kind at the end of that chain; `None` where the chain breaks or goes in a circle.
fn kind_of(place: usize, parents: &[Option<QuantityRef>]) -> Option<(QuantityRef, Kind)> {
    let parent = parents.get(place).copied().flatten()?;
    let mut now = parent;
    for _ in 0..=parents.len() {
        match now {
            QuantityRef::Kind(kind) => return Some((parent, kind)),
            QuantityRef::Declared(next) => now = parents.get(next).copied().flatten()?,
        }
    }
    None
}

/// Whether a quantity stands on a circle and is the first of it.
fn first_of_circle(place: usize, parents: &[Option<QuantityRef>]) -> bool {
    let mut now = place;
    for _ in 0..=parents.len() {
        match parents.get(now).copied().flatten() {
            Some(QuantityRef::Declared(next)) if next == place => return true,
            Some(QuantityRef::Declared(next)) if next > place => now = next,
            _ => return false,
        }
    }
    false
}

/// How many declared quantities it is one of.
fn depth(model: &Model, place: usize) -> usize {
    let mut now = place;
    for depth in 0..model.quantities.len() {
        match model.quantities.get(now).map(|quantity| quantity.parent) {
            Some(QuantityRef::Declared(next)) => now = next,
            _ => return depth,
        }
    }
    0
}

fn fill(
    model: &Model,
    file: usize,
    own: &Quantity,
    node: &tree::Quantity,
    troubles: &mut Vec<Trouble>,
) -> Quantity {
    let mut filled = own.clone();
    if let QuantityRef::Declared(parent) = own.parent
        && let Some(parent) = model.quantities.get(parent)
    {
        filled.span = parent.span.clone();
        filled.signs = parent.signs.clone();
        filled.needs = parent.needs.clone();
        filled.moves = parent.moves.clone();
        filled.side = parent.side;
        filled.at_each = own.at_each.or(parent.at_each);
    }
    for line in &node.lines {
        match &line.kind {
            LineKind::Never(side, band) => {
                if let Some(span) = span(model, file, own, *side, band, troubles) {
                    filled.span = filled.span.intersect(&span);
                }
            }
            LineKind::Positive(text) => filled.signs.0 = Some(text.text.clone()),
            LineKind::Negative(text) => filled.signs.1 = Some(text.text.clone()),
            LineKind::Limits { at_least } => filled.side = Some(*at_least),
            LineKind::Needs(None, states) => {
                let when = super::when(model, file, &line.when, troubles);
                for (state, place) in needed(model, file, states, troubles) {
                    filled.needs.push((state, when.clone(), place));
                }
            }
            LineKind::Moves { subject: None, what, .. } => {
                filled.moves.extend(what.iter().filter_map(|name| quantity(model, file, name, troubles)));
            }
            LineKind::IsFold(formula) => named(model, file, formula, troubles),
            // What is the spread of a quantity over a turn (run-out) can only be too large.
            LineKind::Means(Fold::Spread, _) => filled.side = filled.side.or(Some(false)),
            LineKind::Means(..) | LineKind::Waive { .. } => {}
            _ => misplaced(file, line, "a quantity", troubles),
        }
        unconditional(file, line, troubles);
    }
    filled
}

/// The span that `never …` leaves.
fn span(
    model: &Model,
    file: usize,
    own: &Quantity,
    side: NeverSide,
    band: &tree::Band,
    troubles: &mut Vec<Trouble>,
) -> Option<Band> {
    let quantity = QuantityRef::Kind(own.kind);
    let limit = super::band::lone_or_band(model, file, band, quantity, &own.name, troubles)?.band;
    Some(match side {
        NeverSide::Below => Band { low: limit.low, high: None },
        NeverSide::Above => Band { low: None, high: limit.high },
        NeverSide::Outside => limit,
    })
}

/// Looks the names of a definition up: `is sum of toe`.
fn named(model: &Model, file: usize, formula: &Expr, troubles: &mut Vec<Trouble>) {
    match formula {
        Expr::Name(name) | Expr::First(name) => {
            quantity(model, file, name, troubles);
        }
        Expr::TargetOf(name) => {
            told(look_up(model, file, name, "a spec", |thing| matches!(thing, Thing::Spec(_))), troubles);
        }
        Expr::At(inner, _)
        | Expr::Fold(_, inner, _)
        | Expr::Function(_, inner, _)
        | Expr::Share(_, inner)
        | Expr::Group(inner, _) => {
            named(model, file, inner, troubles);
        }
        Expr::Binary(_, left, right) => {
            named(model, file, left, troubles);
            named(model, file, right, troubles);
        }
        Expr::Amount(_) => {}
    }
}

/// Only what a quantity needs can depend on a condition.
fn unconditional(file: usize, line: &Line, troubles: &mut Vec<Trouble>) {
    let conditional = matches!(line.kind, LineKind::Needs(..));
    if let Some(when) = line.when.first().filter(|_| !conditional) {
        troubles.push(Trouble::NotExecutable {
            place: Place { file, span: when.span },
            what: "this line of a quantity cannot depend on a condition".to_owned(),
            help: "leave the condition out, or describe two quantities".to_owned(),
        });
    }
}
