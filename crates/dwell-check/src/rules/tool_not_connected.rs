//! A measurement with a tool that is not connected there.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "tool-not-connected",
    level: Level::Error,
    waivable: true,
    page: include_str!("tool_not_connected.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolNotConnected { place, tool, state, witness } = trouble else { continue };
        findings.push(
            RULE.at(*place, format!("the {tool} is not connected when it is read"))
                .label(format!("may still be {state}"))
                .why("A tool that hangs on nothing shows something all the same, and it would be judged.")
                .help(format!("connect the {tool} before this, on every way that leads here"))
                .witness(witness),
        );
    }
}
