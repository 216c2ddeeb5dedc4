//! Formulas and readings by their names, so that two cards can be compared whose lists are in another order.

use dwell_card::Card;
use dwell_card::limit::Formula;

/// `tension`, `gap at left`.
pub(super) fn reading_name(card: &Card, reading: usize) -> String {
    match card.readings.get(reading) {
        Some(known) => match &known.at {
            Some(at) => format!("{} at {at}", known.name),
            None => known.name.clone(),
        },
        None => String::new(),
    }
}

/// A value by the name of its first reading.
pub(super) fn value_name(card: &Card, value: &Formula) -> String {
    first_reading(value).map(|reading| reading_name(card, reading)).unwrap_or_default()
}

/// The first reading that a value comes from.
pub(super) fn first_reading(value: &Formula) -> Option<usize> {
    match value {
        Formula::Value(_) => None,
        Formula::Latest(reading) | Formula::First(reading) | Formula::Samples(_, reading) => Some(*reading),
        Formula::Fold(_, readings) => readings.first().copied(),
        Formula::Sine(inner) | Formula::Root(inner) => first_reading(inner),
        Formula::Plus(one, other)
        | Formula::Minus(one, other)
        | Formula::Times(one, other)
        | Formula::Over(one, other)
        | Formula::Smaller(one, other)
        | Formula::Larger(one, other) => first_reading(one).or_else(|| first_reading(other)),
    }
}

/// A formula in words, numbers in base units.
pub(super) fn words(card: &Card, value: &Formula) -> String {
    let pair = |one: &Formula, sign: &str, other: &Formula| {
        format!("({} {sign} {})", words(card, one), words(card, other))
    };
    match value {
        Formula::Value(number) => number.0.to_string(),
        Formula::Latest(reading) => reading_name(card, *reading),
        Formula::First(reading) => format!("{} as found", reading_name(card, *reading)),
        Formula::Samples(fold, reading) => {
            format!("{fold:?} of {}", reading_name(card, *reading)).to_lowercase()
        }
        Formula::Fold(fold, readings) => {
            let names: Vec<String> = readings.iter().map(|reading| reading_name(card, *reading)).collect();
            format!("{fold:?} of ({})", names.join(", ")).to_lowercase()
        }
        Formula::Sine(inner) => format!("the sine of {}", words(card, inner)),
        Formula::Root(inner) => format!("the root of {}", words(card, inner)),
        Formula::Plus(one, other) => pair(one, "+", other),
        Formula::Minus(one, other) => pair(one, "-", other),
        Formula::Times(one, other) => pair(one, "*", other),
        Formula::Over(one, other) => pair(one, "/", other),
        Formula::Smaller(one, other) => {
            format!("the smaller of {} and {}", words(card, one), words(card, other))
        }
        Formula::Larger(one, other) => {
            format!("the larger of {} and {}", words(card, one), words(card, other))
        }
    }
}
