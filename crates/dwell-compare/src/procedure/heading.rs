//! What stands over the steps: for which vehicles, by which rule it is decided, what may be left, since when it is withdrawn.

use super::formula;
use crate::Grade;
use crate::fact::Fact;
use dwell_card::Card;

/// The heading as facts. The revision is looked at apart.
pub(super) fn facts(card: &Card) -> Vec<Fact> {
    let mut facts = vec![Fact::new("title", &card.title, Grade::Quiet)];
    facts.extend(
        card.withdrawn.as_ref().map(|day| Fact::guard("withdrawn", format!("on {}: {}", day.on, day.why))),
    );
    if card.guarded {
        facts.push(Fact::guard("decision rule", "guarded, by the accuracy of the tool"));
    }
    for axis in &card.axes {
        for value in &axis.values {
            facts.push(Fact::new("vehicle covered", format!("{} {value}", axis.name), Grade::Middle));
        }
    }
    for (slot, state) in card.frames.first().into_iter().flat_map(|frame| &frame.leaves) {
        if let Some(known) = card.slots.get(*slot) {
            let state = known.states.get(*state).map_or("", String::as_str);
            facts.push(Fact::freedom("leaves", format!("{} {state}", known.label)));
        }
    }
    for (place, reading) in card.readings.iter().enumerate().filter(|(_, reading)| reading.frame == 0) {
        if let Some(value) = &reading.formula {
            let says = format!("{} = {}", formula::reading_name(card, place), formula::words(card, value));
            facts.push(Fact::new("formula", says, Grade::Loud));
        }
    }
    facts
}
