//! A sentence that tells to do two things under one tick.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Role, lists};

pub(super) const RULE: Rule = Rule {
    name: "two-instructions",
    level: Level::Hint,
    waivable: true,
    page: include_str!("two_instructions.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.role == Role::Work) {
        for sentence in &passage.sentences {
            let orders = sentence.orders();
            let verbs: Vec<_> = orders.iter().filter_map(|at| sentence.words.get(*at)).collect();
            let [first, .., last] = verbs.as_slice() else { continue };
            let together = first.among(lists::MEANWHILE)
                || sentence.words.iter().any(|word| word.among(&["while", "meanwhile"]));
            if together {
                continue;
            }
            findings.push(
                RULE.at(passage.at(last, last), format!("one sentence tells to “{}” and to “{}”", lower(first.text), lower(last.text)))
                    .label("a second instruction")
                    .related(passage.at(first, first), "the first one")
                    .why("Both are ticked at once, so whoever is called away after the first one has ticked the second as well.")
                    .help("write two instructions, each on its own line; where there is a verb for it (`wait`, `remove`) take the verb"),
            );
        }
    }
}

fn lower(word: &str) -> String {
    word.to_lowercase()
}
