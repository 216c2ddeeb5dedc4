//! The forms of bands, formulas and conditions.

use dwell_syntax::tree::{
    Band, BandForm, Condition, Expr, Fold, Function, Joint, Operator, Quantifier, TestKind,
};

use super::Met;

/// Every form, as a reader knows it.
pub(super) const ALL: &[&str] = &[
    "low .. high",
    "nominal ± tolerance",
    "nominal + plus - minus",
    "at least",
    "at most",
    "above",
    "below",
    "exactly",
    "target",
    "a second unit",
    "a second unit of one amount",
    "a number in a formula",
    "X at a place",
    "first X",
    "target of",
    "sine of",
    "root of",
    "a share of",
    "+",
    "-",
    "*",
    "/",
    "parentheses",
    "lowest",
    "highest",
    "mean",
    "spread",
    "sum",
    "furthest",
    "last",
    "every",
    "any",
    "and",
    "or",
    "meets",
    "misses",
    "meets a table at",
    "a band in a condition",
    "is",
    "is not",
    "is one of several",
];

impl Met {
    /// A band. A lone number is a point of a table, no band.
    pub(super) fn band(&mut self, band: &Band) {
        match &band.form {
            BandForm::Range(..) => self.form("low .. high"),
            BandForm::PlusMinus(..) => self.form("nominal ± tolerance"),
            BandForm::Uneven(..) => self.form("nominal + plus - minus"),
            BandForm::AtLeast(end) => self.bound("at least", end),
            BandForm::AtMost(end) => self.bound("at most", end),
            BandForm::Above(end) => self.bound("above", end),
            BandForm::Below(end) => self.bound("below", end),
            BandForm::Exactly(_) => self.form("exactly"),
            BandForm::Bare(_) => {}
        }
        if let Some(target) = self.part(&band.target, "target") {
            self.part(&target.second, "a second unit of one amount");
        }
        if let Some(second) = self.part(&band.second, "a second unit") {
            self.band(second);
        }
    }

    fn bound(&mut self, form: &'static str, end: &Expr) {
        self.form(form);
        self.formula(end);
    }

    /// A formula.
    pub(super) fn formula(&mut self, formula: &Expr) {
        match formula {
            Expr::Amount(_) => self.form("a number in a formula"),
            Expr::Name(_) => {}
            Expr::At(inner, _) => self.bound("X at a place", inner),
            Expr::First(_) => self.form("first X"),
            Expr::Fold(fold, inner, _) => {
                self.fold(*fold);
                self.formula(inner);
            }
            Expr::Function(function, inner, _) => {
                self.form(match function {
                    Function::Sine => "sine of",
                    Function::Root => "root of",
                });
                self.formula(inner);
            }
            Expr::TargetOf(_) => self.form("target of"),
            Expr::Share(_, inner) => self.bound("a share of", inner),
            Expr::Binary(operator, left, right) => {
                self.form(match operator {
                    Operator::Plus => "+",
                    Operator::Minus => "-",
                    Operator::Times => "*",
                    Operator::Over => "/",
                });
                self.formula(left);
                self.formula(right);
            }
            Expr::Group(inner, _) => self.bound("parentheses", inner),
        }
    }

    /// How several values become one.
    pub(super) fn fold(&mut self, fold: Fold) {
        self.form(match fold {
            Fold::Lowest => "lowest",
            Fold::Highest => "highest",
            Fold::Mean => "mean",
            Fold::Spread => "spread",
            Fold::Sum => "sum",
            Fold::Furthest => "furthest",
            Fold::Last => "last",
        });
    }

    /// A condition.
    pub(super) fn condition(&mut self, condition: &Condition) {
        if let Some((quantifier, _)) = condition.quantifier {
            self.form(match quantifier {
                Quantifier::Every => "every",
                Quantifier::Any => "any",
            });
        }
        if condition.tests.len() > 1 {
            self.form(match condition.joint {
                Joint::And => "and",
                Joint::Or => "or",
            });
        }
        for test in &condition.tests {
            match &test.kind {
                TestKind::Meets { what, misses, at, .. } => {
                    self.form(if *misses { "misses" } else { "meets" });
                    self.formula(what);
                    if let Some(at) = self.part(at, "meets a table at") {
                        self.formula(at);
                    }
                }
                TestKind::Band { what, band } => {
                    self.form("a band in a condition");
                    self.formula(what);
                    self.band(band);
                }
                TestKind::Is { not, values, .. } => {
                    self.form(if *not { "is not" } else { "is" });
                    if values.len() > 1 {
                        self.form("is one of several");
                    }
                }
            }
        }
    }
}
