//! A reading is taken while what is read, or the tool that shows it, has not come to rest.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::repair;
use crate::trouble::Trouble;
use dwell_card::vehicle::Readiness;

pub(super) const RULE: Rule = Rule {
    name: "settle-missing",
    level: Level::Warning,
    waivable: true,
    page: include_str!("settle_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        match trouble {
            Trouble::ToolUnready { place, tool, what: Readiness::Settled, since, witness } => {
                let Some(tool) = facts.model.items.get(*tool) else { continue };
                let mut finding = RULE
                    .at(*place, format!("the {} may not have settled when it is read", tool.label))
                    .label("read too early")
                    .related(tool.place, "it takes time to settle, it says here");
                if let Some(since) = since {
                    finding = finding.related(*since, "this set it moving");
                }
                let (title, edits) = repair::shown(facts, *place, tool).unzip();
                findings.push(
                    finding
                        .why("A display that still moves gives as many values as people who read it.")
                        .help("read it later: `measure … after 10 s`, or `wait` before")
                        .witness(witness)
                        .mended(title.unwrap_or_default(), edits),
                );
            }
            Trouble::Unsettled { place, item, state, since, witness } => {
                let mut finding = RULE
                    .at(*place, format!("the {item} may not have settled when this is measured"))
                    .label("measured too early");
                if let Some(since) = since {
                    finding = finding.related(*since, "this unsettled it");
                }
                let edits =
                    state.as_ref().and_then(|(name, state)| repair::settled(facts, *place, name, state));
                findings.push(
                    finding
                        .why("What still moves gives a number that is another one a minute later.")
                        .help(format!("let it settle before: `settle …` for the {item}"))
                        .witness(witness)
                        .mended(format!("let the {item} settle before it is measured"), edits),
                );
            }
            _ => {}
        }
    }
}
