//! What stands inside a statement, and what a declaration is called: asked by all who walk the tree.

use super::{Arm, Block, DeclarationKind, Name, Statement, StatementKind};

impl Statement {
    /// Its blocks, those of its arms included, in the order of the text.
    pub fn blocks(&self) -> Vec<&Block> {
        let arms = self.arms().iter().map(|arm| &arm.block);
        self.own_blocks().into_iter().chain(arms).collect()
    }

    /// Its `otherwise` arms: what is done where it comes out otherwise.
    pub fn arms(&self) -> &[Arm] {
        match &self.kind {
            StatementKind::Expect { otherwise, .. }
            | StatementKind::Perform { otherwise, .. }
            | StatementKind::Back { otherwise, .. }
            | StatementKind::Choose { otherwise, .. }
            | StatementKind::Adjust { otherwise, .. } => otherwise,
            StatementKind::Keep(keep) => &keep.otherwise,
            StatementKind::If { .. }
            | StatementKind::ForEach { .. }
            | StatementKind::Caution { .. }
            | StatementKind::Note(_)
            | StatementKind::Handle(_)
            | StatementKind::Do { .. }
            | StatementKind::Measure(_)
            | StatementKind::Read { .. }
            | StatementKind::Ask { .. }
            | StatementKind::Let { .. }
            | StatementKind::LetBand { .. }
            | StatementKind::Wait { .. }
            | StatementKind::Refer { .. }
            | StatementKind::Cause { .. }
            | StatementKind::End { .. }
            | StatementKind::On { .. }
            | StatementKind::Waive { .. }
            | StatementKind::Broken => &[],
        }
    }

    /// Its blocks that are no arms.
    pub(crate) fn own_blocks(&self) -> Vec<&Block> {
        match &self.kind {
            StatementKind::Adjust { block, .. } | StatementKind::ForEach { block, .. } => vec![block],
            StatementKind::If { arms, last } => arms.iter().map(|(_, block)| block).chain(last).collect(),
            StatementKind::Keep(keep) => keep.block.iter().collect(),
            StatementKind::Expect { .. }
            | StatementKind::Perform { .. }
            | StatementKind::Back { .. }
            | StatementKind::Choose { .. }
            | StatementKind::Caution { .. }
            | StatementKind::Note(_)
            | StatementKind::Handle(_)
            | StatementKind::Do { .. }
            | StatementKind::Measure(_)
            | StatementKind::Read { .. }
            | StatementKind::Ask { .. }
            | StatementKind::Let { .. }
            | StatementKind::LetBand { .. }
            | StatementKind::Wait { .. }
            | StatementKind::Refer { .. }
            | StatementKind::Cause { .. }
            | StatementKind::End { .. }
            | StatementKind::On { .. }
            | StatementKind::Waive { .. }
            | StatementKind::Broken => Vec::new(),
        }
    }
}

impl DeclarationKind {
    /// The name that it gives; none for a `use`.
    pub fn name(&self) -> Option<&Name> {
        match self {
            DeclarationKind::Use(_) | DeclarationKind::Broken => None,
            DeclarationKind::Handling(node) => Some(&node.name),
            DeclarationKind::Item(node) => Some(&node.name),
            DeclarationKind::Quantity(node) => Some(&node.name),
            DeclarationKind::Spec(node) => Some(&node.name),
            DeclarationKind::Table(node) => Some(&node.name),
            DeclarationKind::Series(node) => Some(&node.name),
            DeclarationKind::Tool(node) => Some(&node.name),
            DeclarationKind::Hazard(node) => Some(&node.name),
            DeclarationKind::Variant(node) | DeclarationKind::Positions(node) => Some(&node.name),
            DeclarationKind::Procedure(node) => Some(&node.name),
        }
    }
}
