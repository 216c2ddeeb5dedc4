//! A procedure says what it leaves behind, and can pass without it.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "leaves-untrue",
    level: Level::Error,
    waivable: true,
    page: include_str!("leaves_untrue.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::LeavesUntrue { place, state, now, changed, witness } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("this can end passed although it is not certain that {state}"))
            .label(format!("may be {now}"))
            .why("Whoever performs this procedure goes on as if it were so: a reading is then worth nothing, or a hand is hurt.")
            .witness(witness)
            .help("bring it about on every way that passes, or take it out of `leaves`");
        if let Some(changed) = changed {
            finding = finding.related(*changed, format!("{now} since here"));
        }
        findings.push(finding);
    }
}
