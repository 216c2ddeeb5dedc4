//! What a table is looked up at where something is judged by it, and whether that is what the table goes by.

use super::{Lowerer, words};
use dwell_card::limit::Formula;
use dwell_syntax::tree::{Expr, Name};

impl Lowerer<'_> {
    /// The value that the limit is looked up at. A table must have one, of the quantity of its rows; a spec has none.
    pub(super) fn looked_up(&mut self, spec: usize, name: &Name, at: Option<&Expr>) -> Option<Formula> {
        let model = self.model;
        let known = model.specs.get(spec)?;
        let Some(rows) = &known.rows else {
            if let Some(at) = at {
                self.cannot(
                    self.place(at.span()),
                    format!("`{}` is no table: it is the same at every value", known.name),
                    "take out `at` and what follows it",
                );
            }
            return None;
        };
        let by = words::quantity(model, rows.by);
        let Some(at) = at else {
            self.cannot(
                self.place(name.span),
                format!(
                    "`{}` is a table by {by}, and nothing says at which value it is looked up",
                    known.name
                ),
                format!("write `{} at …`, with the reading of {by}", known.name),
            );
            return None;
        };
        let (formula, quantity) = self.expression(at)?;
        if let Some(quantity) = quantity
            && !model.may_meet(quantity, rows.by)
        {
            self.mismatch(self.place(at.span()), Some(known.place), quantity, rows.by);
        }
        Some(formula)
    }
}
