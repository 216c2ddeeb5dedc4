//! A step or a limit that hides in a note or a caution.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Passage, Role, Sentence, Word, lists, typed};

pub(super) const RULE: Rule = Rule {
    name: "action-in-note",
    level: Level::Warning,
    waivable: true,
    page: include_str!("action_in_note.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose {
        let what = match passage.role {
            Role::Note => "note",
            Role::Caution => "caution",
            _ => continue,
        };
        for sentence in &passage.sentences {
            if let Some(verb) = step(passage, sentence) {
                findings.push(
                    RULE.at(passage.at(verb, verb), format!("a step hides in this {what}: “{}”", verb.text.to_lowercase()))
                        .label("nobody ticks this")
                        .why("Notes are read once and cautions are known by heart: what is to be done here is left out.")
                        .help(format!("make it a step before the {what}, with its verb or with `do \"…\"`; the {what} then only says why")),
                );
            } else if let Some(number) = limit(sentence) {
                let place = passage.at(&number.0, &number.1);
                findings.push(
                    RULE.at(place, format!("a limit hides in this {what}: {}", facts.text(place)))
                        .label("nothing is judged by it")
                        .why("No reading is compared with it, and the record does not show whether it was kept.")
                        .help("put it into a `spec`, measure, and judge: `expect … meets …`"),
                );
            }
        }
    }
}

/// The verb of a step in a sentence; in a caution not what keeps harm away.
fn step<'s, 'a>(passage: &Passage<'_>, sentence: &'s Sentence<'a>) -> Option<&'s Word<'a>> {
    let allowed = |word: &&Word<'_>| passage.role == Role::Caution && word.among(lists::KEEPS_HARM_AWAY);
    let mut verbs = sentence.orders().into_iter().filter_map(|at| sentence.words.get(at));
    let ordered = verbs.find(|word| word.among(lists::STEPS) && !allowed(word));
    let ordered = ordered.or_else(|| reminded(sentence).filter(|word| !allowed(word)));
    ordered.or_else(|| passive(sentence, passage.role))
}

/// The verb of a step that somebody is reminded of: "don't forget to refit the seal".
fn reminded<'s, 'a>(sentence: &'s Sentence<'a>) -> Option<&'s Word<'a>> {
    let mut runs = sentence.words.iter().zip(sentence.from(1)).zip(sentence.from(2));
    let found =
        runs.find(|((lead, to), verb)| lead.among(lists::TO_DO) && to.is("to") && verb.among(lists::STEPS));
    found.map(|(_, verb)| verb)
}

/// The word of a step that is told as something that happens: "the four others are taken out later", "it needs unplugging".
/// In a caution only what must be done: what is done there may be what harm comes from.
fn passive<'s, 'a>(sentence: &'s Sentence<'a>, role: Role) -> Option<&'s Word<'a>> {
    let ought =
        sentence.words.iter().any(|word| word.among(&["must", "should", "has", "have", "needs", "need"]));
    if role == Role::Caution && !ought {
        return None;
    }
    let mut pairs = sentence.words.iter().zip(sentence.from(1));
    let is = |word: &Word<'_>| word.among(&["is", "are", "be", "gets", "get"]);
    let needs = |word: &Word<'_>| word.among(&["needs", "need"]);
    let found = pairs.find(|(before, word)| {
        (is(before) && word.among(lists::DONE)) || (needs(before) && word.text.ends_with("ing"))
    });
    found.map(|(_, word)| word)
}

/// A number that something must keep to.
fn limit<'a>(sentence: &Sentence<'a>) -> Option<(Word<'a>, Word<'a>)> {
    let must = sentence.words.iter().any(|word| word.among(lists::MUST));
    let number = typed(sentence).into_iter().find(|number| number.limit && !number.time);
    number.filter(|_| must).map(|number| (number.first, number.last))
}
