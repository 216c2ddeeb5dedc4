//! Bands with two ends: from one value to another, or around a nominal value.

use dwell_quantity::{Amount, Band, Exact, Unit};
use dwell_syntax::tree;

use super::{Found, Reader, written};
use crate::trouble::Trouble;

impl Reader<'_> {
    /// `820 .. 880 rpm`.
    pub(super) fn range(
        &self,
        low: &tree::Amount,
        high: &tree::Amount,
        span: tree::Span,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Found> {
        let (low_unit, high_unit) = (self.own_unit(low, troubles)?, self.own_unit(high, troubles)?);
        let (bottom, low_value) = self.amount(low, high_unit, troubles)?;
        let (top, high_value) = self.amount(high, low_unit, troubles)?;
        let upwards = !bottom.unit.descending() && !top.unit.descending();
        let downwards = bottom.unit.descending() && top.unit.descending();
        if (upwards && low_value > high_value) || (downwards && low_value < high_value) {
            troubles.push(Trouble::BandReversed {
                place: self.wanted.place(span),
                low: bottom.to_string(),
                high: top.to_string(),
            });
            return None;
        }
        let text = format!("{} .. {}", written(low), written(high));
        Some(Found::of(Band::between(low_value, high_value), &[&top, &bottom], text))
    }

    /// `62 ± 6 Hz`, `12 V ± 5 %`.
    pub(super) fn plus_minus(
        &self,
        nominal: &tree::Amount,
        tolerance: &tree::Amount,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Found> {
        let (middle, value) = self.nominal(nominal, &[tolerance], troubles)?;
        let (size, step) = self.tolerance(&middle, tolerance, troubles)?;
        if size.number.value.is_negative() {
            let why = "a tolerance to both sides has no sign of its own: write it without one".to_owned();
            return self.wanted.bad_number(&tolerance.number, why, troubles);
        }
        let text = format!("{} ± {}", written(nominal), written(tolerance));
        let band = Band::exactly(value).widened(&step.abs());
        Some(Found::of(band, &[&middle, &size], text))
    }

    /// `25 +0.021 -0 mm`.
    pub(super) fn uneven(
        &self,
        nominal: &tree::Amount,
        plus: &tree::Amount,
        minus: &tree::Amount,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Found> {
        let (middle, value) = self.nominal(nominal, &[plus, minus], troubles)?;
        let shared = self.own_unit(plus, troubles)?.or(self.own_unit(minus, troubles)?);
        let own = |tolerance: &tree::Amount| match (&tolerance.unit, shared) {
            (None, Some(_)) => {
                let unit = plus.unit.clone().or_else(|| minus.unit.clone());
                tree::Amount { unit, ..tolerance.clone() }
            }
            _ => tolerance.clone(),
        };
        let (one, up) = self.tolerance(&middle, &own(plus), troubles)?;
        let (other, down) = self.tolerance(&middle, &own(minus), troubles)?;
        let text = format!("{} {} {}", written(nominal), written(plus), written(minus));
        let band = Band::between(&value + &up, &value + &down);
        Some(Found::of(band, &[&middle, &one, &other], text))
    }

    /// The nominal value; without a unit of its own it has that of its tolerance, unless that is a share. A tolerance of
    /// another kind is told as such: the nominal value does not lack a unit then.
    fn nominal(
        &self,
        nominal: &tree::Amount,
        tolerances: &[&tree::Amount],
        troubles: &mut Vec<Trouble>,
    ) -> Option<(Amount, Exact)> {
        let mut fallback = None;
        for tolerance in tolerances {
            fallback = fallback.or(self.own_unit(tolerance, troubles)?);
        }
        let kind = self.wanted.kind;
        let usable = fallback.filter(|unit| unit.measures(kind) && (!is_share(*unit) || !kind.bare()));
        let bare_share = fallback.is_some_and(|unit| is_share(unit) && unit.measures(kind) && kind.bare());
        if nominal.unit.is_none() && !nominal.number.compound && bare_share {
            return self.wanted.unit_missing(nominal, troubles);
        }
        if nominal.unit.is_none() && usable.is_none() {
            for tolerance in tolerances.iter().filter(|tolerance| tolerance.unit.is_some()) {
                let typed = self.wanted.typed(tolerance, None, troubles)?;
                if !is_share(typed.unit) {
                    self.wanted.base(tolerance, &typed, true, troubles)?;
                }
            }
        }
        self.amount(nominal, usable, troubles)
    }

    /// A tolerance on the nominal value, and how far it leads in base units. A share is one of the nominal value, but
    /// points where the nominal value is a share itself.
    fn tolerance(
        &self,
        nominal: &Amount,
        tolerance: &tree::Amount,
        troubles: &mut Vec<Trouble>,
    ) -> Option<(Amount, Exact)> {
        let typed = self.wanted.typed(tolerance, Some(nominal.unit), troubles)?;
        if typed.unit.symbol() == "%" && !is_share(nominal.unit) {
            let share = &typed.number.value * &typed.unit.factor();
            let step = &nominal.number.value.abs() * &share * nominal.unit.factor();
            return Some((typed, step));
        }
        let step = self.wanted.base(tolerance, &typed, true, troubles)?;
        let turned = nominal.unit.descending() != typed.unit.descending();
        Some((typed, if turned { -step } else { step }))
    }
}

/// Whether a unit is per cent of something.
fn is_share(unit: Unit) -> bool {
    unit.symbol().starts_with('%')
}
