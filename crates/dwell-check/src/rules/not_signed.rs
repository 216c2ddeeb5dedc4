//! Something is done that somebody must sign for, and its step is not signed so.

use super::Rule;
use crate::facts::Facts;
use crate::finding::{Finding, Level};
use crate::trouble::Trouble;

pub(super) const RULE: Rule =
    Rule { name: "not-signed", level: Level::Error, waivable: true, page: include_str!("not_signed.md") };

pub(super) fn check(facts: &Facts, findings: &mut Vec<Finding>) {
    for trouble in facts.troubles {
        let Trouble::NotSigned { place, asked, signed, step, declared, witness } = trouble else { continue };
        let must = if *asked > 1 { "signed twice" } else { "signed" };
        let part = step.as_ref().map_or("`restore`".to_owned(), |step| format!("the step `{step}`"));
        let head = step.as_ref().map_or("restore".to_owned(), |step| format!("step {step} …"));
        let (message, help) = if signed >= asked {
            (
                format!("this must be {must}, and {part} can be left before it comes to that"),
                "give it a step of its own, so that nothing leads out of that before its end".to_owned(),
            )
        } else {
            let is = if *signed == 1 { "is signed once" } else { "is not signed" };
            (format!("this must be {must}, and {part} {is}"), format!("write `{head} {must} {{`"))
        };
        findings.push(
            RULE.at(*place, message)
                .label(format!("must be {must}"))
                .related(*declared, "asked for here")
                .why("Who has done it sees what was meant; who looks at it afterwards sees what is there.")
                .help(help)
                .witness(witness),
        );
    }
}
