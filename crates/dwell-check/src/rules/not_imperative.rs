//! An instruction in the writer's own words that does not begin with what is to be done.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Role, Sentence, Word, lists};

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

/// Whether it begins with who does the work, "next you set the dial", or says that somebody ought to, "at this point one has
/// to"; not where that belongs to a condition.
fn somebody_ought(sentence: &Sentence<'_>) -> bool {
    const CONDITION: &[&str] = &["if", "when", "while", "before", "after", "once", "where", "as", "until"];
    let Some(first) = sentence.words.first() else { return false };
    let who = |word: Option<&Word<'_>>| word.is_some_and(|word| word.among(lists::WHO) && !word.is("one"));
    let begins = first.among(&["now", "then", "first", "next", "here", "afterwards", "finally"]);
    let (before_order, pairs) =
        (sentence.orders().first() != Some(&0), sentence.words.iter().zip(sentence.from(1)));
    let mut ought = pairs.map(|(who, word)| who.among(lists::WHO) && word.among(lists::OUGHT));
    who(Some(first))
        || (begins && who(sentence.from(1).first()))
        || (before_order && !first.among(CONDITION) && ought.any(|ought| ought))
}

/// Whether a sentence says how something is instead of what to do: it begins with a word that no instruction begins with, with
/// "-ing", or says "is", "must" or "should" early and has no verb of work in front.
fn orders_nothing(sentence: &Sentence<'_>) -> bool {
    let Some(first) = sentence.words.first() else { return false };
    let orders = sentence.orders();
    // "Screw gets turned": here the first word is a thing, though there is a verb of this name.
    let told = |word: &Word<'_>| word.among(&["is", "are", "gets", "get", "has", "must", "should"]);
    if somebody_ought(sentence)
        || (!first.among(lists::LEADS_IN) && !first.paused && sentence.from(1).first().is_some_and(told))
    {
        return true;
    }
    // "It is best to lift the cover and hold it there" begins with no order, whatever comes later without a pause.
    let flows = orders.first().is_some_and(|at| !sentence.words.iter().take(*at).any(|word| word.paused));
    let told = first.among(lists::NO_ORDER) && flows;
    if (!orders.is_empty() && !told) || first.among(lists::LEADS_IN) {
        return false;
    }
    let early = |word: &str| sentence.words.iter().skip(1).take(5).any(|known| known.is(word));
    let reports =
        ["is", "are", "must", "should", "shall", "has", "have", "can", "may", "will", "be", "gets", "get"]
            .into_iter()
            .any(early);
    let verb = first.among(lists::VERBS) || first.among(lists::ALSO_NOUNS);
    let second = sentence.from(1).first();
    let named = second.is_some_and(|second| {
        second.is("of") || second.is("to") || (sentence.words.len() == 2 && second.among(lists::DONE))
    });
    first.among(lists::NO_ORDER)
        || (!verb && named)
        || (!verb && (reports || first.text.to_lowercase().ends_with("ing")))
}
