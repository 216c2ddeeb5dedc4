//! Something is opened, touched or taken off while its energy may not be gone and proved gone.

use super::need_not_met::who;
use super::{Rule, clause};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule = Rule {
    name: "stored-energy",
    level: Level::Error,
    waivable: true,
    page: include_str!("stored_energy.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::StoredEnergy { place, needed, verb, declared, lost, witness } = trouble else {
            continue;
        };
        let proof = if lost.is_some() { "no longer proved" } else { "not proved" };
        let mut finding = RULE
            .at(*place, format!("it is {proof} that {}, which {}", clause(needed), who(verb)))
            .label("may still be under pressure, voltage, heat or load")
            .why("What is stored there comes out at once, at whoever holds the tool.")
            .help(match lost {
                Some(_) => "measure it again before this: `expect … proves …`, or perform the procedure that does",
                None => "measure it before this on every way: `expect … proves …`, or ask for it under `needs` with `by` and a procedure that does",
            })
            .witness(witness);
        if let Some(lost) = lost {
            finding = finding.related(*lost, "the proof is lost here");
        }
        if let Some(declared) = declared {
            finding = finding.related(*declared, "that it is needed is said here");
        }
        findings.push(finding);
    }
}
