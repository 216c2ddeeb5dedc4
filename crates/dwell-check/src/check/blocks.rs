//! Every statement of a procedure with the braces that it stands between.

use dwell_syntax::tree::{Block, Part, Procedure, Span, Statement};

/// Shows `visit` every statement, outer ones before inner ones, with the span of what encloses it; `whole` is what
/// encloses those that stand in the procedure itself.
pub(crate) fn statements<'a>(
    procedure: &'a Procedure,
    whole: Span,
    visit: &mut dyn FnMut(&'a Statement, Span),
) {
    for part in &procedure.parts {
        match part {
            Part::Statement(statement) => one(statement, whole, visit),
            Part::Step(step) => block(&step.block, visit),
            Part::Restore { block: restore, .. } => block(restore, visit),
            _ => {}
        }
    }
}

/// Shows `visit` every statement of a block, outer ones before inner ones, with the span of what encloses it.
pub(crate) fn statements_in<'a>(within: &'a Block, visit: &mut dyn FnMut(&'a Statement, Span)) {
    block(within, visit);
}

fn block<'a>(within: &'a Block, visit: &mut dyn FnMut(&'a Statement, Span)) {
    for statement in &within.statements {
        one(statement, within.span, visit);
    }
}

fn one<'a>(statement: &'a Statement, within: Span, visit: &mut dyn FnMut(&'a Statement, Span)) {
    visit(statement, within);
    for inner in statement.blocks() {
        block(inner, visit);
    }
}
