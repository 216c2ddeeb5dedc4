//! Bands as written to bands as meant: every form, every place a unit may stand, exact in base units.

use dwell_quantity::{Amount, Band, Bound, Exact, Unit, from_base};
use dwell_syntax::tree::{self, BandForm, Expr};

use super::amount::Wanted;
use crate::model::{Model, QuantityRef, ResolvedBand};
use crate::trouble::Trouble;

/// The most decimals beyond those typed that a band is shown with.
const MORE_DECIMALS: u32 = 3;

/// A band for a quantity. A second unit in parentheses is read and must be one of the kind; the first is what counts.
/// `None` where something is wrong with it, which is told: a lone number, a formula where a number must stand, a
/// one-sided limit that lets readings of the wrong sign through.
pub fn band(
    model: &Model,
    file: usize,
    band: &tree::Band,
    quantity: QuantityRef,
    troubles: &mut Vec<Trouble>,
) -> Option<ResolvedBand> {
    reader(model, file, quantity, None)?.whole(band, troubles)
}

/// As [`band`], where a lone number stands for itself and one side is enough: a key of a table, a span that is never
/// left, the one value that a tool sets.
pub(super) fn lone_or_band(
    model: &Model,
    file: usize,
    band: &tree::Band,
    quantity: QuantityRef,
    label: &str,
    troubles: &mut Vec<Trouble>,
) -> Option<ResolvedBand> {
    let mut reader = reader(model, file, quantity, Some(label))?;
    reader.lone = true;
    reader.signed = false;
    reader.whole(band, troubles)
}

fn reader<'a>(
    model: &'a Model,
    file: usize,
    quantity: QuantityRef,
    label: Option<&'a str>,
) -> Option<Reader<'a>> {
    let kind = model.kind(quantity)?;
    let declared = match quantity {
        QuantityRef::Kind(_) => None,
        QuantityRef::Declared(place) => model.quantities.get(place),
    };
    // A quantity that is never below (or above) zero has no wrong sign.
    let one_signed = declared.is_some_and(|quantity| {
        let zero = Exact::zero();
        quantity.span.low.as_ref().is_some_and(|low| low.value >= zero)
            || quantity.span.high.as_ref().is_some_and(|high| high.value <= zero)
    });
    let label = label.unwrap_or_else(|| model.quantity_name(quantity));
    let wanted = Wanted { file, kind, label, declared: declared.map(|quantity| quantity.place) };
    Some(Reader { wanted, lone: false, signed: kind.signed() && !one_signed })
}

/// Reads bands of one quantity.
struct Reader<'a> {
    wanted: Wanted<'a>,
    /// Whether a lone number may stand for itself.
    lone: bool,
    /// Whether one-sided limits may let the wrong sign through.
    signed: bool,
}

/// A band, its unit, its text and the most decimals typed.
struct Found {
    band: Band,
    unit: Unit,
    written: String,
    decimals: u32,
}

impl Found {
    fn of(band: Band, amounts: &[&Amount], written: String) -> Found {
        let unit = amounts.first().map_or(Unit::ONE, |amount| amount.unit);
        let same = amounts.iter().filter(|amount| amount.unit == unit);
        let decimals = same.map(|amount| amount.number.decimals).max().unwrap_or(0);
        Found { band, unit, written, decimals }
    }
}

impl Reader<'_> {
    /// The band with its target and its second unit.
    fn whole(&self, written: &tree::Band, troubles: &mut Vec<Trouble>) -> Option<ResolvedBand> {
        let found = self.form(&written.form, written.span, troubles);
        let unit = found.as_ref().map(|found| found.unit);
        let target = match &written.target {
            None => Some(None),
            Some(target) => self.amount(target, unit, troubles).map(|(_, value)| Some(value)),
        };
        if let Some(second) = &written.second {
            let reader = Reader { wanted: self.wanted, lone: true, signed: false };
            reader.form(&second.form, second.span, troubles);
        }
        let found = found?;
        Some(ResolvedBand {
            decimals: self.decimals(&found),
            band: found.band,
            unit: found.unit,
            target: target?,
            written: found.written,
            place: self.wanted.place(written.span),
        })
    }

    fn form(&self, form: &BandForm, span: tree::Span, troubles: &mut Vec<Trouble>) -> Option<Found> {
        match form {
            BandForm::Range(low, high) => self.range(low, high, span, troubles),
            BandForm::PlusMinus(nominal, tolerance) => self.plus_minus(nominal, tolerance, troubles),
            BandForm::Uneven(nominal, plus, minus) => self.uneven(nominal, plus, minus, troubles),
            BandForm::AtLeast(limit) => self.one_sided(limit, Side { low: true, closed: true }, troubles),
            BandForm::AtMost(limit) => self.one_sided(limit, Side { low: false, closed: true }, troubles),
            BandForm::Above(limit) => self.one_sided(limit, Side { low: true, closed: false }, troubles),
            BandForm::Below(limit) => self.one_sided(limit, Side { low: false, closed: false }, troubles),
            BandForm::Exactly(amount) => self.exactly(amount, span, troubles),
            BandForm::Bare(amount) => self.bare(amount, span, troubles),
        }
    }

    /// `820 .. 880 rpm`.
    fn range(
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
    fn plus_minus(
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
    fn uneven(
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

    /// `at least 2 mm`, `below 50 ppm`.
    fn one_sided(&self, limit: &Expr, side: Side, troubles: &mut Vec<Trouble>) -> Option<Found> {
        let Some(written_limit) = constant(limit) else {
            troubles.push(Trouble::NotExecutable {
                place: self.wanted.place(limit.span()),
                what: "a limit here must be a number, not a formula".to_owned(),
                help: "write the number with its unit; compute a limit in the `expect` that needs it"
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
    fn exactly(&self, amount: &tree::Amount, span: tree::Span, troubles: &mut Vec<Trouble>) -> Option<Found> {
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
    fn bare(&self, amount: &tree::Amount, span: tree::Span, troubles: &mut Vec<Trouble>) -> Option<Found> {
        let (typed, value) = self.amount(amount, None, troubles)?;
        if self.lone {
            return Some(Found::of(Band::exactly(value), &[&typed], written(amount)));
        }
        let shown = written(amount);
        let help = if self.wanted.kind.counted() {
            format!("write `exactly {shown}`, `at least {shown}` or `at most {shown}`")
        } else {
            format!("write how far it may be off, `{shown} ± …`, or `at least {shown}` or `at most {shown}`")
        };
        let what = format!("a single number is no limit: {shown} is at least, at most, or how near?");
        troubles.push(Trouble::NotExecutable { place: self.wanted.place(span), what, help });
        None
    }

    /// The nominal value; without a unit of its own it has that of its tolerance, unless that is a share.
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

    /// An amount and its value in base units.
    fn amount(
        &self,
        amount: &tree::Amount,
        fallback: Option<Unit>,
        troubles: &mut Vec<Trouble>,
    ) -> Option<(Amount, Exact)> {
        let typed = self.wanted.typed(amount, fallback, troubles)?;
        let value = self.wanted.base(amount, &typed, false, troubles)?;
        Some((typed, value))
    }

    /// The unit that an amount has of its own; the outer `None` where it is none, which is told.
    fn own_unit(&self, amount: &tree::Amount, troubles: &mut Vec<Trouble>) -> Option<Option<Unit>> {
        if amount.number.compound {
            return Some(Amount::compound(&amount.number.text).ok().map(|amount| amount.unit));
        }
        match &amount.unit {
            None => Some(None),
            Some(name) => self.wanted.unit(name, troubles).map(Some),
        }
    }

    /// How many decimals the band is shown with: those typed, and up to three more where a limit needs them.
    fn decimals(&self, found: &Found) -> u32 {
        let ends = [&found.band.low, &found.band.high].into_iter().flatten();
        let needed =
            ends.filter_map(|end| from_base(&end.value, found.unit, self.wanted.kind).decimals_needed());
        found.decimals.max(needed.max().unwrap_or(0).min(found.decimals + MORE_DECIMALS))
    }
}

/// Which side a one-sided limit is on, and whether it is in itself.
#[derive(Clone, Copy)]
struct Side {
    low: bool,
    closed: bool,
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

/// Whether a unit is per cent of something.
fn is_share(unit: Unit) -> bool {
    unit.symbol().starts_with('%')
}

/// The number that a formula is, where it is one.
fn constant(formula: &Expr) -> Option<&tree::Amount> {
    match formula {
        Expr::Amount(amount) => Some(amount),
        Expr::Group(inner, _) => constant(inner),
        _ => None,
    }
}

/// An amount as it was typed.
fn written(amount: &tree::Amount) -> String {
    with_unit(&amount.number.text, amount)
}

/// A number with the unit of an amount.
fn with_unit(number: &str, amount: &tree::Amount) -> String {
    match &amount.unit {
        Some(unit) if !amount.number.compound => format!("{number} {}", unit.text),
        _ => number.to_owned(),
    }
}
