//! A sentence of an instruction that is too long to be kept in mind at the vehicle.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};

pub(super) const RULE: Rule = Rule {
    name: "sentence-long",
    level: Level::Information,
    waivable: true,
    page: include_str!("sentence_long.md"),
};

/// The most words of a sentence that tells somebody what to do (ASD-STE100, rule 5.1).
const MOST_WORDS: usize = 20;

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.instructs()) {
        for sentence in &passage.sentences {
            let count = sentence.words.len();
            let (Some(first), Some(last)) = (sentence.words.first(), sentence.words.last()) else { continue };
            if count > MOST_WORDS {
                findings.push(
                    RULE.at(passage.at(first, last), format!("this sentence has {count} words; {MOST_WORDS} are enough for an instruction"))
                        .label("too long to keep in mind")
                        .why("Who reads it bent over the engine has forgotten the beginning at the end, and does half of it.")
                        .help("cut it in two, or leave out what the technician need not know; what is only of interest goes into a `note`"),
                );
            }
        }
    }
}
