//! A torque wrench is used with an adapter, and how long one of them is is not known.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "adapter-without-length",
    level: Level::Error,
    waivable: true,
    page: include_str!("adapter_without_length.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::AdapterWithoutLength { place, adapter, wrench, missing, is_wrench, declared } = trouble
        else {
            continue;
        };
        let line = if *is_wrench {
            "the length from the square drive to the middle of the grip: `reaches 350 mm`"
        } else {
            "how far it takes the fastener from the square drive: `extends 25 mm`, `extends 0 mm` where it does not"
        };
        findings.push(
            RULE.at(*place, format!("the {adapter} changes what the {wrench} must be set to"))
                .label("changes the setting")
                .related(*declared, format!("how long the {missing} is is not said"))
                .why("An adapter makes the arm longer: with the setting of the bare wrench the bolt gets more than is meant.")
                .help(format!("add to the {missing} {line}")),
        );
    }
}
