//! Ranges, steps and accuracies as the language writes them: `20 .. 150 lb·ft`, `0.01 V`, `± 0.2 % of reading ± 2 digits`.

use crate::register::Accuracy;
use dwell_quantity::{Amount, Decimal, Exact, Kind, Lookup, Unit, lookup};

/// What is wrong and what to write, both without a final point.
pub(crate) type Wrong = (String, String);

/// `LOW .. HIGH UNIT`: the ends in the base unit of the kind, and the unit.
pub(crate) fn range(text: &str, kind: Kind) -> Result<((Exact, Exact), Unit), Wrong> {
    let form = || {
        let unit = kind.usual_unit();
        (format!("`{text}` is no range"), format!("write its two ends and the unit: `0 .. 100 {unit}`"))
    };
    let (low, rest) = text.split_once("..").ok_or_else(form)?;
    let (high, unit) = number_and_rest(rest).ok_or_else(form)?;
    let low = Decimal::parse(low.trim()).map_err(|_| form())?;
    let unit = unit_of(unit, kind)?;
    let ends = (in_base(low, unit, kind)?, in_base(high, unit, kind)?);
    // A scale that runs the other way (degrees after top dead centre) has its low end above.
    let (low, high) = if unit.descending() { (ends.1, ends.0) } else { ends };
    if low >= high {
        let help = "write the lower end first".to_owned();
        return Err((format!("the range `{text}` ends where it begins, or before"), help));
    }
    Ok(((low, high), unit))
}

/// A step: `0.01 V`, in the base unit.
pub(crate) fn step(text: &str, kind: Kind) -> Result<Exact, Wrong> {
    let wrong =
        || (format!("`{text}` is no step"), format!("write it with its unit: `1 {}`", kind.usual_unit()));
    let (number, unit) = number_and_rest(text).ok_or_else(wrong)?;
    let step = difference(number, unit_of(unit, kind)?, kind)?;
    if step.is_zero() || step.is_negative() { Err(wrong()) } else { Ok(step) }
}

/// `± 4 % of reading`, `± 2 digits`, `± 0.02 V`, or several behind each other; a digit is the step that can be read.
pub(crate) fn accuracy(text: &str, kind: Kind, digit: Option<&Exact>) -> Result<Accuracy, Wrong> {
    let wrong = || {
        let usual = kind.usual_unit();
        let help =
            format!("write `± 1 {usual}`, `± 0.2 % of reading`, `± 2 digits`, or several behind each other");
        (format!("`{text}` is no accuracy"), help)
    };
    let mut accuracy = Accuracy { fixed: Exact::zero(), of_reading: Exact::zero() };
    let mut parts = text.trim().split('±');
    if parts.next().is_none_or(|before| !before.trim().is_empty()) {
        return Err(wrong());
    }
    let mut some = false;
    for part in parts {
        let (number, unit) = number_and_rest(part).ok_or_else(wrong)?;
        if number.value.is_negative() {
            return Err(wrong());
        }
        some = true;
        match (unit, digit) {
            // A part of a temperature is another one in °F.
            ("% of reading", _) if kind.point() => {
                let help = format!("write it as `± 1 {}`", kind.usual_unit());
                return Err((format!("a part of a reading means nothing for {}", kind.name()), help));
            }
            ("% of reading", _) => {
                let part = number.value.checked_div(&Exact::whole(100)).unwrap_or_default();
                accuracy.of_reading = accuracy.of_reading + part;
            }
            ("digit" | "digits", Some(digit)) => accuracy.fixed = accuracy.fixed + &number.value * digit,
            ("digit" | "digits", None) => {
                let help = "write its `resolution` as well: a digit is the step that can be read".to_owned();
                return Err((format!("`{text}` counts digits, and nothing says how large one is"), help));
            }
            _ => accuracy.fixed = accuracy.fixed + difference(number, unit_of(unit, kind)?, kind)?,
        }
    }
    if some { Ok(accuracy) } else { Err(wrong()) }
}

/// The number that a text begins with, and what stands behind it.
fn number_and_rest(text: &str) -> Option<(Decimal, &str)> {
    let text = text.trim();
    let end = text.find(|letter: char| !(letter.is_ascii_digit() || matches!(letter, '.' | '-' | '+')));
    let (number, rest) = text.split_at_checked(end.unwrap_or(text.len()))?;
    Some((Decimal::parse(number).ok()?, rest.trim()))
}

fn unit_of(text: &str, kind: Kind) -> Result<Unit, Wrong> {
    let usual = kind.usual_unit();
    match lookup(text) {
        Lookup::Unit(unit) if unit.measures(kind) || unit.measures(kind.difference()) => Ok(unit),
        Lookup::Unit(unit) => Err((
            format!("`{unit}` does not measure {}", kind.name().replace('-', " ")),
            format!("write a unit of {}, such as {usual}", kind.name().replace('-', " ")),
        )),
        Lookup::Ambiguous { why, choices } => Err((
            format!("`{text}` could be two units: {why}"),
            format!("write one of {}", choices.join(", ")),
        )),
        Lookup::Unknown { suggestions } if suggestions.is_empty() => Err((
            format!("`{text}` is not a unit that is known here"),
            format!("write a unit such as {usual}"),
        )),
        Lookup::Unknown { suggestions } => Err((
            format!("`{text}` is not a unit that is known here"),
            format!("did you mean {}?", suggestions.join(" or ")),
        )),
    }
}

fn in_base(number: Decimal, unit: Unit, kind: Kind) -> Result<Exact, Wrong> {
    let amount = Amount::new(number, unit);
    amount.in_base(kind).map_err(|_| {
        let name = kind.name().replace('-', " ");
        (
            format!("`{unit}` does not measure {name}"),
            format!("write a unit of {name}, such as {}", kind.usual_unit()),
        )
    })
}

fn difference(number: Decimal, unit: Unit, kind: Kind) -> Result<Exact, Wrong> {
    let amount = Amount::new(number, unit);
    amount.in_base_difference(kind).map(|value| value.abs()).map_err(|_| {
        let name = kind.name().replace('-', " ");
        (
            format!("`{unit}` does not measure {name}"),
            format!("write a unit of {name}, such as {}", kind.usual_unit()),
        )
    })
}
