//! A new part that only a sentence speaks of, so that the list of new parts does not have it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Fix, Level};
use crate::model::Item;
use crate::prose::{Passage, Role, Sentence, Word};
use dwell_syntax::tree::StatementKind;

pub(super) const RULE: Rule = Rule {
    name: "part-not-listed",
    level: Level::Warning,
    waivable: true,
    page: include_str!("part_not_listed.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in
        facts.prose.iter().filter(|passage| matches!(passage.role, Role::Work | Role::Beside | Role::Note))
    {
        let renews =
            matches!(passage.statement, StatementKind::Handle(handle) if handle.verb.text == "renew");
        if renews {
            continue;
        }
        for sentence in &passage.sentences {
            let Some((first, part)) = new_part(sentence) else { continue };
            let Some(last) = part.last() else { continue };
            let words: Vec<&str> = part.iter().map(|word| word.text).collect();
            let words = words.join(" ");
            let known = listed(facts, passage.place.file, &words);
            let help = match known {
                Some(item) => format!("write `renew {}`", item.name),
                None => format!(
                    "describe the part and renew it: `item {}: single-use \"{words}\"`, then `renew {}`",
                    words.to_lowercase().replace(' ', "-"),
                    words.to_lowercase().replace(' ', "-")
                ),
            };
            let mut finding = RULE
                .at(
                    passage.at(first, last),
                    format!("a new {words} is needed, and only this sentence says so"),
                )
                .label("on no list of parts")
                .why("Nobody has fetched it when the old one is in the hand, and so the old one goes back.")
                .help(help.clone());
            if let (Some(item), true) = (known, whole(passage, first)) {
                let fix = Fix::one(passage.whole, format!("renew {}", item.name));
                finding.fix = Some(fix);
            }
            findings.push(finding);
        }
    }
}

/// The words "new seal", or "renew the seal": the first of them, and the part.
fn new_part<'s, 'a>(sentence: &'s Sentence<'a>) -> Option<(&'s Word<'a>, &'s [Word<'a>])> {
    // "Always use a new seal": the verb comes second.
    let second = sentence.words.first().is_some_and(|first| first.is("always")).then_some(1);
    let order = sentence.orders().into_iter().chain(second).find_map(|at| {
        let verb = sentence.words.get(at)?;
        let behind = sentence.from(at + 1);
        let renewed = verb.is("renew") || verb.is("replace");
        let article = behind.first().is_some_and(|word| word.among(&["the", "each", "both", "all"]));
        let fitted = verb.among(&["fit", "install", "insert", "use", "put", "attach", "mount"]);
        let new = behind.iter().position(|word| word.is("new"));
        match new {
            Some(new) if fitted || renewed => Some((verb, behind.get(new + 1..)?)),
            None if renewed && article => Some((verb, behind.get(1..)?)),
            _ => None,
        }
    })?;
    let (verb, part) = order;
    let ends = part.iter().position(|word| word.among(ENDS)).unwrap_or(part.len());
    let paused = part.iter().position(|word| word.paused).map_or(part.len(), |at| at + 1);
    let part = part.get(..ends.min(paused).min(4))?;
    (!part.is_empty()).then_some((verb, part))
}

/// Words that end the name of a part.
const ENDS: &[&str] = &[
    "of", "on", "in", "at", "to", "with", "and", "or", "if", "when", "from", "for", "by", "into", "before",
    "after",
];

/// The item that is called so and can be renewed.
fn listed<'a>(facts: &Facts<'a>, file: usize, words: &str) -> Option<&'a Item> {
    let names = &facts.model.scopes.get(file)?.names;
    let dashed = words.to_lowercase().replace(' ', "-");
    facts.model.items.iter().find(|item| {
        let called = item.label.eq_ignore_ascii_case(words) || item.name == dashed;
        let handlings = item.handlings.iter().filter_map(|at| facts.model.handlings.get(*at));
        called
            && item.at_each.is_none()
            && names.contains_key(&item.name)
            && handlings.into_iter().any(|one| one.has_verb("renew"))
    })
}

/// Whether the text is an instruction of its own that says nothing else.
fn whole(passage: &Passage<'_>, first: &Word<'_>) -> bool {
    let [sentence] = passage.sentences.as_slice() else { return false };
    let alone =
        matches!(passage.statement, StatementKind::Do { brings, zeroes: None, .. } if brings.is_empty());
    alone && sentence.words.len() <= 4 && sentence.words.first() == Some(first)
}
