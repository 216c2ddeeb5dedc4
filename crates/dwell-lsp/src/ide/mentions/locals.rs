//! The names that a procedure gives itself: readings, answers, what it works out; and the procedures that it performs.

use super::What;
use dwell_syntax::tree::{Block, Kept, Name, Part, Procedure, Statement, StatementKind};
use std::collections::HashSet;

/// A name of a procedure's own.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Local<'a> {
    /// Where it is first declared.
    pub(crate) name: &'a Name,
    /// What it is: a reading, a question, something worked out.
    pub(crate) what: What,
    /// The quantity that it is of, as far as that is said; its own name where it is named like it.
    pub(crate) quantity: Option<&'a Name>,
    /// The positions of the `for each` that it is taken in.
    pub(crate) bound: Option<&'a Name>,
}

/// All of them, each once, in the order they are met.
pub(crate) fn locals(procedure: &Procedure) -> Vec<Local<'_>> {
    let mut found: Vec<Local<'_>> = Vec::new();
    let mut met = HashSet::new();
    statements(procedure, &mut |statement, bound| {
        for (name, what, quantity) in named(statement) {
            if !name.text.is_empty() && met.insert(name.text.as_str()) {
                found.push(Local { name, what, quantity, bound });
            }
        }
    });
    found
}

/// The procedures that are performed in it or bring its needs about, by name; a step of its own is none.
pub(crate) fn performed(procedure: &Procedure) -> Vec<&Name> {
    let mut all = Vec::new();
    let mut steps = Vec::new();
    for part in &procedure.parts {
        match part {
            Part::Needs(needs, _) => all.extend(needs.iter().filter_map(|need| need.by.as_ref())),
            Part::Step(step) => steps.push(step.name.text.as_str()),
            Part::Revision { .. }
            | Part::Withdrawn(..)
            | Part::Decide { .. }
            | Part::Applies(_)
            | Part::Leaves(..)
            | Part::Keep(..)
            | Part::Statement(_)
            | Part::Restore { .. }
            | Part::Case(_) => {}
        }
    }
    statements(procedure, &mut |statement, _| {
        if let StatementKind::Perform { what, .. } = &statement.kind
            && !steps.contains(&what.text.as_str())
        {
            all.push(what);
        }
    });
    all
}

/// The answers that a question of it can have, as they are declared; none for one that is answered with yes or no.
pub(crate) fn answers<'a>(procedure: &'a Procedure, question: &str) -> Vec<&'a Name> {
    let mut all = Vec::new();
    statements(procedure, &mut |statement, _| match &statement.kind {
        StatementKind::Ask { name, answers, .. } if name.text == question => all.extend(answers),
        _ => {}
    });
    all
}

/// The names of its steps.
pub(crate) fn steps(procedure: &Procedure) -> Vec<&Name> {
    let named = procedure.parts.iter().filter_map(|part| match part {
        Part::Step(step) => Some(&step.name),
        _ => None,
    });
    named.collect()
}

/// The names that a statement gives, with what they are and of which quantity.
fn named(statement: &Statement) -> Vec<(&Name, What, Option<&Name>)> {
    match &statement.kind {
        StatementKind::Measure(measure) if measure.again => Vec::new(),
        StatementKind::Measure(measure) => measure
            .readings
            .iter()
            .map(|new| (&new.name, What::Reading, Some(new.kind.as_ref().unwrap_or(&new.name))))
            .collect(),
        StatementKind::Read { name, kind, from: _, expected: _ } => {
            vec![(name, What::Reading, Some(kind.as_ref().unwrap_or(name)))]
        }
        StatementKind::Ask { name, text: _, answers: _ } => vec![(name, What::Question, None)],
        StatementKind::Let { name, kind, value: _ } => vec![(name, What::Computed, kind.as_ref())],
        StatementKind::LetBand { name, kind, band: _ } => vec![(name, What::Limit, kind.as_ref())],
        StatementKind::Choose { name, from: _, nearest: _, otherwise: _ } => {
            vec![(name, What::Reading, None)]
        }
        StatementKind::Keep(keep) => match &keep.what {
            Kept::Quantity(name, _) if keep.block.is_some() => vec![(name, What::Reading, Some(name))],
            Kept::Quantity(..) | Kept::State(_) => Vec::new(),
        },
        StatementKind::Caution { .. }
        | StatementKind::Note(_)
        | StatementKind::Handle(_)
        | StatementKind::Do { .. }
        | StatementKind::Expect { .. }
        | StatementKind::Adjust { .. }
        | StatementKind::If { .. }
        | StatementKind::Wait { .. }
        | StatementKind::Perform { .. }
        | StatementKind::Refer { .. }
        | StatementKind::Cause { .. }
        | StatementKind::End { .. }
        | StatementKind::Back { .. }
        | StatementKind::On { .. }
        | StatementKind::ForEach { .. }
        | StatementKind::Waive { .. }
        | StatementKind::Broken => Vec::new(),
    }
}

type Visit<'v, 'a> = &'v mut dyn FnMut(&'a Statement, Option<&'a Name>);

/// Every statement of a procedure, outer ones first, with the positions of the innermost `for each` around it.
fn statements<'a>(procedure: &'a Procedure, visit: Visit<'_, 'a>) {
    for part in &procedure.parts {
        match part {
            Part::Statement(statement) => one(statement, None, visit),
            Part::Step(step) => block(&step.block, None, visit),
            Part::Restore { block: within, .. } => block(within, None, visit),
            Part::Revision { .. }
            | Part::Withdrawn(..)
            | Part::Decide { .. }
            | Part::Applies(_)
            | Part::Needs(..)
            | Part::Leaves(..)
            | Part::Keep(..)
            | Part::Case(_) => {}
        }
    }
}

fn block<'a>(within: &'a Block, bound: Option<&'a Name>, visit: Visit<'_, 'a>) {
    for statement in &within.statements {
        one(statement, bound, visit);
    }
}

fn one<'a>(statement: &'a Statement, bound: Option<&'a Name>, visit: Visit<'_, 'a>) {
    visit(statement, bound);
    let bound = match &statement.kind {
        StatementKind::ForEach { positions, .. } => Some(positions),
        _ => bound,
    };
    for within in statement.blocks() {
        block(within, bound, visit);
    }
}
