//! The names in amounts, bands, formulas and conditions.

use super::{Role, Sort, Spot, Walk, What};
use dwell_syntax::tree::{Amount, Band, BandForm, ComputedBand, Condition, Expr, Name, Test, TestKind};

/// What is asked of the samples of a reading.
const OF_SAMPLES: [&str; 2] = ["steady", "fluctuating"];

impl<'a> Walk<'a> {
    /// The units of an amount.
    pub(super) fn amount(&mut self, amount: &'a Amount) {
        let Amount { number: _, unit, second, span } = amount;
        self.parts.push(*span);
        self.unit(unit.as_ref());
        if let Some(second) = second {
            self.amount(second);
        }
    }

    pub(super) fn unit(&mut self, unit: Option<&'a Name>) {
        if let Some(unit) = unit {
            self.note(unit, Role::Refers, Sort::Fixed(What::Unit));
        }
    }

    pub(super) fn band(&mut self, band: &'a Band) {
        let Band { form, target, second, span } = band;
        self.parts.push(*span);
        match form {
            BandForm::Range(one, other) | BandForm::PlusMinus(one, other) => {
                self.amount(one);
                self.amount(other);
            }
            BandForm::Uneven(nominal, plus, minus) => {
                [nominal, plus, minus].into_iter().for_each(|amount| self.amount(amount));
            }
            BandForm::AtLeast(end) | BandForm::AtMost(end) | BandForm::Above(end) | BandForm::Below(end) => {
                self.formula(end);
            }
            BandForm::Exactly(amount) | BandForm::Bare(amount) => self.amount(amount),
        }
        target.iter().for_each(|amount| self.amount(amount));
        if let Some(second) = second {
            self.band(second);
        }
    }

    pub(super) fn computed_band(&mut self, band: &'a ComputedBand) {
        let ComputedBand { low, high, never, span } = band;
        self.parts.push(*span);
        for (end, _) in [low, high].into_iter().flatten() {
            self.formula(end);
        }
        never.iter().for_each(|(_, amount)| self.amount(amount));
    }

    pub(super) fn formula(&mut self, formula: &'a Expr) {
        self.parts.push(formula.span());
        match formula {
            Expr::Amount(amount) => self.amount(amount),
            Expr::Name(name) | Expr::First(name) => self.reading(name),
            Expr::At(inner, place) => {
                self.formula(inner);
                let spot = match inner.as_ref() {
                    Expr::Name(name) => self.spot(&name.text),
                    _ => Spot::Reading(None, None),
                };
                self.note(place, Role::Refers, Sort::Place(spot));
            }
            Expr::Fold(_, inner, _) | Expr::Function(_, inner, _) | Expr::Group(inner, _) => {
                self.formula(inner)
            }
            Expr::TargetOf(spec) => self.local_or(spec, What::Spec),
            Expr::Share(share, inner) => {
                self.amount(share);
                self.formula(inner);
            }
            Expr::Binary(_, left, right) => {
                self.formula(left);
                self.formula(right);
            }
        }
    }

    /// A reading of this procedure; in a declaration a quantity.
    pub(super) fn reading(&mut self, name: &'a Name) {
        self.known_reading(name, Role::Refers);
    }

    pub(super) fn known_reading(&mut self, name: &'a Name, role: Role) {
        let sort = match (&self.of, self.local(&name.text)) {
            (_, Some(local)) => Sort::Local(local.what),
            (Some(_), None) => Sort::Missing(What::Reading),
            (None, None) => Sort::Thing(What::Quantity),
        };
        self.note(name, role, sort);
    }

    /// The places of a reading.
    pub(super) fn spot(&self, reading: &str) -> Spot<'a> {
        let local = self.local(reading);
        Spot::Reading(local.and_then(|local| local.quantity), local.and_then(|local| local.bound))
    }

    pub(super) fn condition(&mut self, condition: &'a Condition) {
        let Condition { quantifier: _, joint: _, tests, span } = condition;
        self.parts.push(*span);
        for Test { kind, span } in tests {
            self.parts.push(*span);
            match kind {
                TestKind::Meets { what, misses: _, spec, at } => {
                    self.formula(what);
                    self.local_or(spec, What::Spec);
                    at.iter().for_each(|at| self.formula(at));
                }
                TestKind::Band { what, band } => {
                    self.formula(what);
                    self.band(band);
                }
                TestKind::Is { name, at, not: _, values, within } => {
                    self.is(name, at.as_ref(), values);
                    within.iter().for_each(|amount| self.amount(amount));
                }
            }
        }
    }

    /// `X is Y`: an answer, a reading that is steady, a variant, a place in hand, a state.
    fn is(&mut self, name: &'a Name, at: Option<&'a Name>, values: &'a [Name]) {
        let local = self.local(&name.text).filter(|local| {
            local.what == What::Question
                || values.iter().any(|value| OF_SAMPLES.contains(&value.text.as_str()))
        });
        let Some(local) = local else {
            self.refers(name, What::Item);
            self.place_of(at, Spot::Item(name));
            for value in values {
                self.note(value, Role::Refers, Sort::Value(name));
            }
            return;
        };
        self.note(name, Role::Refers, Sort::Local(local.what));
        self.place_of(at, self.spot(&name.text));
        for value in values {
            let sort = match local.what {
                What::Question => Sort::Answer(&name.text),
                _ => Sort::Fixed(What::Word),
            };
            self.note(value, Role::Refers, sort);
        }
    }

    pub(super) fn place_of(&mut self, at: Option<&'a Name>, spot: Spot<'a>) {
        if let Some(at) = at {
            self.note(at, Role::Refers, Sort::Place(spot));
        }
    }
}
