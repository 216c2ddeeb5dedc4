//! A reading that nothing comes of.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "reading-unused",
    level: Level::Warning,
    waivable: true,
    page: include_str!("reading_unused.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ReadingUnused { place, name, computed } = trouble else { continue };
        let (verb, work) = if *computed {
            ("worked out", "It is worked out")
        } else {
            ("read", "Somebody takes the time to read it")
        };
        findings.push(
            RULE.at(*place, format!("`{name}` is {verb}, and nothing comes of it"))
                .label("never judged or shown")
                .why(format!(
                    "{work}, and whatever the value is, the work goes on in the same way: a bad one passes."
                ))
                .help(format!(
                    "judge it with `expect {name} …`, show it in a text as `{{{name}}}`, or leave it out"
                )),
        );
    }
}
