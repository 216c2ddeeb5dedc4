//! Steps that the text leaves to the technician's memory: "in reverse order", "likewise on the other side".

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::prose::{Role, lists};

pub(super) const RULE: Rule = Rule {
    name: "steps-left-out",
    level: Level::Information,
    waivable: true,
    page: include_str!("steps_left_out.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for passage in facts.prose.iter().filter(|passage| passage.role != Role::End) {
        for sentence in &passage.sentences {
            let Some((first, last)) = lists::LEFT_OUT.iter().find_map(|run| sentence.find(run)) else {
                continue;
            };
            let place = passage.at(&first, &last);
            findings.push(
                RULE.at(place, format!("“{}” leaves steps out", facts.text(place)))
                    .label("which steps?")
                    .why("Of five hoses and two plugs that come off, one stays off, and no line of the record shows it.")
                    .help("write the steps one by one; what goes on every way belongs into `restore`, the same at several places into `for each`"),
            );
        }
    }
}
