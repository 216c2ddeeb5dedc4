//! A state that only a measurement proves is taken to hold without one.

use super::{Rule, clause};
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::{Trouble, Unproved};

pub(super) const RULE: Rule = Rule {
    name: "proof-missing",
    level: Level::Error,
    waivable: true,
    page: include_str!("proof_missing.md"),
};

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::ProofMissing { place, state, how, related, witness } = trouble else { continue };
        let state = clause(state);
        let (message, help) = match how {
            Unproved::Asked => {
                (format!("nobody can tell by asking that {state}"), "add `by` and a procedure that proves it")
            }
            Unproved::Brought => (
                format!("no work brings about that {state}"),
                "do the work, then measure: `expect … proves …`",
            ),
            Unproved::Kept => (
                format!("this relies on it that {state}, and nothing has proved it"),
                "prove it before: under `needs` with `by` and a procedure that does, or by `expect … proves …`",
            ),
            Unproved::Left => (
                format!("this can end passed without a proof that {state}"),
                "measure it on every way that passes (`expect … proves …`), or take it out of `leaves`",
            ),
            Unproved::Performed => (
                format!("the procedure after `by` can end passed without a proof that {state}"),
                "let that procedure measure it on every way that passes: `expect … proves …`",
            ),
        };
        let mut finding = RULE
            .at(*place, message)
            .label("only a measurement proves it")
            .why("What is assumed to be dead, empty or cold is touched as if it were: a switch that sticks or a valve that leaks is not seen.")
            .help(help)
            .witness(witness);
        if let Some(related) = related {
            finding = finding.related(*related, "this is to prove it");
        }
        findings.push(finding);
    }
}
