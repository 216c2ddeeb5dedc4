//! A state that is needed held before, and was lost again.

use super::need_not_met::who;
use super::{Rule, clause};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "need-lost", level: Level::Error, waivable: true, page: include_str!("need_lost.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NeedLost { place, needed, by, declared, lost, witness } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("it is no longer certain that {}, which {}", clause(needed), who(by)))
            .label("no longer certain here")
            .related(*lost, "it is lost here")
            .why("It was so before: whoever works here believes that it still is.")
            .help("bring it about again after that, or do this before it")
            .witness(witness);
        if let Some(declared) = declared {
            finding = finding.related(*declared, "that it is needed is said here");
        }
        findings.push(finding);
    }
}
