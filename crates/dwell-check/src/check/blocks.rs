//! Every statement of a procedure with the braces that it stands between.

use dwell_syntax::tree::{Arm, Block, Part, Procedure, Span, Statement, StatementKind};

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
    for inner in inside(statement) {
        block(inner, visit);
    }
}

/// The blocks of a statement.
fn inside(statement: &Statement) -> Vec<&Block> {
    let mut blocks: Vec<&Block> = Vec::new();
    let arms: &[Arm] = match &statement.kind {
        StatementKind::Expect { otherwise, .. }
        | StatementKind::Perform { otherwise, .. }
        | StatementKind::Back { otherwise, .. }
        | StatementKind::Choose { otherwise, .. } => otherwise,
        StatementKind::Adjust { block, otherwise, .. } => {
            blocks.push(block);
            otherwise
        }
        StatementKind::Keep(keep) => {
            blocks.extend(&keep.block);
            &keep.otherwise
        }
        StatementKind::If { arms, last } => {
            blocks.extend(arms.iter().map(|(_, block)| block));
            blocks.extend(last);
            &[]
        }
        StatementKind::ForEach { block, .. } => {
            blocks.push(block);
            &[]
        }
        _ => &[],
    };
    blocks.extend(arms.iter().map(|arm| &arm.block));
    blocks
}
