//! The blocks of a procedure: where a byte stands among its statements.

use super::view::View;
use dwell_syntax::tree::{Block, DeclarationKind, Part, Procedure, Span, Statement, Step};

/// The tree of the procedure that a byte stands in.
pub(crate) fn procedure(view: &View, at: usize) -> Option<&Procedure> {
    let declared = &view.source()?.tree.declarations;
    let here = declared.iter().filter(|one| one.span.start <= at && at <= one.span.end);
    here.filter_map(|one| match &one.kind {
        DeclarationKind::Procedure(procedure) => Some(procedure.as_ref()),
        _ => None,
    })
    .next()
}

/// Its steps.
pub(crate) fn steps(procedure: &Procedure) -> impl Iterator<Item = &Step> {
    procedure.parts.iter().filter_map(|part| match part {
        Part::Step(step) => Some(step),
        _ => None,
    })
}

/// The outermost blocks: those of the steps, of `restore`, of what is kept.
pub(crate) fn outermost(procedure: &Procedure) -> Vec<&Block> {
    let blocks = procedure.parts.iter().flat_map(|part| match part {
        Part::Step(Step { block, .. }) | Part::Restore { block, .. } => vec![block],
        Part::Keep(keep, _) => keep.block.iter().chain(keep.otherwise.iter().map(|arm| &arm.block)).collect(),
        _ => Vec::new(),
    });
    blocks.collect()
}

/// All statements of a procedure, outer ones first.
pub(crate) fn statements(procedure: &Procedure) -> Vec<&Statement> {
    let own = procedure.parts.iter().filter_map(|part| match part {
        Part::Statement(statement) => Some(statement),
        _ => None,
    });
    let mut waiting: Vec<&Statement> =
        own.chain(outermost(procedure).into_iter().flat_map(|block| &block.statements)).collect();
    let mut all = Vec::new();
    while let Some(statement) = waiting.pop() {
        all.push(statement);
        waiting.extend(statement.blocks().into_iter().flat_map(|block| &block.statements));
    }
    all.sort_by_key(|statement| (statement.span.start, std::cmp::Reverse(statement.span.end)));
    all
}

/// The blocks around a byte, outermost first, each with the statement that it belongs to.
pub(crate) fn around(procedure: &Procedure, at: usize) -> Vec<(Option<&Statement>, &Block)> {
    let mut around: Vec<(Option<&Statement>, &Block)> = Vec::new();
    let mut here: Vec<(Option<&Statement>, &Block)> =
        outermost(procedure).into_iter().map(|block| (None, block)).collect();
    while let Some((statement, block)) = here.into_iter().find(|(_, block)| within(block.span, at)) {
        around.push((statement, block));
        let inside = block.statements.iter();
        here = inside.flat_map(|one| one.blocks().into_iter().map(move |block| (Some(one), block))).collect();
    }
    around
}

/// Whether a byte is between the braces.
fn within(span: Span, at: usize) -> bool {
    span.start < at && at < span.end
}
