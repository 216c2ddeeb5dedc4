//! The first walk: every declared thing gets its place in the model, empty as yet.

use dwell_card::vehicle::Level;
use dwell_quantity::{Band, Kind};
use dwell_syntax::tree::{self, DeclarationKind, Name, Part};

use super::Site;
use crate::finding::Place;
use crate::model::{
    Abilities, Choice, Handling, Hazard, Item, Model, ProcedureHead, Quantity, QuantityRef, Readiness,
    ResolvedBand, Series, Spec, Thing, Withdrawn,
};
use crate::names::Named;
use crate::program::Program;
use crate::trouble::Trouble;

/// Stands for the kind of a quantity or spec until it is looked up.
const NOT_YET: Kind = Kind::NUMBER;

/// All declarations, and the names that each file declares.
pub(super) fn declare<'a>(
    program: &'a Program,
    model: &mut Model,
    troubles: &mut Vec<Trouble>,
) -> (Vec<Site<'a>>, Vec<Vec<Named>>) {
    let mut sites = Vec::new();
    let mut names = Vec::new();
    for (file, source) in program.files.iter().enumerate() {
        let mut own = Vec::new();
        for (declaration, node) in source.tree.declarations.iter().enumerate() {
            if let Some((name, thing)) = declared(model, file, declaration, &node.kind, troubles) {
                own.push((name.clone(), thing));
                sites.push(Site { file, kind: &node.kind, thing });
            }
        }
        names.push(own);
    }
    (sites, names)
}

fn declared<'a>(
    model: &mut Model,
    file: usize,
    declaration: usize,
    kind: &'a DeclarationKind,
    troubles: &mut Vec<Trouble>,
) -> Option<(&'a Name, Thing)> {
    let place = |name: &Name| Place { file, span: name.span };
    Some(match kind {
        DeclarationKind::Use(_) | DeclarationKind::Broken => return None,
        DeclarationKind::Handling(node) => {
            (&node.name, Thing::Handling(add(&mut model.handlings, handling(&node.name, place(&node.name)))))
        }
        DeclarationKind::Item(node) => {
            let item = item(&node.name, place(&node.name), node.label.as_ref(), false);
            (&node.name, Thing::Item(add(&mut model.items, item)))
        }
        DeclarationKind::Tool(node) => {
            let tool = item(&node.name, place(&node.name), node.label.as_ref(), true);
            (&node.name, Thing::Tool(add(&mut model.items, tool)))
        }
        DeclarationKind::Quantity(node) => {
            let quantity = quantity(node, place(&node.name));
            (&node.name, Thing::Quantity(add(&mut model.quantities, quantity)))
        }
        DeclarationKind::Spec(node) => {
            (&node.name, Thing::Spec(add(&mut model.specs, spec(&node.name, place(&node.name)))))
        }
        DeclarationKind::Table(node) => {
            (&node.name, Thing::Table(add(&mut model.specs, spec(&node.name, place(&node.name)))))
        }
        DeclarationKind::Series(node) => {
            (&node.name, Thing::Series(add(&mut model.series, series(&node.name, place(&node.name)))))
        }
        DeclarationKind::Hazard(node) => {
            let text = node.text.as_ref().map_or_else(|| spoken(&node.name), |text| text.text.clone());
            let hazard = Hazard {
                name: node.name.text.clone(),
                place: place(&node.name),
                level: level(node.level),
                text,
            };
            (&node.name, Thing::Hazard(add(&mut model.hazards, hazard)))
        }
        DeclarationKind::Variant(node) => {
            (&node.name, Thing::Variant(add(&mut model.variants, choice(file, node, troubles))))
        }
        DeclarationKind::Positions(node) => {
            (&node.name, Thing::Positions(add(&mut model.positions, choice(file, node, troubles))))
        }
        DeclarationKind::Procedure(node) => {
            let head = procedure(file, node, place(&node.name), declaration);
            (&node.name, Thing::Procedure(add(&mut model.procedures, head)))
        }
    })
}

fn procedure(file: usize, node: &tree::Procedure, place: Place, declaration: usize) -> ProcedureHead {
    let mut head =
        ProcedureHead { name: node.name.text.clone(), place, declaration, revised: None, withdrawn: None };
    for part in &node.parts {
        match part {
            Part::Revision { date, .. } => head.revised = Some(date.text.clone()),
            Part::Withdrawn(date, why) => {
                let place = Place { file, span: date.span };
                head.withdrawn = Some(Withdrawn { on: date.text.clone(), why: why.text.clone(), place });
            }
            _ => {}
        }
    }
    head
}

/// Adds to a list and says where.
fn add<T>(list: &mut Vec<T>, thing: T) -> usize {
    list.push(thing);
    list.len() - 1
}

/// A name as people say it: with blanks for its hyphens.
fn spoken(name: &Name) -> String {
    name.text.replace('-', " ")
}

/// A level of the tree as one of the card.
fn level(level: tree::Level) -> Level {
    match level {
        tree::Level::Notice => Level::Notice,
        tree::Level::Caution => Level::Caution,
        tree::Level::Warning => Level::Warning,
        tree::Level::Danger => Level::Danger,
    }
}

fn handling(name: &Name, place: Place) -> Handling {
    Handling {
        name: name.text.clone(),
        place,
        states: Vec::new(),
        verbs: Vec::new(),
        proofs: Vec::new(),
        may_stay: Vec::new(),
    }
}

fn item(name: &Name, place: Place, label: Option<&tree::Text>, tool: bool) -> Item {
    Item {
        name: name.text.clone(),
        place,
        label: label.map_or_else(|| spoken(name), |text| text.text.clone()),
        handlings: Vec::new(),
        at_each: None,
        brings: Vec::new(),
        needs: Vec::new(),
        moves: Vec::new(),
        plays: Vec::new(),
        checked: Vec::new(),
        signed: Vec::new(),
        lasts: Vec::new(),
        may_stay: Vec::new(),
        located: None,
        torque: None,
        fits: Vec::new(),
        ready: Readiness::default(),
        tool: tool.then(Abilities::default),
    }
}

fn quantity(node: &tree::Quantity, place: Place) -> Quantity {
    Quantity {
        name: node.name.text.clone(),
        place,
        label: node.label.as_ref().map(|text| text.text.clone()),
        parent: QuantityRef::Kind(NOT_YET),
        kind: NOT_YET,
        at_each: None,
        span: Band::all(),
        signs: (None, None),
        needs: Vec::new(),
        moves: Vec::new(),
        side: None,
    }
}

fn spec(name: &Name, place: Place) -> Spec {
    Spec {
        name: name.text.clone(),
        place,
        quantity: QuantityRef::Kind(NOT_YET),
        kind: NOT_YET,
        check: Vec::new(),
        adjust: Vec::new(),
        not_adjustable: None,
        source: None,
        condition: None,
        signed: None,
        withdrawn: None,
        rows: None,
        stages: Vec::new(),
    }
}

fn series(name: &Name, place: Place) -> Series {
    let range = ResolvedBand {
        band: Band::all(),
        unit: NOT_YET.base_unit(),
        decimals: 0,
        target: None,
        written: String::new(),
        place,
    };
    Series {
        name: name.text.clone(),
        place,
        quantity: QuantityRef::Kind(NOT_YET),
        range,
        step: dwell_quantity::Exact::one(),
    }
}

/// A variant or a set of positions; a value that stands there twice is told.
fn choice(file: usize, node: &tree::Choice, troubles: &mut Vec<Trouble>) -> Choice {
    super::known::once(file, &node.values, troubles);
    Choice {
        name: node.name.text.clone(),
        place: Place { file, span: node.name.span },
        values: node.values.iter().map(|value| value.text.clone()).collect(),
    }
}
