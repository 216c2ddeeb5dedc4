//! Limits with one number: one-sided ones, exact counts, and lone numbers.

use dwell_quantity::{Band, Bound, Exact};
use dwell_syntax::tree::{self, Expr};

use super::{Found, Reader, with_unit, written};
use crate::trouble::Trouble;

impl Reader<'_> {
    /// `at least 2 mm`, `below 50 ppm`.
    pub(super) fn one_sided(&self, limit: &Expr, side: Side, troubles: &mut Vec<Trouble>) -> Option<Found> {
        let Some(written_limit) = constant(limit) else {
            troubles.push(Trouble::NotExecutable {
                place: self.wanted.place(limit.span()),
                what: "a limit here must be a number, not a formula".to_owned(),
                help: "write the number with its unit; work a limit out in the `expect` that needs it"
                    .to_owned(),
            });
            return None;
        };
        let (amount, value) = self.amount(written_limit, None, troubles)?;
        // On a scale that runs the other way, the larger number is the lower value.
        let low = side.low != amount.unit.descending();
        let zero = Exact::zero();
        if self.signed && (if low { value < zero } else { value > zero }) {
            let size = written_limit.number.text.trim_start_matches(['-', '+']);
            troubles.push(Trouble::OneSided {
                place: self.wanted.place(written_limit.span),
                quantity: self.wanted.label.to_owned(),
                suggestion: format!("within 0 ± {}", with_unit(size, written_limit)),
            });
            return None;
        }
        let bound = Bound { value, closed: side.closed };
        let band =
            if low { Band { low: Some(bound), high: None } } else { Band { low: None, high: Some(bound) } };
        Some(Found::of(band, &[&amount], format!("{} {}", side.words(), written(written_limit))))
    }

    /// `exactly 5`.
    pub(super) fn exactly(
        &self,
        amount: &tree::Amount,
        span: tree::Span,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Found> {
        if !self.wanted.kind.counted() {
            troubles.push(Trouble::NotExecutable {
                place: self.wanted.place(span),
                what: format!(
                    "{} is measured, not counted: `exactly` can hardly ever be met",
                    self.wanted.in_words()
                ),
                help: format!("give it a tolerance: `{} ± …`", written(amount)),
            });
            return None;
        }
        let (typed, value) = self.amount(amount, None, troubles)?;
        if !value.is_whole() {
            let why = "what is counted comes in whole numbers: no count can meet this".to_owned();
            return self.wanted.bad_number(&amount.number, why, troubles);
        }
        Some(Found::of(Band::exactly(value), &[&typed], format!("exactly {}", written(amount))))
    }

    /// A lone number.
    pub(super) fn bare(
        &self,
        amount: &tree::Amount,
        span: tree::Span,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Found> {
        let (typed, value) = self.amount(amount, None, troubles)?;
        if self.lone {
            return Some(Found::of(Band::exactly(value), &[&typed], written(amount)));
        }
        let (place, shown) = (self.wanted.place(span), written(amount));
        troubles.push(match self.side {
            Some(at_least) => Trouble::SideMissing {
                place,
                shown,
                quantity: self.wanted.label.to_owned(),
                at_least,
                declared: self.wanted.declared,
            },
            None => Trouble::BareNominal { place, shown, counted: self.wanted.kind.counted() },
        });
        None
    }
}

/// Which side a one-sided limit is on, and whether it is in itself.
#[derive(Clone, Copy)]
pub(super) struct Side {
    pub(super) low: bool,
    pub(super) closed: bool,
}

impl Side {
    fn words(self) -> &'static str {
        match (self.low, self.closed) {
            (true, true) => "at least",
            (false, true) => "at most",
            (true, false) => "above",
            (false, false) => "below",
        }
    }
}

/// The number that a formula is, where it is one.
fn constant(formula: &Expr) -> Option<&tree::Amount> {
    match formula {
        Expr::Amount(amount) => Some(amount),
        Expr::Group(inner, _) => constant(inner),
        _ => None,
    }
}
