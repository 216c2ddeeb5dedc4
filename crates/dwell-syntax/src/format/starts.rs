//! Where lines must begin: the first token of every declaration, part, statement, line and arm, read off the tree.

use crate::lex::{Token, TokenKind};
use crate::tree::{
    Arm, Block, Condition, Declaration, DeclarationKind, File, Keep, Part, Procedure, RowGroup, Span,
    SpecLine, Statement, StatementKind, Table,
};

/// What begins with a token.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Start {
    /// Nothing: it goes on.
    #[default]
    Inside,
    /// `else` or `otherwise`: belongs to the statement above, but on a line of its own.
    Arm,
    /// A statement, a line of a declaration, an entry of a case.
    Row,
}

/// What begins with each token.
pub(super) fn of(tree: &File, tokens: &[Token], words: &[String]) -> Vec<Start> {
    let mut starts = Starts { tokens, words, found: vec![Start::Inside; tokens.len()] };
    for declaration in &tree.declarations {
        starts.declaration(declaration);
    }
    starts.found
}

struct Starts<'t> {
    tokens: &'t [Token],
    words: &'t [String],
    found: Vec<Start>,
}

impl Starts<'_> {
    /// The token that stands `back` tokens before the one at byte `offset` begins something.
    fn mark(&mut self, offset: usize, back: usize, start: Start) {
        let at = self.tokens.partition_point(|token| token.span.start < offset);
        if let Some(at) = at.checked_sub(back) {
            self.set(at, start);
        }
    }

    fn set(&mut self, at: usize, start: Start) {
        if let Some(found) = self.found.get_mut(at) {
            *found = start;
        }
    }

    fn row(&mut self, span: Span) {
        self.mark(span.start, 0, Start::Row);
    }

    fn rows(&mut self, spans: impl IntoIterator<Item = Span>) {
        for span in spans {
            self.row(span);
        }
    }

    fn declaration(&mut self, declaration: &Declaration) {
        self.row(declaration.span);
        self.rows(declaration.waivers.iter().map(|line| line.span));
        match &declaration.kind {
            DeclarationKind::Handling(handling) => {
                for state in &handling.states {
                    self.states(state.span);
                }
                self.rows(handling.transitions.iter().map(|transition| transition.span));
                self.rows(handling.lines.iter().map(|line| line.span));
            }
            DeclarationKind::Item(item) => self.rows(item.lines.iter().map(|line| line.span)),
            DeclarationKind::Quantity(quantity) => self.rows(quantity.lines.iter().map(|line| line.span)),
            DeclarationKind::Tool(tool) => self.rows(tool.lines.iter().map(|line| line.span)),
            DeclarationKind::Spec(spec) => self.spec_lines(&spec.lines),
            DeclarationKind::Table(table) => self.table(table, declaration.span),
            DeclarationKind::Procedure(procedure) => self.procedure(procedure),
            DeclarationKind::Use(_)
            | DeclarationKind::Series(_)
            | DeclarationKind::Hazard(_)
            | DeclarationKind::Variant(_)
            | DeclarationKind::Positions(_)
            | DeclarationKind::Broken => {}
        }
    }

    /// A state that no comma stands before is the first after its `states`.
    fn states(&mut self, state: Span) {
        let at = self.tokens.partition_point(|token| token.span.start < state.start);
        let before = at.checked_sub(1).and_then(|before| self.tokens.get(before));
        if before.is_some_and(|before| before.kind != TokenKind::Comma) {
            self.mark(state.start, 1, Start::Row);
        }
    }

    fn spec_lines(&mut self, lines: &[SpecLine]) {
        self.rows(lines.iter().map(|line| line.span));
    }

    fn table(&mut self, table: &Table, span: Span) {
        for RowGroup { when, rows } in &table.groups {
            if let Some(first) = when.first() {
                self.mark(first.span.start, 2, Start::Row);
            }
            self.rows(rows.iter().map(|row| row.span));
        }
        self.spec_lines(&table.lines);
        // `between rows` and `outside rows` leave no place in the tree.
        for at in 0..self.tokens.len() {
            let inside = self.tokens.get(at).is_some_and(|token| span.holds(token.span));
            let first = matches!(self.words.get(at).map(String::as_str), Some("between" | "outside"));
            if inside && first && self.words.get(at + 1).is_some_and(|next| next == "rows") {
                self.set(at, Start::Row);
            }
        }
    }

    fn procedure(&mut self, procedure: &Procedure) {
        for part in &procedure.parts {
            match part {
                Part::Revision { span, .. } | Part::Decide { span, .. } => self.row(*span),
                Part::Withdrawn(date, _) => self.mark(date.span.start, 2, Start::Row),
                Part::Applies(choice) => self.mark(choice.name.span.start, 2, Start::Row),
                Part::Needs(needs, span) => {
                    self.row(*span);
                    self.rows(needs.iter().map(|need| need.state.span));
                }
                Part::Leaves(states, span) => {
                    self.row(*span);
                    self.rows(states.iter().map(|state| state.span));
                }
                Part::Keep(keep, span) => {
                    self.row(*span);
                    self.keep(keep);
                }
                Part::Statement(statement) => self.statement(statement),
                Part::Step(step) => {
                    self.row(step.span);
                    self.block(&step.block);
                }
                Part::Restore { block, span, .. } => {
                    self.row(*span);
                    self.block(block);
                }
                Part::Case(case) => {
                    self.row(case.span);
                    self.rows(case.entries.iter().map(|entry| entry.name.span));
                    if let Some(ends) = &case.ends {
                        self.mark(ends.span.start, 1, Start::Row);
                    }
                }
            }
        }
    }

    fn block(&mut self, block: &Block) {
        for statement in &block.statements {
            self.statement(statement);
        }
    }

    fn arms(&mut self, arms: &[Arm]) {
        for arm in arms {
            self.mark(arm.span.start, 0, Start::Arm);
            self.block(&arm.block);
        }
    }

    fn keep(&mut self, keep: &Keep) {
        if let Some(block) = &keep.block {
            self.block(block);
        }
        self.arms(&keep.otherwise);
    }

    fn statement(&mut self, statement: &Statement) {
        self.row(statement.span);
        if let StatementKind::If { arms, last } = &statement.kind {
            return self.choice(arms, last.as_ref());
        }
        for block in statement.own_blocks() {
            self.block(block);
        }
        self.arms(statement.arms());
    }

    fn choice(&mut self, arms: &[(Condition, Block)], last: Option<&Block>) {
        for (number, (condition, block)) in arms.iter().enumerate() {
            if number > 0 {
                let first = condition.quantifier.map_or(condition.span, |(_, span)| span.to(condition.span));
                self.mark(first.start, 2, Start::Arm);
            }
            self.block(block);
        }
        if let Some(block) = last {
            self.mark(block.span.start, 1, Start::Arm);
            self.block(block);
        }
    }
}

impl Start {
    /// Whether a line begins here.
    pub(super) fn begins_line(self) -> bool {
        self != Start::Inside
    }
}
