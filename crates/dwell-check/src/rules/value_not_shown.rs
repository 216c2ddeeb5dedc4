//! A text that speaks of a value taken earlier and does not show it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::lists;

pub(super) const RULE: Rule = Rule {
    name: "value-not-shown",
    level: Level::Information,
    waivable: true,
    page: include_str!("value_not_shown.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose {
        let shown = passage
            .sentences
            .iter()
            .flat_map(|sentence| &sentence.words)
            .any(|word| word.text.starts_with('{'));
        if shown {
            continue;
        }
        for sentence in &passage.sentences {
            let Some((first, last)) = lists::EARLIER.iter().find_map(|run| sentence.find(run)) else {
                continue;
            };
            let place = passage.at(&first, &last);
            findings.push(
                RULE.at(place, format!("“{}”: which one, and where is it written?", facts.text(place)))
                    .label("from memory")
                    .why("What was not written down cannot be found again, least of all after a break or by somebody else.")
                    .help("take the value first with `measure` or `read`, and show it here by its name: “Turn it in by {turns}.”"),
            );
        }
    }
}
