//! What the conditions of a procedure ask, and of which quantity its readings are.

use crate::facts::Facts;
use crate::model::{QuantityRef, Thing};
use dwell_syntax::tree::{Condition, Expr, Name, Procedure, Span, Statement, StatementKind};
use std::collections::HashMap;

/// The conditions of a statement itself, not of what stands in it.
pub(crate) fn conditions(statement: &Statement) -> Vec<&Condition> {
    match &statement.kind {
        StatementKind::Expect { condition, .. } => vec![condition],
        StatementKind::If { arms, .. } => arms.iter().map(|(condition, _)| condition).collect(),
        StatementKind::ForEach { condition: Some(condition), .. } => vec![condition],
        _ => Vec::new(),
    }
}

/// The reading that a formula is, at one place or all: `camber`, `camber at left`.
pub(crate) fn reading(formula: &Expr) -> Option<&Name> {
    match formula {
        Expr::Name(name) => Some(name),
        Expr::At(inner, _) | Expr::Group(inner, _) => reading(inner),
        _ => None,
    }
}

/// The quantity of each reading of a procedure: of what it is said to be, or what it is named like.
pub(crate) fn quantities<'a>(
    facts: &Facts<'a>,
    file: usize,
    procedure: &'a Procedure,
    whole: Span,
) -> HashMap<&'a str, QuantityRef> {
    let mut known = HashMap::new();
    let of = |name: &Name| match facts.thing(file, &name.text)? {
        Thing::Kind(kind) => Some(QuantityRef::Kind(kind)),
        Thing::Quantity(place) if place < facts.model.quantities.len() => Some(QuantityRef::Declared(place)),
        _ => None,
    };
    super::statements(procedure, whole, &mut |statement, _| {
        let mut learn = |name: &'a Name, kind: &Option<Name>| {
            if let Some(quantity) = of(kind.as_ref().unwrap_or(name)) {
                known.entry(name.text.as_str()).or_insert(quantity);
            }
        };
        match &statement.kind {
            StatementKind::Measure(measure) if !measure.again => {
                measure.readings.iter().for_each(|new| learn(&new.name, &new.kind));
            }
            StatementKind::Read { name, kind, .. } | StatementKind::Let { name, kind, .. } => {
                learn(name, kind)
            }
            _ => {}
        }
    });
    known
}
