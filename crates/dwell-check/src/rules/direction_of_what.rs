//! Left, right, clockwise: without a word on where it is seen from.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Sentence, Word, lists};

pub(super) const RULE: Rule = Rule {
    name: "direction-of-what",
    level: Level::Information,
    waivable: true,
    page: include_str!("direction_of_what.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.instructs()) {
        let told = passage
            .sentences
            .iter()
            .flat_map(|sentence| &sentence.words)
            .any(|word| word.among(lists::SEEN_FROM) && !word.among(lists::SEEN_FROM_LOOSELY));
        if told {
            continue;
        }
        for sentence in &passage.sentences {
            if sentence.words.iter().any(|word| word.among(lists::SEEN_FROM)) {
                continue;
            }
            let Some(word) = direction(sentence) else { continue };
            findings.push(
                RULE.at(passage.at(word, word), format!("“{}”: seen from where?", word.text))
                    .label("from where?")
                    .why("From the other side it is the other way round, and what should be slackened is tightened.")
                    .help("say from where: “clockwise (seen from the front)”, or name what it moves towards: “towards the engine”"),
            );
        }
    }
}

/// The first direction of a sentence: a turn, or a side after "to the" or right after the verb.
fn direction<'s, 'a>(sentence: &'s Sentence<'a>) -> Option<&'s Word<'a>> {
    sentence.words.iter().enumerate().find_map(|(place, word)| {
        let before = |back: usize| place.checked_sub(back).and_then(|at| sentence.words.get(at));
        let moved = before(1).is_some_and(|one| one.among(&["it", "them", "further", "fully"]))
            || (before(1).is_some_and(|one| one.among(&["the", "your"]))
                && before(2).is_some_and(|two| two.among(&["to", "toward", "towards"])))
            || (place > 0
                && sentence.words.first().is_some_and(|verb| verb.among(lists::MOVING))
                && !before(1).is_some_and(|one| one.among(&["is", "the", "your", "all", "at", "on"])));
        let next = sentence.words.get(place + 1);
        let last = word.paused || next.is_none_or(|next| next.among(lists::AFTER_A_SIDE));
        (word.among(lists::TURNS) || (word.among(lists::SIDES) && moved && last)).then_some(word)
    })
}
