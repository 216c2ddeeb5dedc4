//! A limit in two units that are two limits.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;
use dwell_quantity::{Factor, PairSlip};

pub(super) const RULE: Rule = Rule {
    name: "pair-disagrees",
    level: Level::Error,
    waivable: true,
    page: include_str!("pair_disagrees.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::PairDisagrees { place, whole, first, second, slip, is } = trouble else { continue };
        let right = slip.and_then(|slip| repaired(slip, first, second, is));
        let (message, label, help) = match slip {
            Some(slip) => in_words(*slip, first, second, is),
            None => (
                format!("{first} is {is}, not {second}"),
                "another limit".to_owned(),
                format!("look both up in the source; if {first} is right, the second unit is `({is})`"),
            ),
        };
        let finding = RULE
            .at(*place, message)
            .label(label)
            .related(*whole, "printed in two units")
            .why("Each crew works by the unit it is used to: the one passes what the other rejects, and both are sure.")
            .help(help);
        findings.push(match right {
            Some(right) => finding.fix(*place, right),
            None => finding,
        });
    }
}

/// The second unit as it was meant, where the slip itself tells that the first is right: its number is the first one
/// converted, into another unit than the one beside it or with a zero too many or too few.
fn repaired(slip: PairSlip, first: &str, second: &str, is: &str) -> Option<String> {
    match slip {
        PairSlip::Unit(unit) => {
            let (number, typed) = second.rsplit_once(' ')?;
            // A unit that stands in it twice leaves a choice, and the unit of the first says nothing more. A single digit
            // fits too many units to tell which was meant.
            let tells = number.chars().filter(char::is_ascii_digit).count() > 1;
            (tells && !number.contains(typed) && !first.ends_with(unit.symbol()))
                .then(|| format!("{number} {unit}"))
        }
        PairSlip::PointForDifference | PairSlip::DifferenceForPoint => Some(is.to_owned()),
        _ => None,
    }
}

/// What is said of a slip that has a name: the message, a few words, and what to do.
fn in_words(slip: PairSlip, first: &str, second: &str, is: &str) -> (String, String, String) {
    let ask = format!("only the source tells which is right; if {first} is, the second unit is `({is})`");
    let plain = |label: &str| (format!("{first} is {is}, not {second}"), label.to_owned());
    match slip {
        PairSlip::Unit(unit) => {
            let number = second.rsplit_once(' ').map_or(second, |(number, _)| number);
            let (message, label) = plain(&format!("{unit}?"));
            (
                message,
                label,
                format!("the numbers are right as `{number} {unit}`: look up which unit is meant"),
            )
        }
        PairSlip::Times { by, smaller } => {
            let (words, guess) = factor(by);
            let message = if smaller {
                format!("{second} is about {words} times less than {first}")
            } else {
                format!("{second} is about {words} times {first}")
            };
            (message, guess.to_owned(), ask)
        }
        PairSlip::PointForDifference => (
            format!("{second} is no rise or tolerance: {first} is {is}"),
            "converted as a temperature".to_owned(),
            format!("a difference has no zero of its own, so no 32 is added: write `({is})`"),
        ),
        PairSlip::DifferenceForPoint => (
            format!("{first} is {is}, not {second}"),
            "the 32 is missing".to_owned(),
            format!("a temperature is converted with its zero: write `({is})`"),
        ),
        PairSlip::OtherZero => {
            let (message, label) = plain("counted from another zero");
            let help =
                "the two are one atmosphere apart: is one of them absolute, the other above the air around? ";
            (message, label, format!("{help}If {first} is meant, write `({is})`"))
        }
        PairSlip::Pull(radius) => {
            let number = second.rsplit_once(' ').map_or(second, |(number, _)| number);
            let (message, label) = plain("newtons of pull at a radius?");
            let help = format!(
                "{number} N at {radius} mm would be about {first}: if the source means a pull, write its torque, `({is})`, or make \
                 the spec one of force and say the radius"
            );
            (message, label, help)
        }
        PairSlip::Side => {
            let message = format!("{first} and {second} do not have the same limits");
            (
                message,
                "a limit more, or less".to_owned(),
                format!("write both limits in both units: `({is})`"),
            )
        }
        PairSlip::OneFigure => {
            let message = format!("{second} is one figure, and {first} has two limits");
            (message, "no limits".to_owned(), format!("write both limits in both units: `({is})`"))
        }
    }
}

/// A factor in words, and what it smells of.
fn factor(by: Factor) -> (&'static str, &'static str) {
    match by {
        Factor::Two => ("two", "crank or camshaft, one side or both?"),
        Factor::Gravity => ("9.8", "newtons or kilograms-force?"),
        Factor::Ten => ("ten", "a decimal point lost?"),
        Factor::Twelve => ("twelve", "inches or feet?"),
        Factor::Inch => ("25.4", "inches or millimetres?"),
        Factor::Hundred => ("a hundred", "a decimal point lost?"),
        Factor::Thousand => ("a thousand", "a decimal point lost?"),
    }
}
