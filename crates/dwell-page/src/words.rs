//! Names, conditions and ways on as a technician reads them.

use dwell_card::Card;
use dwell_card::graph::{Act, Condition, Outcome, Side, Test, Way};
use dwell_card::vehicle::Guard;
use dwell_card::words::{Shown, filled};
use dwell_quantity::{Lookup, Unit, lookup};
use std::collections::BTreeSet;

/// A name with blanks for its hyphens.
pub(crate) fn plain(name: &str) -> String {
    name.replace('-', " ")
}

/// The first letter large.
pub(crate) fn upper_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// A condition in words; where all of it is about one place of several, with that place: "gap misses valve clearance (in 1)".
pub(crate) fn condition(card: &Card, condition: &Condition) -> String {
    let words = without_hyphens(condition);
    let readings: BTreeSet<Option<&str>> = crate::tests_of::all(condition)
        .into_iter()
        .flat_map(crate::tests_of::readings)
        .map(|reading| card.readings.get(reading).and_then(|known| known.at.as_deref()))
        .collect();
    match readings.into_iter().collect::<Vec<_>>().as_slice() {
        [Some(place)] if !words.contains(&plain(place)) => format!("{words} ({})", plain(place)),
        _ => words,
    }
}

/// The condition with blanks for the hyphens of its names.
fn without_hyphens(condition: &Condition) -> String {
    let letters: Vec<char> = condition.says.chars().collect();
    let is_letter = |at: Option<usize>| at.and_then(|at| letters.get(at)).is_some_and(|c| c.is_alphabetic());
    let part = |(at, letter): (usize, &char)| match letter {
        '-' if is_letter(at.checked_sub(1)) && is_letter(Some(at + 1)) => ' ',
        other => *other,
    };
    letters.iter().enumerate().map(part).collect()
}

/// A text of the card; where it shows something of the job, there is a blank to write in.
pub(crate) fn text(text: &str, card: &Card) -> String {
    filled(text, &|shown| match shown {
        Shown::Reading(place) => named(card.readings.get(place).map(|known| known.words())),
        Shown::Answer(place) => named(card.questions.get(place).map(|known| plain(&known.name))),
        Shown::Variant(place) => named(card.axes.get(place).map(|known| plain(&known.name))),
    })
}

fn named(name: Option<String>) -> String {
    format!("[{}]", name.unwrap_or_else(|| "?".to_owned()))
}

/// What must be so for something to count, of what is still open: "engine family k9"; nothing where all is settled.
pub(crate) fn guards(guards: &[Guard], card: &Card, open: impl Fn(&Guard) -> bool) -> String {
    let one = |guard: &Guard| match guard {
        Guard::Variant { axis, values } => {
            let axis = card.axes.get(*axis)?;
            let values = values.iter().filter_map(|value| axis.values.get(*value));
            Some(format!(
                "{} {}",
                plain(&axis.name),
                values.map(|value| plain(value)).collect::<Vec<_>>().join(" or ")
            ))
        }
        Guard::State { slot, states } => {
            let slot = card.slots.get(*slot)?;
            let states = states.iter().filter_map(|state| slot.states.get(*state));
            Some(format!(
                "{} {}",
                slot.label,
                states.map(|state| plain(state)).collect::<Vec<_>>().join(" or ")
            ))
        }
    };
    guards.iter().filter(|guard| open(guard)).filter_map(one).collect::<Vec<_>>().join(" with ")
}

/// What a way on is called, where it leaves its node: "LOW", "after 5 times", "no".
pub(crate) fn way(card: &Card, node: usize, ways: &[Way]) -> String {
    let act = card.nodes.get(node).map(|node| &node.act);
    let word = |way: &Way| match (way, act) {
        (Way::Yes, Some(Act::Branch { condition })) => {
            side(condition).map_or("yes", |side| side_word(side)).to_owned()
        }
        (Way::No, Some(Act::Branch { condition })) if side(condition).is_some() => "otherwise".to_owned(),
        (Way::No, Some(Act::Need { .. })) => "if not".to_owned(),
        (Way::In, _) => "IN".to_owned(),
        (Way::Out, _) => "OUT".to_owned(),
        (Way::Yes, _) => "yes".to_owned(),
        (Way::No, _) => "no".to_owned(),
        (Way::Again, Some(Act::Count { .. })) => "a round is left".to_owned(),
        (Way::Spent, Some(Act::Count { .. })) => "no round is left".to_owned(),
        (Way::NoReading, Some(Act::Choose(_))) => "no size fits".to_owned(),
        (Way::NoReading, Some(Act::Work(_))) => "no band to set to".to_owned(),
        (Way::NoReading, _) => "NO READING".to_owned(),
        (Way::Passed, _) => "passed".to_owned(),
        (Way::Failed, _) => "failed".to_owned(),
        (Way::Unfinished, _) => "unfinished".to_owned(),
        (Way::Referred, _) => "referred".to_owned(),
        (Way::Lost, _) => "not held".to_owned(),
        (Way::Then | Way::Again | Way::Spent, _) => String::new(),
    };
    let without_reading = ways.iter().filter(|way| **way != Way::NoReading).collect::<Vec<_>>();
    if without_reading.len() < ways.len() && without_reading == [&Way::No] {
        return "otherwise".to_owned();
    }
    ways.iter().map(word).filter(|word| !word.is_empty()).collect::<Vec<_>>().join(" or ")
}

/// The side that a condition asks for, where it asks for nothing but how the last decision came out.
pub(crate) fn side(condition: &Condition) -> Option<Side> {
    match condition.tests.as_slice() {
        [Test::Side { side, .. }] => Some(*side),
        _ => None,
    }
}

/// Whether a node asks how the decision before it came out.
pub(crate) fn is_side(card: &Card, node: usize) -> bool {
    matches!(card.nodes.get(node).map(|node| &node.act), Some(Act::Branch { condition }) if side(condition).is_some())
}

fn side_word(side: Side) -> &'static str {
    match side {
        Side::In => "IN",
        Side::Low => "LOW",
        Side::High => "HIGH",
        Side::NoReading => "NO READING",
        Side::Other => "NO",
    }
}

/// The word for an outcome, as the record says it.
pub(crate) fn outcome(outcome: Outcome) -> &'static str {
    match outcome {
        Outcome::Passed => "passed",
        Outcome::Failed => "failed",
        Outcome::Unfinished => "unfinished",
        Outcome::Referred => "referred",
    }
}

/// A unit by its symbol.
pub(crate) fn unit_named(symbol: &str) -> Option<Unit> {
    match lookup(symbol) {
        Lookup::Unit(unit) => Some(unit),
        _ => Unit::all().find(|unit| unit.symbol() == symbol),
    }
}
