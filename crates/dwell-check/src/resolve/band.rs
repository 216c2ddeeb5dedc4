//! Bands as written to bands as meant: every form, every place a unit may stand, exact in base units.

mod one_ended;
mod two_ended;

use dwell_quantity::{Amount, Band, Decimal, Exact, Lookup, Printed, Unit, from_base, lookup};
use dwell_syntax::tree::{self, BandForm};

use self::one_ended::Side;
use super::amount::Wanted;
use crate::limits;
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
    let limit = reader(model, file, quantity, None)?.whole(band, troubles)?;
    limits::impossible(model, quantity, &limit, troubles);
    limits::single_point(model.kind(quantity)?, &limit, troubles);
    Some(limit)
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
    let side = declared.and_then(|quantity| quantity.side);
    Some(Reader { wanted, lone: false, signed: kind.signed() && !one_signed, side })
}

/// Reads bands of one quantity.
struct Reader<'a> {
    wanted: Wanted<'a>,
    /// Whether a lone number may stand for itself.
    lone: bool,
    /// Whether one-sided limits may let the wrong sign through.
    signed: bool,
    /// The side that its limits are on, where it is declared: `true` for at least.
    side: Option<bool>,
}

/// A band, its unit, its text and the most decimals typed.
#[derive(Clone)]
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
        let second = written.second.as_ref().and_then(|second| {
            let reader = Reader { wanted: self.wanted, lone: true, signed: false, side: None };
            Some((reader.form(&second.form, second.span, troubles)?, second))
        });
        // A lone number is no limit; what is printed beside it must be the same value all the same.
        let lone = || {
            let reader = Reader { wanted: self.wanted, lone: true, signed: false, side: None };
            match written.form {
                BandForm::Bare(_) => reader.form(&written.form, written.span, &mut Vec::new()),
                _ => None,
            }
        };
        if let Some((second, tree)) = second
            && let Some(found) = found.clone().or_else(lone)
        {
            let whole = self.wanted.place(written.span);
            let one = limits::Side { printed: printed(&found, &written.form), written: &found.written };
            let other = limits::Side { printed: printed(&second, &tree.form), written: &second.written };
            limits::pair(self.wanted.kind, whole, self.wanted.place(tree.span), &one, &other, troubles);
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

/// A band with the digits that it was typed with.
fn printed(found: &Found, form: &BandForm) -> Printed {
    let number = |amount: &tree::Amount| Some(Decimal::parse(&amount.number.text).ok()?.value);
    let parts = match form {
        BandForm::PlusMinus(nominal, tolerance) if is_plain(tolerance, found.unit) => {
            number(nominal).zip(number(tolerance))
        }
        _ => None,
    };
    Printed { band: found.band.clone(), unit: found.unit, decimals: found.decimals, parts }
}

/// Whether a tolerance is in the unit of its nominal value, or has none of its own.
fn is_plain(tolerance: &tree::Amount, unit: Unit) -> bool {
    !tolerance.number.compound
        && tolerance.unit.as_ref().is_none_or(|name| lookup(&name.text) == Lookup::Unit(unit))
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
