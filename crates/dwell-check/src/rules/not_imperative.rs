//! An instruction in the writer's own words that does not begin with what is to be done.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Role, Sentence, lists};

pub(super) const RULE: Rule = Rule {
    name: "not-imperative",
    level: Level::Hint,
    waivable: true,
    page: include_str!("not_imperative.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.role == Role::Work) {
        let Some(sentence) = passage.sentences.first() else { continue };
        let (Some(first), Some(last)) = (sentence.words.first(), sentence.words.last()) else { continue };
        if orders_nothing(sentence) {
            findings.push(
                RULE.at(passage.at(first, last), "this instruction does not begin with what is to be done")
                    .label("who does what?")
                    .why(
                        "“The bolt is tightened” may be read as a report: somebody else has done it already.",
                    )
                    .help(
                        "begin with the verb: “Tighten the bolt.”; what is so by itself goes into a `note`",
                    ),
            );
        }
    }
}

/// Whether a sentence says how something is instead of what to do: it begins with a word that no instruction begins with, with
/// "-ing", or says "is", "must" or "should" early and has no verb of work in front.
fn orders_nothing(sentence: &Sentence<'_>) -> bool {
    let Some(first) = sentence.words.first() else { return false };
    if !sentence.orders().is_empty() || first.among(lists::LEADS_IN) {
        return false;
    }
    let early = |word: &str| sentence.words.iter().skip(1).take(5).any(|known| known.is(word));
    let reports =
        ["is", "are", "must", "should", "shall", "has", "have", "can", "may", "will"].into_iter().any(early);
    let verb = first.among(lists::VERBS) || first.among(lists::ALSO_NOUNS);
    first.among(lists::NO_ORDER) || (!verb && (reports || first.text.to_lowercase().ends_with("ing")))
}
