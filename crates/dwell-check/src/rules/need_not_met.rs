//! A state that is needed may not hold.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "need-not-met", level: Level::Error, waivable: true, page: include_str!("need_not_met.md") };

/// Who needs it, where a procedure asks for it under `needs`.
const PROCEDURE: &str = "this procedure";

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NeedNotMet { place, needed, by, declared, lost, witness } = trouble else { continue };
        let who = if by.starts_with("to ") { format!("is needed {by}") } else { format!("{by} needs") };
        let mut finding = RULE
            .at(*place, format!("it is not certain that {}, which {who}", clause(needed)))
            .label("not certain here")
            .why("A reading in another state says nothing, and a hand in another state may be hurt.")
            .witness(witness);
        finding = match (by.as_str(), declared) {
            (PROCEDURE, None) => {
                finding.help("only a measurement proves it: add `by` and a procedure that does")
            }
            (PROCEDURE, Some(brings)) => finding
                .related(*brings, "this is to bring it about")
                .help("let that procedure leave it so on every way on which it ends passed (`leaves`)"),
            _ => finding.help("bring it about before this on every way, or ask for it under `needs`"),
        };
        if let Some(lost) = lost {
            finding = finding.related(*lost, "it is lost here");
        }
        if let (Some(declared), true) = (declared, by != PROCEDURE) {
            finding = finding.related(*declared, "the need is declared here");
        }
        findings.push(finding);
    }
}

/// A sentence as it stands inside another one.
fn clause(sentence: &str) -> String {
    let mut letters = sentence.trim_end_matches('.').chars();
    let first: String = letters.next().into_iter().flat_map(char::to_lowercase).collect();
    format!("{first}{}", letters.as_str())
}
