//! A word such as "slightly" or "excessive" where a number or a clear yes and no belongs.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Passage, Role, lists, typed};

pub(super) const RULE: Rule =
    Rule { name: "vague-limit", level: Level::Warning, waivable: true, page: include_str!("vague_limit.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let meant = |passage: &&Passage<'_>| passage.instructs() || passage.role == Role::Question;
    for passage in facts.prose.iter().filter(meant) {
        for sentence in &passage.sentences {
            let numbers = typed(sentence);
            let rough = numbers.iter().find_map(|number| Some((number.about?, number.last)));
            let measured = !numbers.is_empty() || sentence.words.iter().any(|word| word.is("until"));
            let vague = lists::VAGUE.iter().find_map(|run| sentence.find(run)).filter(|_| !measured);
            let vague = vague.or_else(|| {
                sentence
                    .words
                    .last()
                    .filter(|word| !measured && word.among(lists::VAGUE_LAST))
                    .map(|word| (*word, *word))
            });
            let Some((first, last)) = rough.or(vague) else { continue };
            let place = passage.at(&first, &last);
            let said = facts.text(place);
            let finding = if rough.is_some() {
                RULE.at(place, format!("“{said}”: how far from it is still good?"))
                    .help("give the band: “5 ± 1 mm”; better still measure it and judge it by a spec")
            } else {
                RULE.at(place, format!("“{said}”: how much is that?"))
                    .help("give a number with its band and measure it, or say what is seen when it is enough: “until it stops”")
            };
            findings.push(
                finding
                    .label("everybody reads another number here")
                    .why("What one technician lets pass the next one condemns, and both followed the text."),
            );
        }
    }
}
