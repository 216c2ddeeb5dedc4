//! A torque for a thread that does not say whether the thread is dry, oiled or sealed.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};

pub(super) const RULE: Rule = Rule {
    name: "thread-condition-missing",
    level: Level::Information,
    waivable: true,
    page: include_str!("thread_condition_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    let mut told = Vec::new();
    for item in &facts.model.items {
        let Some(at) = item.torque else { continue };
        let Some(spec) = facts.model.specs.get(at) else { continue };
        let root = facts.program.files.get(spec.place.file).is_some_and(|file| file.root);
        if spec.condition.is_some() || !root || told.contains(&at) {
            continue;
        }
        told.push(at);
        findings.push(
            RULE.at(spec.place, format!("`{}` does not say how the thread must be: dry, oiled, with sealant", spec.name))
                .label("dry or oiled?")
                .related(item.place, "tightened to it")
                .why("With oil on the thread the same torque pulls the bolt far tighter than dry: it stretches or strips.")
                .help("add what the source says: `condition \"Thread and head clean and dry.\"`"),
        );
    }
}
