//! An adjuster with play is turned until the reading is right, and nobody says from which side to come.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level, Place};
use crate::model::Thing;
use dwell_syntax::tree::StatementKind;

pub(super) const RULE: Rule = Rule {
    name: "approach-unsaid",
    level: Level::Warning,
    waivable: true,
    page: include_str!("approach_unsaid.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for (file, procedure, whole) in facts.procedures() {
        crate::check::statements(procedure, whole, &mut |statement, _| {
            let StatementKind::Adjust { block, .. } = &statement.kind else { return };
            crate::check::statements_in(block, &mut |inner, _| {
                let StatementKind::Handle(handle) = &inner.kind else { return };
                let thing = match facts.thing(file, &handle.item.text) {
                    Some(Thing::Item(item) | Thing::Tool(item)) => facts.model.items.get(item),
                    _ => None,
                };
                let Some(thing) = thing else { return };
                let mut plays = thing.plays.iter().filter(|play| play.verb == handle.verb.text);
                let said = handle.text.as_ref().is_some_and(|text| says_a_side(&text.text));
                let Some(play) = plays.next().filter(|play| play.told.is_none() && !said) else { return };
                let place = Place { file, span: handle.verb.span.to(handle.item.span) };
                findings.push(
                    RULE.at(place, format!("the {} has play, and nothing says from which side to come", thing.label))
                        .label("up to the mark, or back to it?")
                        .related(play.place, "it has play, it says here")
                        .why("Turned back, it moves nothing at first: it reads right at the bench and is off after the first mile.")
                        .help(format!(
                            "say it once, with the thing: `{} has play \"Come to it from the loose side.\"`; it is then told wherever it is done",
                            handle.verb.text
                        )),
                );
            });
        });
    }
}

/// Words after which "from" says where somebody stands, not from which side to come.
const STANDS: [&str; 5] = ["seen", "viewed", "looked", "looking", "read"];
/// Words that say the side of the last movement without "from".
const SIDE: [&str; 8] = ["towards", "toward", "last", "finish", "finally", "back", "past", "beyond"];

/// Whether a text says from which side to come: "from the loose side", "past it and back", "the last movement tightens".
fn says_a_side(text: &str) -> bool {
    let text = text.to_lowercase();
    let words: Vec<&str> =
        text.split(|letter: char| !letter.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    words.iter().enumerate().any(|(at, word)| {
        let before = at.checked_sub(1).and_then(|before| words.get(before)).copied().unwrap_or_default();
        SIDE.contains(word) || (*word == "from" && !STANDS.contains(&before))
    })
}
