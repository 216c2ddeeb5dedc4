//! A state that is needed was never brought about.

use super::{Rule, clause};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "need-not-met", level: Level::Error, waivable: true, page: include_str!("need_not_met.md") };

/// Who needs it, where a procedure asks for it under `needs`.
const PROCEDURE: &str = "this procedure";

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NeedNotMet { place, needed, by, declared, proved, witness } = trouble else { continue };
        let mut finding = RULE
            .at(*place, format!("it is not certain that {}, which {}", clause(needed), who(by)))
            .label("not certain here")
            .why("A reading in another state says nothing, and a hand in another state may be hurt.")
            .witness(witness);
        finding = match (by.as_str(), declared) {
            (PROCEDURE, Some(brings)) => finding
                .related(*brings, "this is to bring it about")
                .help("let that procedure leave it so on every way on which it ends passed (`leaves`)"),
            _ if *proved => finding.help("prove it before this on every way (`expect … proves …`), or ask for it under `needs` with `by` and a procedure that proves it"),
            _ => finding.help("bring it about before this on every way, or ask for it under `needs`"),
        };
        if let (Some(declared), true) = (declared, by != PROCEDURE) {
            finding = finding.related(*declared, "that it is needed is said here");
        }
        findings.push(finding);
    }
}

/// "is needed to start the engine", "this procedure needs".
pub(super) fn who(by: &str) -> String {
    if by.starts_with("to ") { format!("is needed {by}") } else { format!("{by} needs") }
}
