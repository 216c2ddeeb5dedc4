//! A limit that is typed into a sentence, where no reading is judged by it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Role, typed};

pub(super) const RULE: Rule = Rule {
    name: "number-in-prose",
    level: Level::Information,
    waivable: true,
    page: include_str!("number_in_prose.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.role != Role::Caution) {
        for number in passage.sentences.iter().flat_map(typed) {
            if !(number.limit || number.about.is_some()) || number.time {
                continue;
            }
            let place = passage.at(&number.first, &number.last);
            findings.push(
                RULE.at(place, format!("the limit {} is typed into a sentence", facts.text(place)))
                    .label("nothing is judged by this number")
                    .why("When the value changes, this sentence keeps the old one, and the technician goes by what is read.")
                    .help("put it into a `spec` and judge a reading by it (`expect … meets …`, `tighten … to …`); the sentence then needs no number"),
            );
        }
    }
}
