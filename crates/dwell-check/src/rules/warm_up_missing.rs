//! A tool is read that may not have warmed up.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::repair;
use crate::trouble::Trouble;
use dwell_card::vehicle::Readiness;

pub(super) const RULE: Rule = Rule {
    name: "warm-up-missing",
    level: Level::Warning,
    waivable: true,
    page: include_str!("warm_up_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ToolUnready { place, tool, what: Readiness::Warm, witness, .. } = trouble else {
            continue;
        };
        let Some(tool) = facts.model.items.get(*tool) else { continue };
        let (title, edits) = repair::warmed(facts, *place, tool).unzip();
        findings.push(
            RULE.at(*place, format!("the {} may still be cold when it is read", tool.label))
                .label("no time to warm up before this")
                .related(tool.place, "it must warm up, it says here")
                .why("A tool that is cold drifts: it shows a number all the same, and it is judged.")
                .help(format!(
                    "wait as long as it takes: `wait … since connect {0}`, or ask for it: `needs {{ {0} is warm }}`",
                    tool.name
                ))
                .witness(witness)
                .mended(title.unwrap_or_default(), edits),
        );
    }
}
