//! Amounts: a number and a unit as typed, made exact in the base unit of the kind that is wanted.

use dwell_quantity::{
    Amount, Band, Decimal, Exact, Kind, Lookup, NumberError, Printed, Unit, lookup, units_for,
};
use dwell_syntax::tree;

use crate::finding::Place;
use crate::limits::{self, Side};
use crate::trouble::Trouble;

/// The most units that are suggested where one is missing.
const MOST_UNITS: usize = 4;

/// The value of an amount in the base unit of `kind`; with `difference` that of a tolerance or step on it, which has no
/// zero of its own. `label` says for people what it is an amount of. `None` where something is wrong with it, which is
/// told.
pub fn amount(
    file: usize,
    amount: &tree::Amount,
    kind: Kind,
    label: &str,
    difference: bool,
    troubles: &mut Vec<Trouble>,
) -> Option<Exact> {
    let wanted = Wanted { file, kind, label, declared: None };
    let typed = wanted.typed(amount, None, troubles)?;
    wanted.base(amount, &typed, difference, troubles)
}

/// The value of an amount alone, whatever is wrong with it or with what stands beside it.
pub(crate) fn alone(file: usize, written: &tree::Amount, kind: Kind, difference: bool) -> Option<Exact> {
    let wanted = Wanted { file, kind, label: "", declared: None };
    let typed = wanted.typed(written, None, &mut Vec::new())?;
    wanted.alone(written, &typed, difference, &mut Vec::new())
}

/// A limit on one side, `low` for a lower one: as [`amount`], but its second unit is rounded inwards.
pub(crate) fn limit(
    file: usize,
    written: &tree::Amount,
    kind: Kind,
    label: &str,
    low: bool,
    troubles: &mut Vec<Trouble>,
) -> Option<Exact> {
    let Some(second) = &written.second else { return amount(file, written, kind, label, false, troubles) };
    let wanted = Wanted { file, kind, label, declared: None };
    let mut side = |amount: &tree::Amount| {
        let typed = wanted.typed(amount, None, troubles)?;
        let value = wanted.alone(amount, &typed, false, troubles)?;
        let band = if low { Band::at_least(value.clone()) } else { Band::at_most(value.clone()) };
        let printed = Printed { band, unit: typed.unit, decimals: typed.number.decimals, parts: None };
        Some((value, printed, as_written(amount)))
    };
    let (value, one, first) = side(written)?;
    if let Some((_, other, text)) = side(second) {
        let (one, other) = (Side { printed: one, written: &first }, Side { printed: other, written: &text });
        let whole = wanted.place(written.span.to(second.span));
        limits::pair(kind, whole, wanted.place(second.span), &one, &other, troubles);
    }
    Some(value)
}

/// An amount as it was typed.
pub(super) fn as_written(amount: &tree::Amount) -> String {
    match &amount.unit {
        Some(unit) if !amount.number.compound => format!("{} {}", amount.number.text, unit.text),
        _ => amount.number.text.clone(),
    }
}

/// What an amount is to be an amount of.
#[derive(Clone, Copy)]
pub(super) struct Wanted<'a> {
    pub(super) file: usize,
    pub(super) kind: Kind,
    /// For people.
    pub(super) label: &'a str,
    /// Where that is declared.
    pub(super) declared: Option<Place>,
}

impl Wanted<'_> {
    /// The amount as typed: its number and its unit, or `fallback` where it has none of its own.
    pub(super) fn typed(
        &self,
        amount: &tree::Amount,
        fallback: Option<Unit>,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Amount> {
        if amount.number.compound {
            return match Amount::compound(&amount.number.text) {
                Ok(amount) => Some(amount),
                Err(NumberError::NotANumber) => {
                    let why = "the parts of this number do not fit together: minutes and seconds go up to 59";
                    self.bad_number(&amount.number, why.to_owned(), troubles)
                }
                Err(why) => self.bad_number(&amount.number, why.to_string(), troubles),
            };
        }
        let unit = match &amount.unit {
            Some(name) => self.unit(name, troubles)?,
            None => match fallback.or_else(|| self.kind.bare().then_some(Unit::ONE)) {
                Some(unit) => unit,
                None => return self.unit_missing(amount, troubles),
            },
        };
        match Decimal::parse(&amount.number.text) {
            Ok(number) => Some(Amount::new(number, unit)),
            Err(why) => self.bad_number(&amount.number, why.to_string(), troubles),
        }
    }

    /// The unit that a spelling means.
    pub(super) fn unit(&self, name: &tree::Name, troubles: &mut Vec<Trouble>) -> Option<Unit> {
        let place = self.place(name.span);
        let unit = name.text.clone();
        let trouble = match lookup(&unit) {
            Lookup::Unit(unit) => return Some(unit),
            Lookup::Ambiguous { why, choices } => Trouble::UnitAmbiguous {
                place,
                unit,
                why: why.to_owned(),
                choices: choices.into_iter().map(str::to_owned).collect(),
            },
            Lookup::Unknown { suggestions } => Trouble::UnitUnknown {
                place,
                unit,
                near: suggestions.into_iter().map(str::to_owned).collect(),
            },
        };
        troubles.push(trouble);
        None
    }

    /// The value in base units, or a difference of two; its second unit, where it has one, must say the same.
    pub(super) fn base(
        &self,
        written: &tree::Amount,
        amount: &Amount,
        difference: bool,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Exact> {
        let value = self.alone(written, amount, difference, troubles)?;
        if let Some(second) = &written.second
            && let Some(typed) = self.typed(second, None, troubles)
            && let Some(other) = self.alone(second, &typed, difference, troubles)
        {
            let kind = if difference { self.kind.difference() } else { self.kind };
            let side = |value: &Exact, amount: &Amount| Printed {
                band: Band::exactly(value.clone()),
                unit: if difference { amount.unit.difference() } else { amount.unit },
                decimals: amount.number.decimals,
                parts: None,
            };
            let one = Side { printed: side(&value, amount), written: &as_written(written) };
            let other = Side { printed: side(&other, &typed), written: &as_written(second) };
            let whole = self.place(written.span.to(second.span));
            limits::pair(kind, whole, self.place(second.span), &one, &other, troubles);
        }
        Some(value)
    }

    /// The value in base units, whatever stands beside it.
    fn alone(
        &self,
        written: &tree::Amount,
        amount: &Amount,
        difference: bool,
        troubles: &mut Vec<Trouble>,
    ) -> Option<Exact> {
        let value = if difference { amount.in_base_difference(self.kind) } else { amount.in_base(self.kind) };
        match value {
            Ok(value) => Some(value),
            Err(_) if amount.unit == Unit::ONE => self.unit_missing(written, troubles),
            Err(_) => {
                troubles.push(Trouble::KindMismatch {
                    place: self.place(written.span),
                    other: self.declared,
                    first: format!("{amount} ({})", kinds_of(amount.unit)),
                    second: self.in_words(),
                    why: amount
                        .unit
                        .kinds()
                        .iter()
                        .find_map(|kind| kind.why_not(self.kind))
                        .map(str::to_owned),
                });
                None
            }
        }
    }

    /// A limit without a unit.
    pub(super) fn unit_missing<T>(&self, amount: &tree::Amount, troubles: &mut Vec<Trouble>) -> Option<T> {
        let usual = self.kind.usual_unit();
        let others = units_for(self.kind).into_iter().filter(|unit| *unit != usual);
        let units = std::iter::once(usual).chain(others).map(|unit| unit.symbol().to_owned());
        troubles.push(Trouble::UnitMissing {
            place: self.place(amount.span),
            number: amount.number.text.clone(),
            units: units.filter(|unit| !unit.is_empty()).take(MOST_UNITS).collect(),
        });
        None
    }

    /// A number that is none.
    pub(super) fn bad_number<T>(
        &self,
        number: &tree::Number,
        why: String,
        troubles: &mut Vec<Trouble>,
    ) -> Option<T> {
        troubles.push(Trouble::BadNumber { place: self.place(number.span), why });
        None
    }

    /// What is wanted, with its kind.
    pub(super) fn in_words(&self) -> String {
        if self.label == self.kind.name() {
            self.label.to_owned()
        } else if self.declared.is_some() {
            format!("`{}` ({})", self.label, self.kind)
        } else {
            format!("{} ({})", self.label, self.kind)
        }
    }

    pub(super) fn place(&self, span: tree::Span) -> Place {
        Place { file: self.file, span }
    }
}

/// The kinds that a unit measures, at most three, in words.
fn kinds_of(unit: Unit) -> String {
    let kinds: Vec<&str> = unit.kinds().iter().take(3).map(|kind| kind.name()).collect();
    match kinds.split_last() {
        Some((last, first)) if !first.is_empty() => format!("{} or {last}", first.join(", ")),
        Some((last, _)) => (*last).to_owned(),
        None => String::new(),
    }
}
