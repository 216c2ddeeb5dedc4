//! A condition that stands behind the instruction that it belongs to.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::lists;

pub(super) const RULE: Rule = Rule {
    name: "condition-last",
    level: Level::Hint,
    waivable: true,
    page: include_str!("condition_last.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.instructs()) {
        for sentence in &passage.sentences {
            let Some(0) = sentence.orders().first().copied() else { continue };
            let asks = sentence.words.first().is_some_and(|first| first.among(ASKING));
            let late = sentence
                .words
                .iter()
                .zip(sentence.from(1))
                .find(|(before, word)| word.is("if") && !before.among(&["as", "see", "whether"]));
            let late = late.map(|(_, word)| *word);
            let late = late.or_else(|| {
                lists::CONDITIONS.iter().find_map(|run| sentence.find(run)).map(|(word, _)| word)
            });
            let (Some(word), Some(last)) = (late, sentence.words.last()) else { continue };
            if asks
                || sentence
                    .from(1)
                    .first()
                    .is_some_and(|second| second.among(&["if", "when", "once", "where"]))
            {
                continue;
            }
            findings.push(
                RULE.at(passage.at(&word, last), "the condition stands behind what it is a condition of")
                    .label("read too late")
                    .why("Instructions are followed as they are read: the nut is tight before the eye comes to “unless”.")
                    .help("put the condition first, as `if … { }` with a question or a variant where the vehicle can tell"),
            );
        }
    }
}

/// Verbs after which "if" asks something.
const ASKING: &[&str] = &["check", "see", "test", "look", "note", "observe", "record"];
