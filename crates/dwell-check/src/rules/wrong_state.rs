//! An action in a state that does not allow it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "wrong-state", level: Level::Error, waivable: true, page: include_str!("wrong_state.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::WrongState { place, verb, item, state, from, since, witness } = trouble else {
            continue;
        };
        let mut finding = RULE
            .at(*place, format!("the {item} may be {state} here; `{verb}` is for one that is {from}"))
            .label(format!("may be {state}"))
            .why(
                "The technician is asked for something that cannot be done, and has to guess what was meant.",
            )
            .help("look at the steps before: one is missing, or this one is done twice")
            .witness(witness);
        if let Some(since) = since {
            finding = finding.related(*since, format!("{state} since here"));
        }
        findings.push(finding);
    }
}
