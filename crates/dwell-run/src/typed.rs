//! A value as it was typed, made exact and brought to the base unit; or refused with the reason.

use crate::refusal::Refusal;
use dwell_card::meaning::Value;
use dwell_quantity::{Amount, Band, Decimal, Kind, Lookup, NumberError, Unit, lookup};
use dwell_record::event::Sample;

/// A value that was taken.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Typed {
    /// Where it lies, in base units; a point for a number.
    pub band: Band,
    /// The decimals that were typed, where the unit was the one asked for.
    pub decimals: Option<u32>,
    /// What was typed, with its unit.
    pub sample: Sample,
}

/// The words that mean "nothing could be read".
const NOTHING: [&str; 2] = ["no reading", "not readable"];

/// Which end of an interval was typed.
#[derive(Clone, Copy)]
enum Word {
    Above,
    Below,
    AtLeast,
    AtMost,
}

const WORDS: [(&str, Word); 4] = [
    ("above ", Word::Above),
    ("below ", Word::Below),
    ("at least ", Word::AtLeast),
    ("at most ", Word::AtMost),
];

/// Whether a text says that nothing could be read.
pub(crate) fn says_nothing(text: &str) -> bool {
    NOTHING.contains(&text.trim().to_lowercase().as_str())
}

/// What a typed text comes to, in base units: a number, an interval, or none for "no reading"; nothing where it cannot be read.
pub fn typed_value(text: &str, unit: &str, kind: Kind) -> Option<Value> {
    if says_nothing(text) {
        return Some(Value::Missing);
    }
    let asked = match lookup(unit) {
        Lookup::Unit(unit) => unit,
        // A count has no unit, and is not found among the spellings.
        _ => Unit::all().find(|known| known.symbol() == unit)?,
    };
    let stated = Some(unit).filter(|unit| !unit.is_empty());
    typed(text, stated, kind, asked).ok().map(|typed| Value::Read(typed.band))
}

/// Reads a value of `kind`. `stated` is the unit that the source states, `asked` the one that is asked for.
pub(crate) fn typed(text: &str, stated: Option<&str>, kind: Kind, asked: Unit) -> Result<Typed, Refusal> {
    let text = text.trim();
    let word = WORDS.iter().find_map(|(word, what)| Some((*word, *what, text.strip_prefix(word)?)));
    let number = word.map_or(text, |(_, _, rest)| rest.trim());
    let amount = amount(number, stated, asked)?;
    let value = amount.in_base(kind).map_err(|mismatch| Refusal::OtherKind(mismatch.to_string()))?;
    let turned = amount.unit.descending();
    let band = match word.map(|(_, word, _)| word) {
        None => Band::exactly(value),
        Some(Word::Above) if turned => Band::below(value),
        Some(Word::Below) if turned => Band::above(value),
        Some(Word::AtLeast) if turned => Band::at_most(value),
        Some(Word::AtMost) if turned => Band::at_least(value),
        Some(Word::Above) => Band::above(value),
        Some(Word::Below) => Band::below(value),
        Some(Word::AtLeast) => Band::at_least(value),
        Some(Word::AtMost) => Band::at_most(value),
    };
    let sample = Sample::Typed {
        text: format!("{}{}", word.map_or("", |(word, _, _)| word), written(&amount)),
        unit: amount.unit.symbol().to_owned(),
        kept: false,
    };
    Ok(Typed { band, decimals: (amount.unit == asked).then_some(amount.number.decimals), sample })
}

/// The number as it was typed; with its units where it has several (`0° 30′`).
fn written(amount: &Amount) -> String {
    amount.number.to_string()
}

fn amount(text: &str, stated: Option<&str>, asked: Unit) -> Result<Amount, Refusal> {
    let refused = |why: NumberError| Refusal::Number { typed: text.to_owned(), why };
    let why = match Decimal::parse(text) {
        Ok(number) => {
            let stated = stated.map(str::trim).filter(|unit| !unit.is_empty());
            let unit = match stated {
                Some(unit) => known_unit(unit)?,
                None if asked.symbol().is_empty() => asked,
                None => {
                    let asked = asked.symbol().to_owned();
                    return Err(Refusal::UnitMissing { typed: text.to_owned(), asked });
                }
            };
            return Ok(Amount::new(number, unit));
        }
        Err(why) => why,
    };
    if let Ok(amount) = Amount::compound(text) {
        return Ok(amount);
    }
    let split = text.find(|c: char| c.is_alphabetic() || "°%′″µΩ'\"‰".contains(c));
    match split.and_then(|at| text.split_at_checked(at)) {
        Some((number, unit)) if !number.trim().is_empty() && !matches!(why, NumberError::Exponent) => {
            let number = Decimal::parse(number).map_err(refused)?;
            Ok(Amount::new(number, known_unit(unit.trim())?))
        }
        _ => Err(refused(why)),
    }
}

fn known_unit(text: &str) -> Result<Unit, Refusal> {
    let typed = text.to_owned();
    let owned = |all: Vec<&'static str>| all.into_iter().map(str::to_owned).collect();
    match lookup(text) {
        Lookup::Unit(unit) => Ok(unit),
        Lookup::Ambiguous { why, choices } => {
            Err(Refusal::AmbiguousUnit { typed, why: why.to_owned(), choices: owned(choices) })
        }
        Lookup::Unknown { suggestions } => {
            Err(Refusal::UnknownUnit { typed, suggestions: owned(suggestions) })
        }
    }
}
